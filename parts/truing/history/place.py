"""Where the history is kept: a database that the environment names, or a file."""

from pathlib import Path

import platformdirs

from parts.database import Place

VARIABLE = "PLATEWRIGHT_HISTORY"
"""The environment variable: a path, or a database's address such as `postgresql+pg8000://...`."""


def _usual() -> Path:
    """The user's own file."""
    return platformdirs.user_data_path("platewright") / "history.sqlite"


PLACE = Place("The history", VARIABLE, _usual)
