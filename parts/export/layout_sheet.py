"""A laid-out sheet as its files show it: the parts in the order in which they are cut, each with its number."""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.geometry import Point
from parts.profile import Profile
from parts.shop import Side
from parts.units import Units


@dataclass(frozen=True, slots=True)
class LaidPart:
    """One part on a sheet: its number there, what it is called, its row, its profile where it lies, mm.

    `at` is a point within it for its number, with `room` mm around it that are metal.
    """

    number: int
    name: str
    row: int
    profile: Profile
    at: Point
    room: float
    is_pinned: bool = False


@dataclass(frozen=True, slots=True)
class LayoutSheet:
    """One sheet: lower left at the origin; `parts` in cutting order, `said` what it is, a line each."""

    number: int
    of: int
    width: float
    height: float
    said: tuple[str, ...]
    parts: tuple[LaidPart, ...]
    square_side: Side
    units: Units
    paper: str
    drill_circles: bool = True
    outline: tuple[tuple[Point, ...], ...] = ()
    """Of an off-cut: its outer ring first, then its openings; of a whole sheet nothing."""

    @property
    def edge(self) -> tuple[tuple[Point, ...], ...]:
        """The rings of the sheet's own edge."""
        width, height = self.width, self.height
        return self.outline or (((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)),)


CUT_ORDER = (
    "Cut in this order: the parts by their numbers, small ones in the openings of large ones first; of each its marks, "
    "then its openings, then its edge."
)


def label_lines(sheet: LayoutSheet, part: LaidPart) -> Iterator[str]:
    """Yield what a label on a part says: which it is, of which row, where it lay, and of what it is."""
    yield f"{part.number}  {part.name}"
    yield f"row {part.row} \u00b7 sheet {sheet.number} of {sheet.of}"
    yield sheet.said[0]
