"""Where jobs are kept: a database that the environment names, or a file beside the shop's own numbers."""

from pathlib import Path

from parts import shop
from parts.database import Place
from parts.database import kept_at as at

VARIABLE = "PLATEWRIGHT_STORE"
"""The environment variable: a path, or a database's address such as `postgresql+pg8000://...`."""


def _usual() -> Path:
    """The file beside the shop's own numbers."""
    return Path(shop.path()).with_name("jobs.sqlite")


PLACE = Place("The store of jobs", VARIABLE, _usual, journal=True)


def kept_at() -> str:
    """Return where jobs are kept: a path, or a database's address without its password.

    Raises:
        DataError: the environment names no database.
    """
    return at(PLACE)
