"""Watched parameters: a copy that notes which of its values are read, so that what can't matter needn't be tried.

What is reckoned from the same values by the same steps has the same result. So a parameter that isn't read on the way
to a result doesn't change it, and a cached property is the same for all parameters alike in what was read for it.
"""

from collections.abc import Mapping
from functools import cache, cached_property
from typing import Any

NOTED = "_notes"
"""Where a watched copy keeps its notes."""


class Notes:
    """What was read of a watched copy."""

    def __init__(self, watched: Mapping[str, Any]) -> None:
        """Nothing is read yet; `watched` holds the values of the copy, and what it keeps."""
        self._watched = watched
        self._reading: list[set[str]] = [set()]
        self._behind: dict[str, set[str]] = {}

    @property
    def read(self) -> set[str]:
        """Names of the values that were read."""
        return self._reading[0]

    def apart_from(self, names: set[str]) -> dict[str, Any]:
        """Return the cached properties for which none of these values was read, with what they were found to be."""
        return {kept: self._watched[kept] for kept, behind in self._behind.items() if behind.isdisjoint(names)}

    def note(self, *names: str) -> None:
        """Note values as read."""
        self._reading[-1].update(names)

    def begin(self) -> None:
        """Note what follows as read for a cached property."""
        self._reading.append(set())

    def end(self, name: str, *, kept: bool) -> None:
        """Note what was read since `begin` for a cached property, and as read for what asked for it."""
        behind = self._reading.pop()
        self.note(*behind)
        if kept:
            self._behind[name] = behind

    def note_kept(self, name: str) -> None:
        """Note as read what was read for a cached property that is asked for again."""
        self.note(*self._behind.get(name, ()))


def watched(of: type[object], values: Mapping[str, Any]) -> tuple[Any, Notes]:
    """Return parameters of a class with these values, as they are, and the notes of what is read of them."""
    made = _watching(of).model_construct(**values)  # type: ignore[arg-type]  # a class is hashable
    notes = made.__dict__[NOTED] = Notes(made.__dict__)
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
            return _reckoned(self, name)
        elif name == "model_copy":  # which takes every value along
            _notes(self).note(*fields)
        return object.__getattribute__(self, name)

    members = {
        "__module__": of.__module__,
        "__getattribute__": __getattribute__,
        "model_config": {"defer_build": True},  # it is never validated
        "specs": staticmethod(of.specs),  # type: ignore[attr-defined]
    }
    return type(of.__name__, (of,), members)


def _reckoned(watched: object, name: str) -> Any:  # noqa: ANN401 - as of any attribute
    """A cached property, of which is noted what is read for it."""
    notes = _notes(watched)
    if name in object.__getattribute__(watched, "__dict__"):
        notes.note_kept(name)
        return object.__getattribute__(watched, name)
    kept = False
    notes.begin()
    try:
        found = object.__getattribute__(watched, name)
        kept = True
    finally:
        notes.end(name, kept=kept)
    return found


def _notes(watched: object) -> Notes:
    """The notes of a watched copy; of a copy made of one, notes that nobody reads."""
    notes: Notes = object.__getattribute__(watched, "__dict__").get(NOTED) or Notes({})
    return notes
