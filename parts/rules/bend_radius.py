"""Bend radius: bent sharper than the metal stands, the outside of a bend cracks.

The least radius is that of the usual metal of its group, bent square across the rolling; along the rolling, or of
another temper, it may be half as much again and more. Where none is known of the very material, a note says so.

Rule    inside radius >= least radius of the metal at this thickness
Number  the shop's own `ratio` under `[least_bend_radius.MATERIAL]`, or `least_radius` in `parts/data/air_bending.toml`,
        each with its source: S235 and aluminium from published tables, stainless steel common practice; copper and
        brass have none
"""

from collections.abc import Iterator, Mapping, Sequence

from parts.cutting import Job
from parts.finding import Finding
from parts.forming import ALLOWANCE_NUMBERS, bend_lines, folded, name
from parts.profile import Bend, Profile
from parts.tolerance import LIMIT_SLACK_MM, TIDY_DECIMALS

RULE = "bend-radius"
NUMBERS = ALLOWANCE_NUMBERS


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield one finding for all bends too sharp, at the sharpest; one at the limit passes, noted if it isn't known."""
    bends, thickness = bend_lines(profile), job.cut.thickness_mm
    if not bends:
        return
    limit = job.brake.least_radius(thickness)
    radii = {i: folded(bend, thickness, job.brake).radius for i, bend in enumerate(bends)}
    sharp = [i for i, radius in radii.items() if radius < limit - LIMIT_SLACK_MM]
    if sharp:
        yield _too_sharp(bends, radii, sharp, job)
    elif not job.brake.knows_metal:
        yield _not_known(bends, radii, job)


def _too_sharp(bends: Sequence[Bend], radii: Mapping[int, float], sharp: Sequence[int], job: Job) -> Finding:
    worst = _sharpest(radii, sharp)
    thickness = job.cut.thickness_mm
    limit, metal = job.brake.least_radius(thickness), job.brake.metal
    which = "every bend" if len(sharp) == len(bends) > 1 else name(bends, worst)
    more = f", and {len(sharp) - 1} more" if len(sharp) > 1 and len(sharp) < len(bends) else ""
    stands_in = "" if job.brake.knows_metal else f", in place of {job.brake.title} of which none is known,"
    return Finding(
        RULE, "warn", bends[worst].line.at(0.5), radii[worst], limit,
        f"{which[0].upper()}{which[1:]}{more} is bent to {job.say(radii[worst])} inside; "
        f"{metal} of {job.say(thickness)}{stands_in} wants {job.say(limit)}, or it may crack on the outside.",
        f"Bend it to {job.say(limit)} or more; where it has to be sharper, go by the mill's own figure, bend across "
        "the rolling and try a strip first.",
        also=tuple(bends[i].line.at(0.5) for i in sharp if i != worst),
    )  # fmt: skip


def _not_known(bends: Sequence[Bend], radii: Mapping[int, float], job: Job) -> Finding:
    worst = _sharpest(radii, list(radii))
    limit, brake = job.brake.least_radius(job.cut.thickness_mm), job.brake
    of = f"{brake.title}: by {brake.metal}, {job.say(limit)}, it is enough, but" if brake.metal else f"{brake.title}:"
    return Finding(
        RULE, "note", bends[worst].line.at(0.5), radii[worst], limit if brake.metal else None,
        f"No least bend radius is known here for {of} whether {job.say(radii[worst])} inside cracks on the outside "
        "wasn't checked.",
        "Ask your supplier, bend across the rolling and try a strip first; or give your own, as `ratio` under "
        f"[least_bend_radius.{brake.material}] of your machine's numbers.",
        also=tuple(bends[i].line.at(0.5) for i in radii if i != worst),
    )  # fmt: skip


def _sharpest(radii: Mapping[int, float], among: Sequence[int]) -> int:
    return min(among, key=lambda i: round(radii[i], TIDY_DECIMALS))
