"""Holes too small to cut: which of them leave the cut and become centres to drill.

drill-bolt-holes   those for bolts; a slot or a square for one is scribed, and marked where it is drilled
cut                none: as drawn
drill              every round one
"""

from collections.abc import Iterator
from dataclasses import replace

from parts.cutting.process import Cut
from parts.data import threshold
from parts.fasteners import bolt_of_mm, slot_track
from parts.geometry import Point
from parts.profile import Drill, HoleWork, Mark, Opening, Profile, Scribe
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM, TIDY_DECIMALS

SMALL_HOLES = ("drill-bolt-holes", "cut", "drill")

_SLOT_LENGTHS = threshold("hole-to-thickness", "slot_lengths")
_METAL = threshold("drilled-room", "metal_share")


def with_small_holes(profile: Profile, choice: str, cut: Cut) -> Profile:
    """Return the profile with the holes that a cut has no room for exchanged as one of `SMALL_HOLES` says."""
    if choice == "drill":
        return profile.drilled_below(cut.smallest_hole_mm)
    return _bolt_holes_drilled(profile, cut) if choice == SMALL_HOLES[0] else profile


def _bolt_holes_drilled(profile: Profile, cut: Cut) -> Profile:
    kept: list[Opening] = []
    marks: list[Mark] = []
    for opening in profile.inside:
        made = tuple(_marks_of(opening, cut)) if opening.bolt else ()
        marks += made
        if not made:
            kept.append(opening)
    return replace(profile, inside=tuple(kept), marks=(*profile.marks, *marks)) if marks else profile


def _marks_of(opening: Opening, cut: Cut) -> Iterator[Mark]:
    """Yield what is marked of a bolt's hole or slot in place of cutting it; nothing of one that can be cut."""
    of, hole = opening, opening.loop.circle
    if hole:
        if hole.diameter < cut.smallest_hole_mm - LIMIT_SLACK_MM:
            work = of.work or _marked(of, "through", hole.diameter)
            yield Drill(hole.centre, hole.diameter, of.name, of.parameter, of.bolt, work)
        return
    width, ends = _places(of)
    if not ends or width >= _least_width(of, width, cut) - LIMIT_SLACK_MM:
        return
    work = _marked(of, "slot", width)
    thing, where, place = of.name.partition(" in ")
    name = of.name if len(ends) == 1 else f"{thing} end{where}{place}"
    for at in ends:
        yield Drill(at, width, name, of.parameter, 0.0, work)
    yield Scribe(of.loop.segments)


def _marked(opening: Opening, kind: str, width: float) -> HoleWork:
    size = bolt_of_mm(opening.bolt)
    return HoleWork(kind, size.size if size else "", round(width, TIDY_DECIMALS), is_marked=True)


def _places(opening: Opening) -> tuple[float, tuple[Point, ...]]:
    """How wide a slot or a square is, and where it is drilled to be sawn or filed out; nowhere, what is neither."""
    if slot := slot_track(opening.loop.running(counter_clockwise=False)):
        width, ends, line = slot
        is_long = line.length >= (1 + _METAL) * width  # else the second drill runs off into the first hole
        return width, ends if is_long else (line.at(0.5),)
    x0, y0, x1, y1 = opening.loop.box
    is_square = abs((x1 - x0) - (y1 - y0)) <= SAME_POINT_MM
    return x1 - x0, (((x0 + x1) / 2, (y0 + y1) / 2),) if is_square else ()


def _least_width(slot: Opening, width: float, cut: Cut) -> float:
    """The least width that a cut makes of a slot this wide, mm: of one hardly longer than wide that of a hole."""
    if slot.loop.area < _SLOT_LENGTHS * width**2:
        return cut.smallest_hole_mm
    least = max(cut.narrowest_slot_mm, cut.kerf_mm, cut.pierce_diameter_mm)
    return min(least, cut.smallest_hole_mm)
