"""A place to keep something: the file or the database that the environment names, else a file of its own.

The database itself is in `parts.database.engine`, which loads SQLAlchemy and so is imported where it is used.
"""

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
    def said(self) -> str:
        """The path, or the database's address without its password.

        Raises:
            DataError: the environment names no database.
        """
        if not self.address:
            return str(self.file)
        from parts.database.engine import said  # noqa: PLC0415 - SQLAlchemy, which reads addresses

        return said(self)

    @property
    def is_begun(self) -> bool:
        """Whether anything can have been kept there: to look makes no file.

        Raises:
            DataError: the environment names no database.
        """
        if not self.address:
            return self.file.exists()
        from parts.database.engine import may_hold  # noqa: PLC0415 - as above

        return may_hold(self)

    @property
    def _given(self) -> str:
        return os.environ.get(self.variable, "").strip()
