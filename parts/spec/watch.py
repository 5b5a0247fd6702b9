"""Watched parameters: a copy that notes which of its values are read, so that what can't matter needn't be tried.

What is reckoned from the same values by the same steps has the same result. So a parameter that isn't read on the way
to a result doesn't change it, and a cached property is the same for all parameters alike in what was read for it.
"""

from abc import ABCMeta
from collections.abc import Callable, Collection, Mapping
from functools import cache, partial
from typing import Any

from parts.cached import cached_property

NOTED = "_notes"
"""Where a watched copy keeps its notes."""


class Notes:
    """What was read of a watched copy."""

    def __init__(self) -> None:
        """Nothing is read yet."""
        self._reading: list[set[str]] = [set()]
        self._kept: dict[str, tuple[Any, set[str]]] = {}

    @property
    def read(self) -> set[str]:
        """Names of the values that were read."""
        return self._reading[0]

    def apart_from(self, names: Collection[str]) -> dict[str, Any]:
        """Return the cached properties for which none of these values was read, with what they were found to be."""
        return {kept: found for kept, (found, behind) in self._kept.items() if behind.isdisjoint(names)}

    def note(self, *names: str) -> None:
        """Note values as read."""
        self._reading[-1].update(names)

    def reckoned(self, name: str, reckon: Callable[[], Any]) -> Any:  # noqa: ANN401 - as of any attribute
        """Return a cached property, and note what is read for it, whether it is reckoned or kept."""
        if name in self._kept:
            found, behind = self._kept[name]
            self.note(*behind)
            return found
        behind = set()
        self._reading.append(behind)
        try:
            found = reckon()
        finally:
            self._reading.pop()
            self.note(*behind)
        self._kept[name] = found, behind
        return found


def watched(of: type[object], values: Mapping[str, Any]) -> tuple[Any, Notes]:
    """Return parameters of a class with these values, as they are, and the notes of what is read of them."""
    made = _watching(of).model_construct(**values)  # type: ignore[arg-type]  # a class is hashable
    notes = made.__dict__[NOTED] = Notes()
    return made, notes


@cache
def _watching(of: type[object]) -> Any:  # noqa: ANN401 - a class, with what parameters have
    """The same class of parameters, of which each value and each cached property asked for is noted."""
    fields = frozenset(of.model_fields)  # type: ignore[attr-defined]
    caching = {name for each in of.__mro__ for name, what in vars(each).items() if isinstance(what, cached_property)}

    def __getattribute__(self: object, name: str) -> Any:  # noqa: ANN401 - as of any attribute
        if name in fields:
            _notes(self).note(name)
        elif name in caching:
            return _notes(self).reckoned(name, partial(object.__getattribute__, self, name))
        elif name == "changed":  # which takes every value along
            _notes(self).note(*fields)
        return object.__getattribute__(self, name)

    def keep(self: object, found: Mapping[str, Any]) -> None:
        """Take over what was reckoned elsewhere, but not into a copy with notes: nobody noted what was read for it."""
        own = object.__getattribute__(self, "__dict__")
        if NOTED not in own:
            own.update(found)

    members = {
        "__module__": of.__module__,
        "__getattribute__": __getattribute__,
        "keep": keep,
        "specs": staticmethod(of.specs),  # type: ignore[attr-defined]
    }
    # not by pydantic's own metaclass: its fields are those of the class watched, and it is never validated
    return ABCMeta.__new__(type(of), of.__name__, (of,), members)


def _notes(watched: object) -> Notes:
    """The notes of a watched copy; of a copy made of one, notes that nobody reads."""
    notes: Notes = object.__getattribute__(watched, "__dict__").get(NOTED) or Notes()
    return notes
