"""A table of someone's own, as commands that take one are given it."""

from pathlib import Path

from parts import Problem, Refused
from parts.tables import Table, read_table

_MOST_READ = 64_000_001


def own_table(file: str) -> tuple[Table, Path]:
    """Return a table, and the folder that it stands in, beside which its drawings are.

    Raises:
        Refused: it can't be read.
        Unreadable: it is no table.
    """
    path = Path(file)
    try:
        with path.open("rb") as opened:
            data = opened.read(_MOST_READ)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise Refused((Problem("table", file, f"can't be read: {why}."),)) from error
    return read_table(data, path.name), path.parent
