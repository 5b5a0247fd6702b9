"""Loops: every loop simple, none touching or crossing another or drawn twice, openings inside the part and apart.

That each loop is closed needs no rule: a `Loop` can't be made from an open chain. A piece that lies in an
opening of another is sound as loops go, and `loose-piece`'s to judge.

Rule    no two segments meet except neighbours at their common end; each opening lies directly inside an
        outside loop, each outside loop directly inside an opening or in none at all
Number  none; segments closer than SAME_POINT_MM meet, and loops that lie on each other for less than TOUCH_MM
        only touch
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.finding import Finding
from parts.profile import Profile
from parts.spec import loop_faults

RULE = "loops"
NUMBERS = ()


def check(profile: Profile, _: Job) -> Iterator[Finding]:
    """Yield a finding for each place where loops meet, cross, or lie in one another wrongly."""
    for fault in loop_faults(profile):
        yield Finding(
            RULE, "stop", fault.at, None, None, f"{fault.message[0].upper()}{fault.message[1:]}", fault.remedy,
        )  # fmt: skip
