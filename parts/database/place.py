"""A place to keep something: the file or the database that the environment names, else a file of its own."""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Place:
    """Where something is kept.

    `what` begins a sentence about it; `variable` is the environment variable that names a path, or a database's
    address such as `postgresql+pg8000://...`; `usual` is the file where it names none. `journal` is whether a file is
    written by a log beside it, so that those who read never wait for one who writes.
    """

    what: str
    variable: str
    usual: Callable[[], Path]
    journal: bool = False

    @property
    def address(self) -> str:
        """The address of a database that the environment names, empty where a file is meant."""
        given = self._given
        return given if "://" in given else ""

    @property
    def file(self) -> Path:
        """The file where no database is named."""
        given = self._given
        return Path(given).expanduser() if given else self.usual()

    @property
    def _given(self) -> str:
        return os.environ.get(self.variable, "").strip()
