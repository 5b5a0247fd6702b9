"""What a rule goes by besides the numbers of process and machine: shares, counts and angles, in `rules.toml`."""

from functools import cache
from typing import Any

from parts.data.files import FOLDER, read
from parts.errors import DataError

FILE = "rules.toml"


def threshold(table: str, entry: str) -> float:
    """Return a number of `rules.toml`, by its table, which is a rule's name for most, and its entry.

    Raises:
        DataError: the file can't be read, or has no such number.
    """
    value = _tables().get(table, {}).get(entry)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise DataError(f"{FOLDER / FILE}: {table}.{entry} is {value!r}; it must be a number.")
    return value


def said_of_threshold(table: str, entry: str) -> str:
    """Return what a number of `rules.toml` is for, in words; nothing where it isn't said."""
    return str(_tables().get(table, {}).get("says", {}).get(entry, ""))


@cache
def _tables() -> dict[str, Any]:
    return read(FOLDER / FILE)
