"""Stock: the size of a sheet or the outline of an off-cut, and how many there are."""

import math
from dataclasses import dataclass

from shapely import Polygon


@dataclass(frozen=True, slots=True)
class Stock:
    """A sheet, mm; `count` is how many there are, None where there are enough.

    An off-cut has an `outline`, its box's lower left at the origin, of which `width` and `height` are the size, and
    the number that it is kept by: `off_cut`, 0 of a sheet.
    """

    width: float
    height: float
    count: int | None = None
    outline: Polygon | None = None
    off_cut: int = 0

    @property
    def area(self) -> float:
        """Area in mm²."""
        return self.width * self.height if self.outline is None else float(self.outline.area)

    @property
    def limit(self) -> float:
        """How many there are."""
        return math.inf if self.count is None else self.count

    @property
    def is_new(self) -> bool:
        """Whether it is a whole sheet, and no off-cut that is there anyway."""
        return not self.off_cut
