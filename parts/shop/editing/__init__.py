"""Changing the shop's own file, in place or as a whole."""

from collections.abc import Iterable

from parts.shop.editing.change import Change, changed, written
from parts.shop.editing.file import LARGEST, OtherEdition, ShopFile, read_file, save, set_in, text_of


def edited(text: str, changes: Iterable[Change]) -> str:
    """Return the text of a shop's file with changes made and all else as it was.

    Raises:
        DataError: the text is no TOML, or is written so that an entry can't be changed in place.
    """
    from parts.shop.editing import edit  # noqa: PLC0415 - tomlkit, for whoever changes a file alone

    return edit.edited(text, changes)


__all__ = [
    "LARGEST",
    "Change",
    "OtherEdition",
    "ShopFile",
    "changed",
    "edited",
    "read_file",
    "save",
    "set_in",
    "text_of",
    "written",
]
