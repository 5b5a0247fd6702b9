"""The table that is trued: what its owner knows of it, as far as corrections need it."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

Axis: TypeAlias = Literal["X", "Y"]
DriveKind: TypeAlias = Literal["steps_per_mm", "steps_per_inch", "gear_ratio", "screw_lead"]
DRIVES: tuple[DriveKind, ...] = ("steps_per_mm", "steps_per_inch", "gear_ratio", "screw_lead")


@dataclass(frozen=True, slots=True)
class Drive:
    """What an axis is set to: steps per mm or inch, motor turns to one of screw or pinion, or mm to one of these."""

    kind: DriveKind
    value: float

    def mended(self, scale: float) -> float:
        """Return the setting that takes a scale out: where lengths come out long, fewer steps, or a greater lead."""
        return self.value * (1 + scale) if self.kind == "screw_lead" else self.value / (1 + scale)


@dataclass(frozen=True, slots=True)
class Table:
    """A table's name and travels in mm; what it is set to now, None where that isn't known.

    `gantry` is the axis that the gantry lies along, "" where that isn't said. `rail_spacing` is how far apart the two
    sides of the gantry run; steps are per mm; `kerf` is the width that the machine was set to allow for when the piece
    was cut. `drive_x` and `drive_y` are what an axis is set to where that isn't steps per mm.
    """

    name: str = ""
    travel_x: float | None = None
    travel_y: float | None = None
    rail_spacing: float | None = None
    steps_per_mm_x: float | None = None
    steps_per_mm_y: float | None = None
    kerf: float | None = None
    gantry: Axis | Literal[""] = ""
    drive_x: Drive | None = None
    drive_y: Drive | None = None
    confirmed: Literal["", "yes"] = ""

    def drive(self, axis: str) -> Drive | None:
        """Return what an axis, x or y, is set to."""
        steps, other = (self.steps_per_mm_x, self.drive_x) if axis == "x" else (self.steps_per_mm_y, self.drive_y)
        return other if steps is None else Drive("steps_per_mm", steps)

    @property
    def across(self) -> Axis:
        """The axis that the gantry lies along; unless said the shorter one, as is common practice, or X."""
        if self.gantry:
            return self.gantry
        longer_x = self.travel_x is not None and self.travel_y is not None and self.travel_x > self.travel_y
        return "Y" if longer_x else "X"
