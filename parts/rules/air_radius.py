"""Air radius: a bend drawn sharper than its die leaves comes out rounder, and the legs beside it long.

In air bending the inside radius follows from the V opening, not from the punch. A radius wider than that of the usual V
is made over a wider one; for a sharper one there is none unless the shop has it. A bend that turns through more than
150 degrees is formed round a bar, and one that a test bend of the shop suits leaves what was measured.

Rule    inside radius >= 0.85 x what air bending leaves over the V for the thickness
Number  `v_openings` and `radius_per_v` in `parts/data/air_bending.toml`, or the shop's own; `scatter_share` in
        `parts/data/rules.toml` (common practice)
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding
from parts.forming import ALLOWANCE_NUMBERS, bend_lines, folded, sharpest
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, TIDY_DECIMALS

RULE = "air-radius"
NUMBERS = (*ALLOWANCE_NUMBERS, "rules.air-radius", "rules.short-flange")


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a note for each radius that the V doesn't leave, at the first bend of it; one at the limit passes."""
    thickness, brake, say = job.cut.thickness_mm, job.brake, job.say
    bends = [(bend, folded(bend, thickness, brake)) for bend in bend_lines(profile)]
    over_v = [(bend, fold) for bend, fold in bends if fold.angle <= sharpest() + PARALLEL_RAD]
    for radius in dict.fromkeys(round(fold.radius, TIDY_DECIMALS) for _, fold in over_v):
        v = brake.v_opening(thickness, radius)
        left = brake.radius_per_v * v
        is_sharper = radius < threshold("air-radius", "scatter_share") * left - LIMIT_SLACK_MM
        if not is_sharper or brake.tested(thickness, radius):
            continue
        at, *also = (bend.line.at(0.5) for bend, fold in over_v if round(fold.radius, TIDY_DECIMALS) == radius)
        yield Finding(
            RULE, "note", at, radius, left,
            f"A V of {say(v)} leaves about {say(round(left, 2))} inside, not {say(round(radius, 3))}: bent over it, "
            "the legs come out long.",
            "Bend it over a narrower die, or set the radius to what your brake leaves.",
            also=tuple(also),
        )  # fmt: skip
