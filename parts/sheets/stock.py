"""Stock: the size of a sheet, and how many there are."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stock:
    """A rectangular sheet, mm; `count` is how many there are, None where there are enough."""

    width: float
    height: float
    count: int | None = None

    @property
    def area(self) -> float:
        """Area in mm²."""
        return self.width * self.height

    @property
    def limit(self) -> float:
        """How many there are."""
        return math.inf if self.count is None else self.count
