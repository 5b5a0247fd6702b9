"""The table that is trued: what its owner knows of it, as far as corrections need it."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

Axis: TypeAlias = Literal["X", "Y"]


@dataclass(frozen=True, slots=True)
class Table:
    """A table's name and travels in mm; what it is set to now, None where that isn't known.

    `gantry` is the axis that the gantry lies along, "" where that isn't said. `rail_spacing` is how far apart the two
    sides of the gantry run; steps are per mm; `kerf` is the width that the machine was set to allow for when the piece
    was cut.
    """

    name: str = ""
    travel_x: float | None = None
    travel_y: float | None = None
    rail_spacing: float | None = None
    steps_per_mm_x: float | None = None
    steps_per_mm_y: float | None = None
    kerf: float | None = None
    gantry: Axis | Literal[""] = ""

    @property
    def across(self) -> Axis:
        """The axis that the gantry lies along; unless said the shorter one, as is common practice, or X."""
        if self.gantry:
            return self.gantry
        longer_x = self.travel_x is not None and self.travel_y is not None and self.travel_x > self.travel_y
        return "Y" if longer_x else "X"
