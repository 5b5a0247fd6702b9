"""The press brake in a shop's file: its ratios, its test bends, the least radius that a material stands."""

import math
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from parts.data import OWN, Number, Text
from parts.shop.entries import Signed, Strict, Thickness, all_known, in_our_spelling, or_none
from parts.units import Millimetres, format_figures

_SOURCES = ("source", "sources")


class BrakeData(Signed):
    """The press brake; see `parts.forming.brake` for what each ratio is of, and for what holds where it is 0.

    `sources` has the source of each, `source` that of the shop's own.
    """

    v_opening_ratio: Annotated[Number, Field(ge=0, le=20), or_none(4)]
    flange_per_v: Annotated[Number, Field(ge=0.5, le=2)]
    inside_radius_per_v: Annotated[Number, Field(ge=0, le=0.5), or_none(0.05)]
    k_factor: Annotated[Number, Field(ge=0, le=0.5), or_none(0.2)]
    k_by: Annotated[
        Literal["handbook", "din-6935"],
        BeforeValidator(lambda said: in_our_spelling(said, ("handbook", "din-6935"))),
    ]
    hole_ratio: Annotated[Number, Field(ge=0, le=10)]
    slot_ratio: Annotated[Number, Field(ge=0, le=10)]
    punch_width_mm: Annotated[Millimetres, Field(gt=0, le=200)]
    sources: dict[str, Text]

    @model_validator(mode="after")
    def _sourced(self) -> Self:
        """Refuse the source of what isn't there."""
        all_known("sources", self.sources, tuple(name for name in type(self).model_fields if name not in _SOURCES))
        return self


class BendTestRow(Strict):
    """One test bend: what strips of this thickness showed over this V opening; see `parts.forming.own_bend`.

    Each u is a standard uncertainty, `coverage` how many of them the 95 % interval of the deduction has.
    """

    thickness_mm: Thickness
    measured_mm: Thickness
    measured_u_mm: Annotated[Millimetres, Field(gt=0, le=5)]
    v_opening_mm: Annotated[Millimetres, Field(gt=0, le=3000)]
    angle_deg: Annotated[Number, Field(ge=10, le=150)]
    inside_radius_mm: Annotated[Millimetres, Field(gt=0, le=1000)]
    inside_radius_u_mm: Annotated[Millimetres, Field(gt=0, le=500)]
    deduction_mm: Annotated[Millimetres, Field(ge=-100, le=1000)]
    deduction_u_mm: Annotated[Millimetres, Field(gt=0, le=100)]
    coverage: Annotated[Number, Field(ge=1.5, le=15)] = 2.0
    strips: Annotated[int, Field(strict=True, ge=1, le=500)] = 1
    date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")]
    source: Text = OWN

    def k_at(self, radius_mm: float, thickness_mm: float) -> float:
        """Return the K that gives this deduction at a radius and a thickness, by the formula of bend deductions."""
        angle = math.radians(self.angle_deg)
        setbacks = 2 * math.tan(angle / 2) * (radius_mm + thickness_mm)
        return (setbacks - angle * radius_mm - self.deduction_mm) / (angle * thickness_mm)

    @model_validator(mode="after")
    def _possible(self) -> Self:
        """Refuse a deduction that would have the neutral line outside the metal: a slip of a digit."""
        k = self.k_at(self.inside_radius_mm, self.measured_mm)
        if not 0 < k < 1:
            raise ValueError(
                f"has a deduction of {format_figures(self.deduction_mm)}, at this radius and thickness a K of {k:.3g}: "
                "it must be between 0 and 1"
            )
        return self


class BendTests(Strict):
    """The test bends of one material, each of another thickness or V opening."""

    rows: Annotated[tuple[BendTestRow, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        """Refuse two of one thickness and V: which of them holds would be a guess."""
        seen: set[tuple[float, float]] = set()
        for row in self.rows:
            key = row.thickness_mm, row.v_opening_mm
            if key in seen:
                thick, v = map(format_figures, key)
                raise ValueError(f"has two of {thick} over a V of {v}: keep one of them")
            seen.add(key)
        return self


class LeastBendRadius(Signed):
    """The least inside radius that a material stands, bent square, in thicknesses."""

    ratio: Annotated[Number, Field(gt=0, le=20)]
