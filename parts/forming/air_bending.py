"""Air bending: the V opening for a thickness, the inside radius it leaves, and the least radius that the metal stands.

The numbers stand in `parts/data/air_bending.toml`. Each is continuous in the thickness: the trade's ratios step from
one range of plate to the next, and a step there would be one in the flat. So between rows the straight line holds.
Lengths are mm.
"""

from bisect import bisect_right
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Annotated, Self

from pydantic import Field, model_validator

from parts.data import Number, Sourced, Table, Text, load

_Thickness = Annotated[Number, Field(gt=0, le=300)]
_PerV = Annotated[Number, Field(ge=0.05, le=0.5)]


class VRow(Table):
    """The V opening in thicknesses at a thickness."""

    thickness_mm: _Thickness
    times: Annotated[Number, Field(ge=4, le=20)]


class RadiusRow(Table):
    """The least inside radius at a thickness."""

    thickness_mm: _Thickness
    radius_mm: Annotated[Number, Field(ge=0, le=300)]


class VOpenings(Sourced):
    """V openings by thickness."""

    rows: Annotated[tuple[VRow, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _rising(self) -> Self:
        _from_thin_to_thick(self.rows)
        return self


class _Radii(Sourced):
    """The least inside radii of one metal, by thickness."""

    metal: Text
    rows: Annotated[tuple[RadiusRow, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _rising(self) -> Self:
        _from_thin_to_thick(self.rows)
        return self

    def at(self, thickness: float) -> float:
        """Return the radius at a thickness; beyond either end the row there keeps its share of the thickness."""
        first, last = self.rows[0], self.rows[-1]
        for end, beyond in ((first, thickness < first.thickness_mm), (last, thickness > last.thickness_mm)):
            if beyond:
                return end.radius_mm * thickness / end.thickness_mm
        return _on_line([(row.thickness_mm, row.radius_mm) for row in self.rows], thickness)


class Harder(_Radii):
    """Those of a harder grade or temper of the metal, and whether a shop calls both by one name."""

    has_same_name: bool


class LeastRadius(_Radii):
    """Those of the usual grade of a metal, which of our materials it is, and what a harder one wants."""

    materials: Annotated[tuple[Text, ...], Field(min_length=1)]
    harder: Harder


class RadiusPerV(Sourced):
    """The inside radius that air bending leaves, in V openings, by group of materials."""

    steel: _PerV
    stainless: _PerV
    aluminium: _PerV
    copper: _PerV
    brass: _PerV


class AirBending(Sourced):
    """The file of air bending."""

    source: Text = "each table has its own"
    v_openings: VOpenings
    radius_per_v: RadiusPerV
    least_radius: dict[str, LeastRadius]


@cache
def _table() -> AirBending:
    return load("air_bending.toml", AirBending)


def v_opening_ratio(thickness: float) -> float:
    """Return the V opening for a thickness, in thicknesses."""
    return _on_line([(row.thickness_mm, row.times) for row in _table().v_openings.rows], thickness)


def radius_per_v(group: str) -> float:
    """Return the inside radius that air bending leaves, in V openings; an unknown group is taken as steel."""
    table = _table().radius_per_v
    ratio: float = getattr(table, group, table.steel)
    return ratio


def least_radius(group: str) -> LeastRadius | None:
    """Return the least inside radii of a group of materials; None where no table is known."""
    return _table().least_radius.get(group)


def _on_line(points: Sequence[tuple[float, float]], thickness: float) -> float:
    """The value on the straight line between the points either side; that of the end beyond one."""
    above = bisect_right(points, thickness, key=lambda point: point[0])
    (x, low), (x_high, high) = points[max(above - 1, 0)], points[min(above, len(points) - 1)]
    return low if thickness <= x or x_high == x else low + (high - low) * (thickness - x) / (x_high - x)


def _from_thin_to_thick(rows: Sequence[VRow | RadiusRow]) -> None:
    """Refuse rows out of order: which of two holds would be a guess."""
    for thinner, thicker in pairwise(row.thickness_mm for row in rows):
        if thicker <= thinner:
            raise ValueError(f"has {thicker:g} after {thinner:g}: rows must go from thin to thick")
