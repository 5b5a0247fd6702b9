"""Outside tip: no sharp point of the material that burns away.

A *point* is a corner of the material, or a tip cut off blunt by less than half a kerf or rounded to less than half a
kerf. What is narrower than the kerf there gets no cold metal behind it and melts back. A point of 30 degrees is
narrower than the kerf over 1.87 kerfs of its length (kerf / 2 tan 15°); under 30 degrees several kerfs are lost.
The length is taken on the true outline, so a point that curves open soon is judged as blunt as it is, and a thorn
with hollow sides as sharp.

Rule    length of the point that is narrower than the kerf <= that of a point of 30 degrees, cut off as much
Number  `kerf` in `parts/data/processes.toml`, each with its source; 30 degrees is common practice
"""

import math
from collections.abc import Iterator

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding
from parts.geometry import distance
from parts.geometry.narrow import Tip, depths, tips
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, TIDY_DECIMALS

RULE = "outside-tip"
NUMBERS = ("kerf", "narrowest_bridge", "rules.outside-tip", "rules.tip")
SHARPEST_RAD = math.radians(threshold("outside-tip", "sharpest_deg"))
_FOLLOWED_KERFS = threshold(
    "outside-tip", "followed_kerfs"
)  # a point thinner than the kerf for longer is a sliver, and told as this long


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each loop with points too sharp; one of exactly 30 degrees passes."""
    kerf = job.cut.kerf_mm
    points = [
        (loop, [tip for tip in tips(loop, kerf) if tip.cut_off < kerf / 2 - LIMIT_SLACK_MM])
        for loop in profile.boundary
    ]
    lengths = depths(points, kerf, _FOLLOWED_KERFS * kerf)
    for index, ((_, of_loop), long) in enumerate(zip(points, lengths, strict=True)):
        found = [
            (length, limit, tip)
            for tip, length in zip(of_loop, long, strict=True)
            if length > (limit := _most(tip, kerf)) + LIMIT_SLACK_MM
        ]
        if found:
            found.sort(key=lambda entry: (entry[1] - entry[0], entry[2].middle))
            yield _finding(profile.name(index), found, job)


def _most(tip: Tip, kerf: float) -> float:
    """The length of a point of 30 degrees, as blunt as this, from its end to where it is a kerf wide."""
    return (kerf - distance(tip.start, tip.end)) / (2 * math.tan(SHARPEST_RAD / 2))


def _finding(name: str, found: list[tuple[float, float, Tip]], job: Job) -> Finding:
    (length, limit, worst), *others = found
    kerf = job.say(job.cut.kerf_mm)
    burns = f"narrower than the {kerf} kerf over"
    message = (
        f"{len(found)} points of {name} are {burns} up to {job.say(length)} of their length; that much burns away."
        if others
        else f"A point of {name} is {burns} {job.say(length)} of its length; that much burns away."
    )
    return Finding(
        RULE, "warn", worst.middle, length, round(limit, TIDY_DECIMALS), message,
        f"Cut it off where it is {job.say(job.cut.narrowest_bridge_mm)} wide, or make it blunter than 30 degrees.",
        also=tuple(tip.middle for _, _, tip in others),
    )  # fmt: skip
