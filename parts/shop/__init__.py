"""A shop's own numbers over the built-in ones: their schema, loading, editing, and the file."""

from parts.shop.edit import Change, changed, edited, written
from parts.shop.file import LARGEST, OtherEdition, ShopFile, read_file, save, set_in, text_of
from parts.shop.numbers import VARIABLE, Edition, Slip, checked, edition, load, path
from parts.shop.schema import (
    ANY,
    DiameterRow,
    FeedRow,
    KerfRow,
    MaterialData,
    ProcessData,
    Row,
    Series,
    ShopData,
    TimeRow,
)
from parts.shop.tree import ALIASES, as_table, builtin, parse, read

__all__ = [
    "ALIASES",
    "ANY",
    "LARGEST",
    "VARIABLE",
    "Change",
    "DiameterRow",
    "Edition",
    "FeedRow",
    "KerfRow",
    "MaterialData",
    "OtherEdition",
    "ProcessData",
    "Row",
    "Series",
    "ShopData",
    "ShopFile",
    "Slip",
    "TimeRow",
    "as_table",
    "builtin",
    "changed",
    "checked",
    "edited",
    "edition",
    "load",
    "parse",
    "path",
    "read",
    "read_file",
    "save",
    "set_in",
    "text_of",
    "written",
]
