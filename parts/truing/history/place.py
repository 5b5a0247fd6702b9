"""Where the history is kept: a database that the environment names, or a file."""

import os
from pathlib import Path

import platformdirs

VARIABLE = "PLATEWRIGHT_HISTORY"
"""The environment variable: a path, or a database's address such as `postgresql://...`."""


def address() -> str:
    """Return the address of a database that the environment names, empty where a file is meant."""
    given = os.environ.get(VARIABLE, "").strip()
    return given if "://" in given else ""


def file() -> Path:
    """Return the file of the history where no database is named: the user's own unless the environment says which."""
    given = os.environ.get(VARIABLE, "").strip()
    return Path(given).expanduser() if given else platformdirs.user_data_path("platewright") / "history.sqlite"
