"""A shop's own numbers over the built-in ones: their schema, loading, editing, and the file."""

from collections.abc import Iterable

from parts.shop.change import Change, changed, written
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


def edited(text: str, changes: Iterable[Change]) -> str:
    """Return the text of a shop's file with changes made and all else as it was.

    Raises:
        DataError: the text is no TOML, or is written so that an entry can't be changed in place.
    """
    from parts.shop import edit  # noqa: PLC0415 - tomlkit, for whoever changes a file alone

    return edit.edited(text, changes)


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
