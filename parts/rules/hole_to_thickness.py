"""Hole to thickness: a jet can't follow a hole that is small for the plate it is in.

The width of a round hole is its diameter, of any other opening the largest circle in it: across flats of a
hexagon, the side of a square, the width of a slot. A *slot* is an opening half as long again as wide or more, its
length being its area over its width: along its flanks the jet runs straight, and what a shop cuts a slot for (a tab,
a bolt to adjust by) is often no wider than the plate is thick. So a slot is held to the narrowest slot, anything
shorter to the smallest hole.

Rule    width >= smallest hole of the process at this thickness; of a slot, >= the narrowest slot
Number  `smallest_hole` and `narrowest_slot` in `parts/data/processes.toml`, each with its source; half as long again
        from memory, in `rules.toml`
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from parts.cutting import Cut, Job
from parts.data import threshold
from parts.finding import Finding
from parts.geometry import Loop, Point, lacks_room, room_in
from parts.geometry.narrow import islands
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM

RULE = "hole-to-thickness"
NUMBERS = ("smallest_hole", "narrowest_slot", "kerf", "rules.hole-to-thickness")
SLOT_LENGTHS = threshold("hole-to-thickness", "slot_lengths")
"""Widths that an opening is long, from which on it is a slot."""


class Small(NamedTuple):
    """An opening too small for the cut: the middle of the largest circle in it, its width, and what it should be."""

    at: Point
    width: float
    limit: float


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each opening too small for the cut; one at the limit passes."""
    within = islands(profile.boundary)
    for index in range(len(profile.outside), len(profile.boundary)):
        small = too_small(profile.boundary, index, within.get(index, ()), job.cut)
        if small:
            yield _finding(profile, job, index, small)


def too_small(boundary: Sequence[Loop], index: int, within: Sequence[int], cut: Cut) -> Small | None:
    """Return how an opening is too small for a cut, None where it isn't; `within` are the pieces that lie in it."""
    opening = boundary[index]
    pieces = [boundary[i] for i in within]
    hole = opening.circle
    if hole and not pieces:
        at, width, limit = hole.centre, hole.diameter, cut.smallest_hole_mm
    else:
        area = opening.area - math.fsum(piece.area for piece in pieces)
        slot = min(max(cut.narrowest_slot_mm, cut.kerf_mm), cut.smallest_hole_mm)
        enough = slot if _is_surely_slot(opening, area) else cut.smallest_hole_mm
        room = room_in(opening, pieces, enough / 2)
        at, width = (room.centre, 2 * room.radius) if room else (opening.segments[0].start, math.inf)
        limit = slot if _is_slot(area, width) else cut.smallest_hole_mm
    return Small(at, width, limit) if width < limit - LIMIT_SLACK_MM else None


def _is_surely_slot(opening: Loop, area: float) -> bool:
    """Whether no circle in it is so wide as to make it none: asked before how wide it is, which costs more."""
    x0, y0, x1, y1 = opening.box
    return _is_slot(area, min(x1 - x0, y1 - y0)) or lacks_room(opening, math.sqrt(area / SLOT_LENGTHS) / 2)


def _is_slot(area: float, width: float) -> bool:
    return area >= SLOT_LENGTHS * width**2 * (1 - LIMIT_SLACK_MM)


def _finding(profile: Profile, job: Job, index: int, small: Small) -> Finding:
    name, cut = profile.name(index), job.cut
    width, wanted = job.say_apart(small.width, small.limit)
    hole = profile.boundary[index].circle
    if hole and hole.diameter <= small.width:
        wide, remedy = "", f"Drill it instead, or make it {wanted} or more."
    else:
        wide = " wide"
        shut = small.width < cut.kerf_mm - LIMIT_SLACK_MM
        remedy = f"Make it {wanted} wide or more{', or scribe it as a line' if shut else ''}."
    return Finding(
        RULE, "stop", small.at, small.width, small.limit,
        f"{name[0].upper()}{name[1:]} is {width}{wide} in {job.say(cut.thickness_mm)} plate; "
        f"{cut.title.lower()} wants {wanted}.",
        remedy, () if wide else (("small_holes", "drill"),),
    )  # fmt: skip
