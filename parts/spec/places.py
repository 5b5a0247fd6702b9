"""A measuring place: two points of a part between which a reading is taken, once it is cut.

A test piece says where it is measured; what the readings tell of the table is the work of `truing`.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from parts.geometry import Point, distance
from parts.profile import Dimension, DimensionStyle
from parts.tolerance import SAME_POINT_MM

MeasuringKind: TypeAlias = Literal["centres", "outside", "inside", "hole", "reversal"]
"""As of a reading: between centres, over outside or inside faces, across a hole, flipped on a straightedge."""


@dataclass(frozen=True, slots=True)
class MeasuringPlace:
    """Where to measure, as drawn, mm; `letter` names the place on the measuring sheet.

    Of a hole, the points lie on its edge, opposite each other; of a reversal, where the two lines meet and where the
    gap is read. `cross` is whether its ends are scribed crosses, not holes.
    `far` is whether a level or upright length is shown on the far side of the drawing, above or to the right.
    `again` is the letter of the place that this one is a second reading of, "" for a place of its own.
    """

    kind: MeasuringKind
    start: Point
    end: Point
    letter: str = ""
    far: bool = False
    cross: bool = False
    again: str = ""

    @property
    def nominal(self) -> float:
        """The length it should have, mm."""
        return distance(self.start, self.end)

    @property
    def direction(self) -> float:
        """Its direction from X toward Y, radians, 0 or more and less than a half turn."""
        (x0, y0), (x1, y1) = self.start, self.end
        return math.atan2(y1 - y0, x1 - x0) % math.pi

    @property
    def dimension(self) -> Dimension:
        """The place as the drawing shows it, by its letter."""
        if self.kind == "hole":
            middle = (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2
            return Dimension(self.letter, middle, self.end, "diameter")
        return Dimension(self.letter, self.start, self.end, self._style)

    @property
    def _style(self) -> DimensionStyle:
        (x0, y0), (x1, y1) = self.start, self.end
        if abs(y1 - y0) <= SAME_POINT_MM:
            return "above" if self.far else "below"
        if abs(x1 - x0) <= SAME_POINT_MM:
            return "right" if self.far else "left"
        return "along"


def lettered(places: Iterable[MeasuringPlace]) -> Iterator[MeasuringPlace]:
    """Yield the places with the letters A to Z, then AA, AB; one that comes again knows the letter it had first."""
    first: dict[tuple[str, Point, Point], str] = {}
    for i, place in enumerate(places):
        own, key = letter(i), (place.kind, place.start, place.end)
        yield replace(place, letter=own, again=first.get(key, ""))
        first.setdefault(key, own)


def letter(index: int) -> str:
    """Return the letter of the dimension or place of this index: A to Z, then AA, AB."""
    return (letter(index // 26 - 1) if index >= 26 else "") + chr(ord("A") + index % 26)
