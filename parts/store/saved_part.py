"""A saved part: one that is kept alone, under a name by which it is found again."""

from dataclasses import dataclass

from parts.store.content import Kept


@dataclass(frozen=True, slots=True)
class SavedPart:
    """A part under a name, and when it was saved (UTC)."""

    name: str
    made: str
    kept: Kept
