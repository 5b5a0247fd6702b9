"""Changing the shop's own file, in place or as a whole."""

from parts.shop.editing.edit import Change, changed, edited, written
from parts.shop.editing.file import LARGEST, OtherEdition, ShopFile, read_file, save, set_in, text_of

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
