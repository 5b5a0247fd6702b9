"""The neutral line of a bend: where it lies, as the K-factor, and by whose word.

handbook  Machinery's Handbook, lengths of bends: L = c T + (pi/2) R at 90 degrees, so K = 2 c / pi whatever the radius
din-6935  K = (0.65 + 0.5 log10(R / T)) / 2, at most 0.5

Both are continuous in radius and thickness, so that a hair more of either never makes a step in the flat. The numbers
stand in `parts/data/k_factors.toml`.
"""

import math
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Literal, TypeAlias

from pydantic import Field

from parts.data import Kind, Number, Sourced, Text, kind_of, load

Formula: TypeAlias = Literal["handbook", "din-6935"]
_Positive = Annotated[Number, Field(gt=0, le=1)]


@dataclass(frozen=True, slots=True)
class NeutralLine:
    """K, the neutral line's distance from the inside face in thicknesses; who says so, where, and what kind of word."""

    k: float
    name: str
    source: str
    kind: Kind

    @property
    def sentence(self) -> str:
        """Who says K, for whoever reads the bend table."""
        kind = f" ({self.kind})" if self.kind == "published" else ""
        return f"K: {self.source}{kind}."


class _Named(Sourced):
    name: Text

    @property
    def kind(self) -> Kind:
        return kind_of(self.source)


class Handbook(_Named):
    """Length of a bend of 90 degrees: c thicknesses besides that of its inside face, by group of materials."""

    c: dict[str, Annotated[Number, Field(gt=0, le=0.8)]]


class Din6935(_Named):
    """K by the inside radius in thicknesses: base and slope of its logarithm, as K of `sharpest` below that."""

    base: _Positive
    slope: _Positive
    sharpest: _Positive


class KFactors(Sourced):
    """The formulas that there are."""

    source: Text = "each formula has its own"
    handbook: Handbook
    by_likeness: Handbook
    din_6935: Din6935


@cache
def _table() -> KFactors:
    return load("k_factors.toml", KFactors)


def neutral_line(formula: Formula, group: str, radius: float, thickness: float) -> NeutralLine:
    """Return the neutral line by a published formula, for a group of materials; an unknown group is taken as steel."""
    if formula == "din-6935":
        din = _table().din_6935
        ratio = max(radius / thickness, din.sharpest)
        k = min((din.base + din.slope * math.log10(ratio)) / 2, 0.5)
        return NeutralLine(k, din.name, din.source, din.kind)
    named, like = _table().handbook, _table().by_likeness
    book = like if group in like.c else named
    return NeutralLine(2 / math.pi * book.c.get(group, named.c["steel"]), book.name, book.source, book.kind)
