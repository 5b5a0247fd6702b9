"""The numbers that Platewright comes with, each beside its source in a TOML file, and how such files are read."""

from parts.data.files import FOLDER, load, parse, read
from parts.data.replacing import beside, replace
from parts.data.sentences import said
from parts.data.table import Number, Sourced, Table, Text, UnknownEntry, number, suggestion

__all__ = [
    "FOLDER",
    "Number",
    "Sourced",
    "Table",
    "Text",
    "UnknownEntry",
    "beside",
    "load",
    "number",
    "parse",
    "read",
    "replace",
    "said",
    "suggestion",
]
