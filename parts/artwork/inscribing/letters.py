"""Letters inscribed: set at the largest free place of a figure, as large as asked for or as look well there, and held.

free     what of the figure is so far from its edges, its holes and its marks as a bridge is wide
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeAlias

import shapely

from parts.artwork.glyphs import Layout, Text, laid_out, lettered
from parts.artwork.inscribing.room import largest_place
from parts.artwork.metal import Metal, metal_from, metal_of
from parts.artwork.pipeline import Made, Steps, made
from parts.errors import GeometryError
from parts.geometry import Loop, Point, Segment
from parts.profile import Drill, Mark, Profile, Scribe

TieOf: TypeAlias = Callable[[float], float]
"""The width of a bridge in mm, of letters of a cap height."""
StepsOf: TypeAlias = Callable[[float], Steps]
LEAST_CAP = 8.0
"""The least cap height that is tried, mm: smaller letters are none that a torch cuts."""
SHARE, TIGHT = 0.82, 0.98
"""How large letters are that may be as large as they like, of what there is room for (by eye), and at most."""
_ROUNDS, _TRIES, _FIRST = 2, 12, 0.2
# How often a cap height is found anew, and tried smaller; the first one, of the shorter side.
_COARSE_MM, _COARSE = 0.05, 1e-3
# How far an edge is simplified for the search of a place, in mm and of the longer side; what is found there is tried
# on the edge as it is.
_PLATE = 3.0
# How far the plate that letters are cut from reaches beyond them, in cap heights: further than any bridge.


class NoRoom(Exception):
    """Letters have no room; `most` is the cap height that has, mm, 0 where none has."""

    def __init__(self, most: float) -> None:
        super().__init__("Letters of this height have no room.")
        self.most = most


@dataclass(frozen=True)
class Words:
    """What is set: the text, whatever its `apart`; a cap height in mm or 0; how far from its own place it is moved.

    A cap height of 0 is as looks well in the room there is, but at most `most`; smaller than `least` only where there
    is no more room. Of places with as much room it has that nearest to `near`, or to the middle where that is None.
    """

    text: Text
    cap: float
    moved: Point
    most: float = math.inf
    least: float = 0.0
    near: Point | None = None


@dataclass(frozen=True)
class Inscription:
    """Letters in their place: their loops and bridges, their cap height, and where the first base line begins."""

    loops: tuple[Loop, ...]
    made: Made
    cap: float
    base: Point


def free_of(profile: Profile, keep: float) -> Metal:
    """Return what of a profile is `keep` mm from its edges and its marks, the edges as chords."""
    metal = metal_of([*profile.outside, *(opening.loop for opening in profile.inside)])
    marks = shapely.union_all([shapely.buffer(_area(mark), keep) for mark in profile.marks])
    return metal_from(shapely.difference(shapely.buffer(metal, -keep, quad_segs=16), marks))


def _area(mark: Mark) -> shapely.Geometry:
    if isinstance(mark, Drill):
        return shapely.buffer(shapely.Point(mark.at), mark.diameter / 2)
    path: tuple[Segment, ...] = mark.path if isinstance(mark, Scribe) else (mark.line,)
    return shapely.MultiLineString([[segment.start, segment.end] for segment in path])


def inscribed(profile: Profile, words: Words, tie_of: TieOf, steps_of: StepsOf) -> Inscription:
    """Return letters cut through a profile: `tie_of` has the width of bridges at a cap height, `steps_of` all steps.

    Raises:
        NoRoom: they don't fit.
        GeometryError: nothing is left to cut of them, or of one.
    """
    cap, lines, at = _placed(profile, words, tie_of)
    area = lettered(lines, cap, at).area
    plate = shapely.box(*shapely.bounds(shapely.buffer(area, _PLATE * cap)))
    work = made(metal_from(shapely.difference(plate, area)), steps_of(cap))
    cut = metal_of(work.inside)
    if not all(shapely.intersects(body, cut) for body in shapely.get_parts(area)):
        raise GeometryError("leaves letters that close up in this plate, too small to be cut: make capitals higher.")
    x0, y0, x1, y1 = lines.box
    left = 0.0 if lines.radius else lines.lines[0].box[0]
    base = at[0] + cap * (left - (x0 + x1) / 2), at[1] + cap * (lines.lines[0].base - (y0 + y1) / 2)
    return Inscription(work.inside, work, cap, base)


def _placed(profile: Profile, words: Words, tie_of: TieOf) -> tuple[float, Layout, Point]:
    """The cap height, the text as set, and the middle of its box."""
    if words.cap:
        cap, lines, free, at = words.cap, *_place(profile, words, words.cap, tie_of)
        if at and _fits(_roomy(free), lines, cap, at):
            return cap, lines, at
        raise NoRoom(_most(profile, words, tie_of, words.cap))
    low, _, high, _ = profile.box
    cap = _FIRST * min(high - low, profile.box[3] - profile.box[1])
    for _ in range(_ROUNDS):  # bridges, and so the room, hang on the cap height
        lines, free, at = _place(profile, words, cap, tie_of)
        cap = _looks_well(_largest(free, lines, at), words) if at else cap / 3
        if cap < LEAST_CAP / 2:  # off the figure, where it was moved to
            raise NoRoom(0.0)
    most = _most(profile, words, tie_of, cap)
    if not most:
        raise NoRoom(0.0)
    lines, _, at = _place(profile, words, most, tie_of)
    return most, lines, at or (0.0, 0.0)


def _looks_well(largest: float, words: Words) -> float:
    """How high capitals are of letters as large as they like, where so high ones at most have room."""
    return min(max(SHARE * largest, min(words.least, TIGHT * largest)), words.most)


def _place(profile: Profile, words: Words, cap: float, tie_of: TieOf) -> tuple[Layout, Metal, Point | None]:
    """The text as set with capitals of a height, where it may stand, and the middle of its box there."""
    lines, free = _set(words, cap, tie_of), free_of(profile, tie_of(cap))
    coarse = max(_COARSE_MM, _COARSE * max(profile.box[2] - profile.box[0], profile.box[3] - profile.box[1]))
    place = largest_place(shapely.simplify(free, coarse), lines.width, lines.height, words.near)
    return lines, free, place and (place.at[0] + words.moved[0], place.at[1] + words.moved[1])


def _most(profile: Profile, words: Words, tie_of: TieOf, cap: float) -> float:
    """The largest cap height up to one that has room, to a tenth of a millimetre that can be said; 0 for none."""
    for _ in range(_TRIES):
        cap = math.floor(10 * cap + 1e-6) / 10
        if cap < LEAST_CAP:
            return 0.0
        lines, free, at = _place(profile, words, cap, tie_of)
        if at and _fits(_roomy(free), lines, cap, at):
            return round(cap, 1)
        cap = min(0.97 * cap, _largest(free, lines, at)) if at else cap / 2
    return 0.0


def _set(words: Words, cap: float, tie_of: TieOf) -> Layout:
    """The text as set with capitals of a height."""
    apart = (tie_of(cap) + 0.1) / cap
    lines = laid_out(replace(words.text, apart=apart))
    if lines is None:
        raise GeometryError("There is nothing to be seen of this text.")
    return lines


def _roomy(free: Metal) -> shapely.Geometry:
    """What is free and a hair more, made ready to be asked often."""
    roomy = shapely.buffer(free, 1e-6)
    shapely.prepare(roomy)
    return roomy


def _fits(roomy: shapely.Geometry, lines: Layout, cap: float, at: Point) -> bool:
    return bool(shapely.covers(roomy, lettered(lines, cap, at).area))


def _largest(free: Metal, lines: Layout, at: Point) -> float:
    """The largest cap height at which letters of a layout fit about a point."""
    width, height = free.bounds[2] - free.bounds[0], free.bounds[3] - free.bounds[1]
    low, high = 0.0, min(width / lines.width, height / lines.height)
    roomy = _roomy(free)
    for _ in range(12):
        cap = (low + high) / 2
        low, high = (cap, high) if _fits(roomy, lines, max(cap, 1e-3), at) else (low, cap)
    return low
