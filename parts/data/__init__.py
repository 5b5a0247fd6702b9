"""The numbers that Platewright comes with, each beside its source in a TOML file, and how such files are read."""

from parts.data.choices import word_of
from parts.data.files import FOLDER, load, parse, read
from parts.data.kinds import COPIED, KINDS, OWN, REST, Kind, kind_of, weakest
from parts.data.replacing import beside, put, replace
from parts.data.sentences import said
from parts.data.table import Number, Sourced, Table, Text, UnknownEntry, number, suggestion
from parts.data.thresholds import said_of_threshold, threshold

__all__ = [
    "COPIED",
    "FOLDER",
    "KINDS",
    "OWN",
    "REST",
    "Kind",
    "Number",
    "Sourced",
    "Table",
    "Text",
    "UnknownEntry",
    "beside",
    "kind_of",
    "load",
    "number",
    "parse",
    "put",
    "read",
    "replace",
    "said",
    "said_of_threshold",
    "suggestion",
    "threshold",
    "weakest",
    "word_of",
]
