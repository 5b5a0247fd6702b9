"""What was read of a test bend: strips of one sheet, each measured flat and bent, over one V opening.

legs      from the mould point, where the outside faces would meet, to each end
over      read over the other leg: one jaw flat on its outside face, the other on the end
mould     read from the mould point itself, marked with two straightedges
angle     what the sheet is turned through; *between* the legs, inside, is half a turn less that
"""

import math
from dataclasses import dataclass, field
from functools import cache
from typing import Literal, TypeAlias, get_args

from parts.data import Number, Sourced, Table, load

LegsRead: TypeAlias = Literal["over", "mould"]
LEGS: tuple[LegsRead, ...] = get_args(LegsRead)


class AngleReading(Sourced):
    """How well an angle is known, degrees."""

    u_deg: Number
    zero_deg: Number


class RadiusReading(Sourced):
    """How well an inside radius is known: mm, and a share of it."""

    u_mm: Number
    share: Number

    def u(self, radius: float) -> float:
        """Return the standard uncertainty of a radius, mm."""
        return math.hypot(self.u_mm, self.share * radius)


class Scatter(Sourced):
    """What the strips' stated scatter counts for."""

    freedom: Number


class MillRow(Table):
    """How far a sheet called up to so thick may be off it, mm."""

    to_mm: Number
    off_mm: Number


class Mill(Sourced):
    """The tolerances of sheet and plate as rolled."""

    rows: tuple[MillRow, ...]

    def off(self, stock: float) -> float:
        """Return how far a sheet called so may be off it, mm."""
        return next((row.off_mm for row in self.rows if stock <= row.to_mm), self.rows[-1].off_mm)


class Fit(Sourced):
    """How badly strips may fit each other."""

    normal_95: Number


class Asked(Sourced):
    """Limits beyond which a slip is more likely than such a bend."""

    k_low: Number
    k_high: Number
    v_low: Number
    v_high: Number
    radius_low: Number
    radius_high: Number
    angle_deg: Number
    cut_mm: Number


class BendTestNumbers(Table):
    """The data file."""

    protractor: AngleReading
    unmeasured: AngleReading
    radius_gauge: RadiusReading
    by_v: RadiusReading
    scatter: Scatter
    asked: Asked
    mill: Mill
    fit: Fit


@cache
def numbers() -> BendTestNumbers:
    """Return the built-in numbers."""
    return load("bend_test.toml", BendTestNumbers)


@dataclass(frozen=True, slots=True)
class StripReading:
    """One strip: its flat, both legs, mm, the angle it is turned through, radians; None where that wasn't measured.

    `u` is the standard uncertainty of each length, mm, `note` what is scribed on the strip.
    """

    flat: float
    leg_a: float
    leg_b: float
    angle: float | None
    u: float
    note: str = ""
    number: int = field(default=0, compare=False)

    @property
    def name(self) -> str:
        """What the strip is called."""
        return f"strip {self.note or self.number}"


@dataclass(frozen=True, slots=True)
class BendTest:
    """The strips, and what they have in common; lengths in mm, angles in radians.

    `thickness` is as measured, `stock` as the sheet is called. `radius` is the inside radius, `radius_measured`
    whether it was measured or is the rule's for the V opening. `tool` is what lengths were read with, "" for one
    without errors of its own, and `thickness_tool` the same for the thickness. `bend_line` is how far end A is from the
    line on the flat, `cut` the flat as it was drawn; None where that isn't known. `metal` is the group of the material.
    """

    material: str
    metal: str
    stock: float
    thickness: float
    thickness_u: float
    v_opening: float
    angle: float
    radius: float
    radius_u: float
    radius_measured: bool
    strips: tuple[StripReading, ...]
    legs: LegsRead = "over"
    tool: str = "caliper"
    thickness_tool: str = "caliper"
    bend_line: float | None = None
    cut: float | None = None
    date: str = ""
    brake: str = ""
    drawing: str = ""
    confirmed: bool = False
    assumed: tuple[str, ...] = ()
