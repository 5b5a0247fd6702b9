"""One leg of a flat L bracket: its rows of holes or slots, and where they are measured."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.geometry import Motion, mirror
from parts.geometry.figure import Window, level_slot
from parts.profile import Dimension, DimensionStyle, Opening, openings


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg as seen along it: its outer edge on the x axis, the heel at the origin, its end at `length`."""

    letter: str
    length: float
    width: float
    holes: int
    hole: float
    bolt: float
    by_diameter: bool
    first: float
    pitch: float
    rows: int
    gauge: float
    back_mark: float
    slot: float

    @property
    def over_all(self) -> float:
        """Length of one opening along the leg: of the slot, or the hole's diameter."""
        return self.slot or self.hole

    @property
    def lines(self) -> tuple[float, ...]:
        """Distance of each row from the outer edge."""
        nearest = self.back_mark or (self.width - self.gauge * (self.rows - 1)) / 2
        return tuple(nearest + i * self.gauge for i in range(self.rows))

    @property
    def windows(self) -> tuple[Window, ...]:
        """Holes or slots, from the end toward the heel, row by row."""
        along = [self.length - self.first - i * self.pitch for i in range(self.holes)]
        return tuple(level_slot((x, y), self.slot, self.hole) for y in self.lines for x in along)

    @property
    def motion(self) -> Motion:
        """What takes the leg to its place in the bracket: leg B is leg A mirrored in the diagonal."""
        return Motion() if self.letter == "a" else mirror((0, 0), math.pi / 4)

    def name(self, what: str) -> str:
        """Return the leg's parameter for `what`."""
        return f"{what}_{self.letter}"

    @property
    def said(self) -> str:
        """What the leg is called."""
        return f"leg {self.letter.upper()}"


def openings_of(leg: Leg) -> tuple[Opening, ...]:
    """Return the holes or slots of a leg in their places in the bracket."""
    what = "slot" if leg.slot else "hole"
    loops = (leg.motion.loop(window.loop) for window in leg.windows)
    return openings(loops, f"{what} in {leg.said}", leg.name("holes"), leg.bolt)


def _along(leg: Leg) -> Iterator[Dimension]:
    """Yield the dimensions of a leg as seen along it."""
    end = leg.length
    yield Dimension(leg.name("leg"), (0, 0), (end, 0), "below")
    yield Dimension(leg.name("width"), (end, 0), (end, leg.width), "right")
    if not leg.holes:
        return
    (x, y), r = leg.windows[0].centre, leg.hole / 2
    yield Dimension(leg.name("first"), (x, y), (end, y), "below")
    if leg.holes > 1:
        yield Dimension(leg.name("pitch"), (x - leg.pitch, y), (x, y), "below")
    if leg.rows > 1:
        yield Dimension(leg.name("gauge"), (x, y), (x, y + leg.gauge), "right")
    if leg.back_mark:
        yield Dimension(leg.name("back_mark"), (x, 0), (x, y), "right")
    if leg.slot:
        yield Dimension(leg.name("slot"), (x - leg.slot / 2, y), (x + leg.slot / 2, y), "below")
        yield Dimension(leg.name("hole" if leg.by_diameter else "bolt"), (x, y - r), (x, y + r), "right")
    elif leg.by_diameter:
        yield Dimension(leg.name("hole"), (x, y), (x + r, y), "diameter")


_ACROSS: dict[DimensionStyle, DimensionStyle] = {"below": "left", "right": "above"}


def dimensions_of(leg: Leg) -> Iterator[Dimension]:
    """Yield the dimensions of a leg in its place in the bracket."""
    for d in _along(leg):
        style = d.style if leg.letter == "a" else _ACROSS.get(d.style, d.style)
        yield Dimension(d.parameter, leg.motion.point(d.start), leg.motion.point(d.end), style)
