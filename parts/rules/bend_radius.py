"""Bend radius: bent sharper than the metal stands, the outside of a bend cracks.

The least radius is that of the usual grade of its metal, bent square across the rolling; along the rolling it may be
half as much again. Where none is known of the very material, a note says so. A radius that is enough for the usual
grade but not for a harder one is told with what that wants: as a note where both go by one name, as aluminium does, and
among what is routine where they don't.

Rule    inside radius >= least radius of the metal at this thickness
Number  the shop's own `ratio` under `[least_bend_radius.MATERIAL]`, or `least_radius` in `parts/data/air_bending.toml`,
        each with its source: S235, S355 and aluminium from published tables, stainless steel common practice; copper
        and brass have none
"""

from collections.abc import Iterator, Mapping, Sequence

from parts.cutting import Job
from parts.finding import Finding
from parts.forming import ALLOWANCE_NUMBERS, Harder, bend_lines, folded, name
from parts.profile import Bend, Profile
from parts.spec import say_least
from parts.tolerance import LIMIT_SLACK_MM, TIDY_DECIMALS

RULE = "bend-radius"
NUMBERS = ALLOWANCE_NUMBERS


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield one finding for all bends too sharp, at the sharpest; one at the limit passes, noted if it isn't known.

    Else one for all that a harder grade wouldn't stand.
    """
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
    elif harder := job.brake.harder:
        sharp = [i for i, radius in radii.items() if radius < harder.at(thickness) - LIMIT_SLACK_MM]
        if sharp:
            yield _of_harder(bends, radii, sharp, harder, job)


def _too_sharp(bends: Sequence[Bend], radii: Mapping[int, float], sharp: Sequence[int], job: Job) -> Finding:
    worst = _sharpest(radii, sharp)
    thickness, harder = job.cut.thickness_mm, job.brake.harder
    limit, metal = job.brake.least_radius(thickness), job.brake.metal
    least = say_least(limit, job.units)
    least_of_harder = say_least(harder.at(thickness), job.units) if harder else ""
    also = f", {harder.metal} {least_of_harder}" if harder and harder.has_same_name else ""
    of_harder = f", {harder.metal} to {least_of_harder}" if also and harder else ""
    stands_in = "" if job.brake.knows_metal else f", in place of {job.brake.title} of which none is known,"
    return Finding(
        RULE, "warn", bends[worst].line.at(0.5), radii[worst], limit,
        f"{_bent(bends, radii, sharp, limit, job)}; "
        f"{metal} of {job.say(thickness)}{stands_in} wants {least}{also}, or it may crack on the outside.",
        f"Bend it to {least} or more{of_harder}; where it has to be sharper, go by the mill's own figure, bend across "
        "the rolling and try a strip first.",
        also=tuple(bends[i].line.at(0.5) for i in sharp if i != worst),
    )  # fmt: skip


def _of_harder(
    bends: Sequence[Bend], radii: Mapping[int, float], sharp: Sequence[int], harder: Harder, job: Job
) -> Finding:
    worst, thickness = _sharpest(radii, sharp), job.cut.thickness_mm
    limit = harder.at(thickness)
    least, material = say_least(limit, job.units), job.brake.material
    return Finding(
        RULE, "note", bends[worst].line.at(0.5), radii[worst], limit,
        f"{_bent(bends, radii, sharp, limit, job)}: enough for {job.brake.metal} of {job.say(thickness)}, but "
        f"{harder.metal} wants {least}, or it may crack on the outside.",
        f"Ask which grade and temper your sheet is. Bend {harder.metal} to {least} or more, or take the softer grade; "
        "bend across the rolling and try a strip first. Where you know what your own sheet stands, give it as `ratio` "
        f"under [least_bend_radius.{material}] of your machine's numbers.",
        also=tuple(bends[i].line.at(0.5) for i in sharp if i != worst), is_routine=not harder.has_same_name,
    )  # fmt: skip


def _bent(bends: Sequence[Bend], radii: Mapping[int, float], sharp: Sequence[int], limit: float, job: Job) -> str:
    """Which bends it is of, and to what the sharpest is bent: `Bend lines 1 and 3 are bent to 3 mm inside`."""
    radius, alike = job.say(radii[_sharpest(radii, sharp)], limit), len({job.say(radii[i]) for i in sharp}) == 1
    every = len(sharp) == len(bends) > 1
    which = "every bend is" if every else f"{name(bends, sharp[0])} is" if len(sharp) == 1 else f"{_names(sharp)} are"
    return f"{which[0].upper()}{which[1:]} bent to {radius} inside{'' if alike else ' at the sharpest'}"


def _names(sharp: Sequence[int]) -> str:
    *others, last = (str(i + 1) for i in sharp)
    return f"bend lines {', '.join(others)} and {last}"


def _not_known(bends: Sequence[Bend], radii: Mapping[int, float], job: Job) -> Finding:
    worst = _sharpest(radii, list(radii))
    limit, brake = job.brake.least_radius(job.cut.thickness_mm), job.brake
    least = say_least(limit, job.units)
    of = f"{brake.title}: by {brake.metal}, {least}, it is enough, but" if brake.metal else f"{brake.title}:"
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
