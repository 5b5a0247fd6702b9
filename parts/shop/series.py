"""Series of a shop's numbers over the thickness: kerf, least diameter, feed, time."""

from itertools import pairwise
from typing import Annotated, Generic, Self, TypeVar

from pydantic import Field, model_validator

from parts.data import OWN, Number, Text
from parts.shop.entries import Strict, Thickness
from parts.shop.setting import SETTINGS, setting_of
from parts.units import Millimetres, format_figures

ANY = "any"
"""The group of a series that holds for every material without a column of its own."""


class SeriesRow(Strict):
    """One row of a series: a value in the series' own unit at a thickness, what it holds for, and where it is from.

    `current_a` is a plasma's current, `power_kw` a laser's power, `quality` the edge that a waterjet leaves.
    """

    thickness_mm: Thickness
    value: float
    current_a: Annotated[Number, Field(gt=0, le=2000)] | None = None
    power_kw: Annotated[Number, Field(gt=0, le=200)] | None = None
    quality: Text = ""
    source: Text = OWN

    @property
    def setting(self) -> str:
        """What the row holds for, in words: `45 A`, `3 kW`, `good edge`; empty where nothing is said."""
        return setting_of({name: getattr(self, name) for name in SETTINGS})


class KerfRow(SeriesRow):
    """Width of the slot the process leaves, mm."""

    value: Annotated[Millimetres, Field(alias="kerf_mm", gt=0, le=20)]


class DiameterRow(SeriesRow):
    """Diameter of the crater that a pierce blows, mm."""

    value: Annotated[Millimetres, Field(alias="diameter_mm", gt=0, le=100)]


class FeedRow(SeriesRow):
    """Speed along the cut, mm/s."""

    value: Annotated[Number, Field(alias="feed_mm_s", gt=0, le=2000)]


class TimeRow(SeriesRow):
    """Time from arc, flame or jet on to moving, s."""

    value: Annotated[Number, Field(alias="time_s", ge=0, le=1200)]


R = TypeVar("R", bound=SeriesRow)


class Series(Strict, Generic[R]):
    """Rows by rising thickness; straight lines between them, nothing beyond them."""

    rows: Annotated[tuple[R, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _rising(self) -> Self:
        """Refuse rows out of order: which of two holds would be a guess."""
        for thinner, thicker in pairwise(row.thickness_mm for row in self.rows):
            if thicker <= thinner:
                raise ValueError(
                    f"has {format_figures(thicker)} after {format_figures(thinner)}: rows must go from thin to thick"
                )
        return self
