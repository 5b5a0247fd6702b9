"""Watched parameters: a copy that notes which of its values are read, so that what can't matter needn't be tried."""

from functools import cache
from typing import TYPE_CHECKING, Any, cast

from pydantic import BaseModel, ConfigDict

if TYPE_CHECKING:
    from collections.abc import Mapping

NOTED = "_read_names"
"""Where a watched copy keeps the names that were read."""


def watched(of: type[BaseModel], values: "Mapping[str, Any]") -> tuple[BaseModel, set[str]]:
    """Return parameters of these values, taken as they are, and the set to which each name of them is added when read.

    What is reckoned from the same values by the same steps has the same result, so a parameter that isn't read on
    the way to a result doesn't change it.
    """
    made = _watching(of).model_construct(**values)
    read: set[str] = set()
    made.__dict__[NOTED] = read
    return made, read


@cache
def _watching(of: type[BaseModel]) -> type[BaseModel]:
    """The same class of parameters, of which each attribute asked for is noted."""

    def __getattribute__(self: BaseModel, name: str) -> Any:  # noqa: ANN401 - as of any attribute
        value = object.__getattribute__(self, name)
        read = object.__getattribute__(self, "__dict__").get(NOTED)
        if read is not None:
            read.add(name)
        return value

    parts = {
        "__module__": of.__module__,
        "__getattribute__": __getattribute__,
        "model_config": ConfigDict(defer_build=True),  # it is never validated
        "specs": staticmethod(of.specs),  # type: ignore[attr-defined]
    }
    return cast(type[BaseModel], type(of.__name__, (of,), parts))
