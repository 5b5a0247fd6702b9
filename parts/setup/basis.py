"""Of what kind a number of the shop's data is: of a table that is the shop's own in part, each number by itself."""

from typing import Protocol

from parts.data import Kind, kind_of


class Sourced(Protocol):
    """A table of the data whose numbers share a source."""

    @property
    def source(self) -> str:
        """Where its numbers are from."""


def kind_in(table: Sourced, built_in: Sourced | None, name: str) -> Kind:
    """Return the kind of a number of a table; `built_in` is the same table without the shop's own file, if there is."""
    is_own = built_in is None or getattr(table, name) != getattr(built_in, name)
    return kind_of(table.source, own=is_own)
