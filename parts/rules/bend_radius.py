"""Bend radius: bent sharper than the metal stands, the outside of a bend cracks.

The least radius is that of the usual metal of its group, bent square across the rolling; along the rolling, or of
another temper, it may be half as much again and more.

Rule    inside radius >= least radius of the metal at this thickness
Number  `least_radius` in `parts/data/air_bending.toml`, each with its source: S235 and aluminium from published tables,
        stainless steel common practice; copper and brass have none
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.finding import Finding
from parts.forming import ALLOWANCE_NUMBERS, bend_lines, folded, name
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, TIDY_DECIMALS

RULE = "bend-radius"
NUMBERS = ALLOWANCE_NUMBERS


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield one finding for all bends that are too sharp, at the sharpest; one at the limit passes."""
    bends, thickness = bend_lines(profile), job.cut.thickness_mm
    if not bends:
        return
    limit = job.brake.least_radius(thickness)
    radii = {i: folded(bend, thickness, job.brake).radius for i, bend in enumerate(bends)}
    sharp = [i for i, radius in radii.items() if radius < limit - LIMIT_SLACK_MM]
    if not sharp:
        return
    worst = min(sharp, key=lambda i: round(radii[i], TIDY_DECIMALS))
    which = "every bend" if len(sharp) == len(bends) > 1 else name(bends, worst)
    more = f", and {len(sharp) - 1} more" if len(sharp) > 1 and len(sharp) < len(bends) else ""
    yield Finding(
        RULE, "warn", bends[worst].line.at(0.5), radii[worst], limit,
        f"{which[0].upper()}{which[1:]}{more} is bent to {job.say(radii[worst])} inside; "
        f"{job.brake.metal} of {job.say(thickness)} wants {job.say(limit)}, or it may crack on the outside.",
        f"Bend it to {job.say(limit)} or more; where it has to be sharper, go by the mill's own figure, bend across "
        "the rolling and try a strip first.",
        also=tuple(bends[i].line.at(0.5) for i in sharp if i != worst),
    )  # fmt: skip
