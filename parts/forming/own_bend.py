"""A bend that the shop tested: what its brake leaves in one material and thickness over one V opening.

The test tells the bend deduction best, and so that is what is kept: parts of this thickness come out with it, whatever
inside radius within the test's own doubt they are drawn with. K follows from it,

    K = (2 tan(A / 2) (R + T) - A R - deduction) / (A T)

and so do the deductions of other angles B, with t = tan(B / 2) - (B / A) tan(A / 2):

    deduction at B = (B / A) deduction + 2 t (R + T)

It holds for the sheet it was tested on, by its name or as measured, and not for others: between two tested
thicknesses no straight line is drawn, since a brake changes its die there. Lengths are mm, angles radians.
"""

import math
from dataclasses import dataclass

from parts.shop import BendTestRow

SAME_THICKNESS = 0.025
"""A sheet within this share of the tested one is the same: 16 gauge and 1.5 mm, 11 gauge and 3 mm. Common practice."""
NORMAL_95 = 1.96
"""Standard uncertainties in the 95 % interval of what isn't told by the scatter of a few strips."""


@dataclass(frozen=True, slots=True)
class OwnBend:
    """A row of the shop's test bends, with what follows from it."""

    row: BendTestRow

    @property
    def name(self) -> str:
        """What its numbers are called wherever they are used."""
        return f"your test bend of {self.row.date}"

    @property
    def key(self) -> tuple[float, float]:
        """What no two of a material have alike: thickness by name, and V opening."""
        return self.row.thickness_mm, self.row.v_opening_mm

    @property
    def radius(self) -> float:
        """The inside radius it left."""
        return self.row.inside_radius_mm

    @property
    def radius_margin(self) -> float:
        """Half of the 95 % interval of the radius."""
        return NORMAL_95 * self.row.inside_radius_u_mm

    @property
    def angle(self) -> float:
        """What the strips were turned through."""
        return math.radians(self.row.angle_deg)

    @property
    def k(self) -> float:
        """Its K, at the radius and thickness tested."""
        return self.k_at(self.row.inside_radius_mm, self.row.measured_mm)

    @property
    def k_margin(self) -> float:
        """Half of the 95 % interval of K: most of it is that of the radius."""
        a, thickness, twice = self.angle, self.row.measured_mm, 2 * math.tan(self.angle / 2)
        slopes = (
            (twice - a) * self.row.inside_radius_u_mm,
            self.row.deduction_u_mm,
            (twice - a * self.k) * self.row.measured_u_mm,
        )
        return NORMAL_95 * math.hypot(*slopes) / (a * thickness)

    def suits(self, thickness: float) -> bool:
        """Return whether a sheet is of the thickness tested: as it is called, or as it measured."""
        return any(abs(thickness / of - 1) <= SAME_THICKNESS for of in (self.row.thickness_mm, self.row.measured_mm))

    def leaves(self, radius: float) -> bool:
        """Return whether an inside radius may be the one that was left."""
        return abs(radius - self.radius) <= self.radius_margin

    def k_at(self, radius: float, thickness: float) -> float:
        """Return the K that gives the tested deduction at this radius and thickness."""
        return self.row.k_at(radius, thickness)

    def deduction_margin(self, angle: float) -> float:
        """Return half of the 95 % interval of the deduction at an angle."""
        share = angle / self.angle
        by_radius = 2 * (math.tan(angle / 2) - share * math.tan(self.angle / 2)) * self.row.inside_radius_u_mm
        return math.hypot(share * self.row.coverage * self.row.deduction_u_mm, NORMAL_95 * by_radius)
