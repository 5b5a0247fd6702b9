"""Watched parameters: a copy that notes which of its values are read, so that what can't matter needn't be tried."""

from collections.abc import Mapping
from functools import cache
from typing import Any

NOTED = "_read_names"
"""Where a watched copy keeps the names that were read."""


def watched(of: type[object], values: Mapping[str, Any]) -> tuple[Any, set[str]]:
    """Return parameters of a class with these values, as they are, and the set that gets each name when it is read.

    What is reckoned from the same values by the same steps has the same result, so a parameter that isn't read on
    the way to a result doesn't change it.
    """
    made = _watching(of).model_construct(**values)  # type: ignore[arg-type]  # a class is hashable
    read: set[str] = set()
    made.__dict__[NOTED] = read
    return made, read


@cache
def _watching(of: type[object]) -> Any:  # noqa: ANN401 - a class, with what parameters have
    """The same class of parameters, of which each attribute asked for is noted."""

    def __getattribute__(self: object, name: str) -> Any:  # noqa: ANN401 - as of any attribute
        value = object.__getattribute__(self, name)
        read = object.__getattribute__(self, "__dict__").get(NOTED)
        if read is not None:
            if name == "model_copy":  # which takes every value along
                read.update(type(self).model_fields)
            read.add(name)
        return value

    members = {
        "__module__": of.__module__,
        "__getattribute__": __getattribute__,
        "model_config": {"defer_build": True},  # it is never validated
        "specs": staticmethod(of.specs),  # type: ignore[attr-defined]
    }
    return type(of.__name__, (of,), members)
