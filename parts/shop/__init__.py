"""A shop's own numbers over the built-in ones: their schema and loading; `editing` changes the file."""

from parts.data import parse, read
from parts.shop.bending import BendTestRow
from parts.shop.mark import Mark, mark
from parts.shop.numbers import (
    VARIABLE,
    Edition,
    Slip,
    built_in,
    carried,
    checked,
    edition,
    held,
    held_as,
    held_or_built_in,
    load,
    own_entries,
    path,
    trouble,
    usual,
)
from parts.shop.schema import BY_UNITS, PAPERS, MaterialData, ProcessData, ShopData, Side
from parts.shop.series import ANY, DiameterRow, FeedRow, KerfRow, Series, SeriesRow, TimeRow
from parts.shop.setting import SETTINGS, setting_of
from parts.shop.tree import ALIASES, BUILT_IN, as_table, builtin
from parts.shop.words import Ambiguous, taken_for

__all__ = [
    "ALIASES",
    "ANY",
    "BUILT_IN",
    "BY_UNITS",
    "PAPERS",
    "SETTINGS",
    "VARIABLE",
    "Ambiguous",
    "BendTestRow",
    "DiameterRow",
    "Edition",
    "FeedRow",
    "KerfRow",
    "Mark",
    "MaterialData",
    "ProcessData",
    "Series",
    "SeriesRow",
    "ShopData",
    "Side",
    "Slip",
    "TimeRow",
    "as_table",
    "built_in",
    "builtin",
    "carried",
    "checked",
    "edition",
    "held",
    "held_as",
    "held_or_built_in",
    "load",
    "mark",
    "own_entries",
    "parse",
    "path",
    "read",
    "setting_of",
    "taken_for",
    "trouble",
    "usual",
]
