"""TOML files: read as plain tables, or as the model of a data file."""

import tomllib
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from parts.data.sentences import said
from parts.data.table import Table
from parts.errors import DataError

FOLDER = Path(__file__).parent
"""Where the built-in files are."""

M = TypeVar("M", bound=Table)


def load(file: str | Path, model: type[M]) -> M:
    """Return a data file as its model.

    Args:
        file: name of a built-in file, or the path of another.
        model: what may be in it.

    Raises:
        DataError: it can't be read, or holds something unusable; names the entry, its value and what is accepted.
    """
    path = FOLDER / file
    tree = read(path)
    try:
        return model.model_validate(tree)
    except ValidationError as error:
        raise DataError(f"{path}: {said(error.errors()[0], tree)}.") from None


def read(path: Path) -> dict[str, Any]:
    """Return a TOML file as plain tables.

    Raises:
        DataError: it can't be read.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise DataError(f"{path} can't be read: {error.strerror or error}.") from error
    except ValueError as error:
        raise DataError(f"{path} can't be read as TOML: it isn't text in UTF-8.") from error
    return parse(text, str(path))


def parse(text: str, name: str) -> dict[str, Any]:
    """Return the text of a TOML file called `name` as plain tables.

    Raises:
        DataError: it can't be read.
    """
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError) as error:
        raise DataError(f"{name} can't be read as TOML: {str(error) or 'nested too deep'}.") from error
