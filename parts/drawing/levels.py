"""Levels: the dimensions that a person lays a part out by, apart from all the others.

Told by where a dimension lies, not by which template it is of. In this order, as many as there is room for:

1. the size over all, and the diameter of a part that is round
2. sizes of holes and openings, and circles that holes lie on
3. where holes and openings are: straight dimensions that end at a centre
4. every straight dimension of the outline of a part that is bent
5. of any other, those that are long for the part, and great radii

What is left is of the second level: small corners, clips, marks, and what was told at another place already. Where
all of them are few, there is one level.
"""

import math
from collections.abc import Sequence

from parts.drawing.told import Told
from parts.geometry import Box, Point, distance
from parts.profile import Bend, Dimension, Drill
from parts.record import Record
from parts.tolerance import SAME_POINT_MM

FEW = 0.6
"""Share of as many as there is room for, up to which all are of the first level."""
LONG = 0.2
"""Share of the part's size along it from which a straight dimension counts as long; the part's outline hangs on it."""
GREAT = 0.25
"""Share of the part's shorter side from which a radius does."""

_LEVEL, _UPRIGHT = ("below", "above"), ("left", "right")


def first(record: Record, told: Sequence[Told], most: int) -> frozenset[int]:
    """Return which of a part's dimensions are of the first level, as their indices: `most` of them at most."""
    if len(told) <= FEW * most:
        return frozenset(range(len(told)))
    part = _Part(record)
    ranked: list[tuple[int, float, int]] = []
    seen: set[tuple[str, str, float]] = set()
    for index, each in enumerate(told):
        shown, rank = each.shown, part.rank(each)
        said = shown.parameter, each.text, round(shown.measured, 1) if record.is_sketch else 0.0  # not told there
        if rank is None or said in seen:
            continue
        seen.add(said)
        ranked.append((rank, 0.0 if rank == 2 else -shown.measured, index))
    return frozenset(index for _, _, index in sorted(ranked)[:most])


class _Part:
    """What of a part the ranks of its dimensions hang on."""

    def __init__(self, record: Record) -> None:
        profile = record.profile
        self._box = record.part_box
        self._openings = [opening.loop.box for opening in profile.inside]
        marked = [mark.at for mark in profile.marks if isinstance(mark, Drill)]
        self._centres = {_place(at) for at in (*map(_middle, self._openings), *marked)}
        self._bent = any(isinstance(mark, Bend) for mark in profile.marks)
        self._discs = [c for loop in profile.outside if (c := loop.circle)]

    def rank(self, told: Told) -> int | None:
        """Return the rank of a dimension, None for one of the second level."""
        shown = told.shown
        if self._is_over_all(shown):
            return 1
        if told.alike or (shown.style == "diameter" and self._is_of_holes(shown)) or self._is_of_opening(shown):
            return 2
        if shown.style in ("radius", "diameter"):
            return 5 if shown.measured >= GREAT * min(self._extents) else None
        if _place(shown.start) in self._centres or _place(shown.end) in self._centres:
            return 3
        if self._bent:
            return 4
        return 5 if shown.measured >= LONG * self._extent(shown) else None

    @property
    def _extents(self) -> tuple[float, float]:
        x0, y0, x1, y1 = self._box
        return x1 - x0, y1 - y0

    def _extent(self, shown: Dimension) -> float:
        """The part's size along a straight dimension."""
        wide, high = self._extents
        return wide if shown.style in _LEVEL else high if shown.style in _UPRIGHT else math.hypot(wide, high)

    def _is_over_all(self, shown: Dimension) -> bool:
        if shown.style in (*_LEVEL, *_UPRIGHT):
            return abs(shown.measured - self._extent(shown)) <= SAME_POINT_MM
        discs = (d for d in self._discs if distance(d.centre, shown.start) <= SAME_POINT_MM)
        return shown.style == "diameter" and any(abs(d.diameter - shown.measured) <= SAME_POINT_MM for d in discs)

    def _is_of_holes(self, shown: Dimension) -> bool:
        """Whether a diameter is that of an opening that isn't one circle, or of a circle that holes lie on."""
        r = shown.measured / 2
        return any(
            abs(distance(_middle(box), shown.start) - r) <= SAME_POINT_MM
            or (_holds(box, shown.start) and box[2] - box[0] >= 2 * r - SAME_POINT_MM)
            for box in self._openings
        )

    def _is_of_opening(self, shown: Dimension) -> bool:
        """Whether a level or upright dimension is the width or the height of an opening, and stands at it."""
        axis = 0 if shown.style in _LEVEL else 1 if shown.style in _UPRIGHT else None
        if axis is None:
            return False
        low, high = sorted((shown.start[axis], shown.end[axis]))
        return any(
            abs(box[axis] - low) <= SAME_POINT_MM and abs(box[axis + 2] - high) <= SAME_POINT_MM
            for box in self._openings
        )


def _middle(box: Box) -> Point:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def _holds(box: Box, p: Point) -> bool:
    return box[0] <= p[0] <= box[2] and box[1] <= p[1] <= box[3]


def _place(p: Point) -> tuple[int, int]:
    """A key that points of one place share, whatever the rounding of their coordinates."""
    return round(p[0] * 1e4), round(p[1] * 1e4)
