"""A table of a data file as a model: every entry known, every number a number, every source given.

What a validator raises ends a sentence that begins with the entry: see `parts/data/sentences.py`.
"""

from collections.abc import Mapping, Sequence
from typing import Annotated, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, model_validator

from parts.errors import nearest


def number(value: object) -> object:
    """Pass a number on; text and true/false are none, though pydantic would take some of them.

    Raises:
        ValueError: it is one of these.
    """
    if isinstance(value, (bool, str)):
        raise ValueError("it must be a number")
    return value


Number = Annotated[float, BeforeValidator(number), Field(allow_inf_nan=False)]
Text = Annotated[str, Field(pattern=r"\S")]


class UnknownEntry(ValueError):
    """An entry that isn't known, at `path` under the table that it is refused in."""

    def __init__(self, message: str, path: tuple[str, ...]) -> None:
        super().__init__(message)
        self.path = path


def suggestion(word: str, known: Sequence[str]) -> str:
    """Say what `word` may have been meant to be, or all that it could be."""
    near = nearest(word, known)
    return f"did you mean {near}" if near else f"accepted: {', '.join(known)}"


class Table(BaseModel):
    """A table in which every key is known; a slip of the pen is answered with the near match."""

    # the validator is built when a file is first read, not when its module is imported
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
    other_names: ClassVar[Mapping[str, str]] = {}
    """The names of entries that may be given another way: x = "52 in" for x_mm = 1320.8."""

    @model_validator(mode="before")
    @classmethod
    def _known_keys(cls, table: object) -> object:
        """Refuse a key that is none of this table's."""
        known = tuple(field.alias or name for name, field in cls.model_fields.items())
        if not isinstance(table, dict):
            raise ValueError(f"it must be a table with {', '.join(known)}")
        for key in table:
            if cls.other_names.get(key) in table:
                raise ValueError(f"has both {key} and {cls.other_names[key]}: give one of them")
            if key not in known:
                raise UnknownEntry(f"has no entry {key}: {suggestion(key, known)}", (key,))
        return table


class Sourced(Table):
    """A table whose numbers share one source."""

    source: Text
