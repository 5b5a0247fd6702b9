"""A shop's own numbers over the built-in ones: their schema and loading; `editing` changes the file."""

from parts.data import parse, read
from parts.shop.numbers import (
    VARIABLE,
    Edition,
    Slip,
    built_in,
    checked,
    edition,
    held,
    held_or_built_in,
    load,
    path,
    trouble,
)
from parts.shop.schema import (
    ANY,
    BendTestRow,
    DiameterRow,
    FeedRow,
    KerfRow,
    MaterialData,
    ProcessData,
    Series,
    SeriesRow,
    ShopData,
    TimeRow,
)
from parts.shop.tree import ALIASES, as_table, builtin
from parts.shop.words import Ambiguous, taken_for

__all__ = [
    "ALIASES",
    "ANY",
    "VARIABLE",
    "Ambiguous",
    "BendTestRow",
    "DiameterRow",
    "Edition",
    "FeedRow",
    "KerfRow",
    "MaterialData",
    "ProcessData",
    "Series",
    "SeriesRow",
    "ShopData",
    "Slip",
    "TimeRow",
    "as_table",
    "built_in",
    "builtin",
    "checked",
    "edition",
    "held",
    "held_or_built_in",
    "load",
    "parse",
    "path",
    "read",
    "taken_for",
    "trouble",
]
