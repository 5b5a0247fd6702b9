"""Changes to a shop's tree of own numbers: a *change* sets or removes one entry of one table."""

from collections.abc import Iterable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any, TypeAlias

from parts.shop.tree import ALIASES, as_table

TomlRow: TypeAlias = Mapping[str, Any]
EntryValue: TypeAlias = str | float | int | Sequence[TomlRow] | None


@dataclass(frozen=True, slots=True)
class Change:
    """One entry set, or removed where `value` is None.

    `name` is the built-in name of the entry and `key` the one it is written under: `x` for `x_mm`. Whatever
    the file has under another name of the same entry goes.
    """

    table: tuple[str, ...]
    name: str
    value: EntryValue
    key: str = ""

    @property
    def entry(self) -> tuple[str, ...]:
        """The path of the entry under its built-in name."""
        return (*self.table, self.name)


def written(own: Mapping[str, Any], table: Iterable[str], name: str) -> tuple[str, Any] | None:
    """Return the key and the value that a shop's tree has for an entry, None where it has none."""
    here: object = own
    for word in table:
        here = as_table(here).get(word)
    return next(((key, value) for key, value in as_table(here).items() if ALIASES.get(key, key) == name), None)


def changed(own: Mapping[str, Any], changes: Iterable[Change]) -> dict[str, Any]:
    """Return a shop's tree with changes made, without tables that hold nothing."""
    tree = deepcopy(dict(own))
    for change in changes:
        table = tree
        for word in change.table:
            if not isinstance(table.get(word), dict):
                table[word] = {}
            table = table[word]
        here = written(tree, change.table, change.name)
        if here and (change.value is None or here[0] != change.key):
            del table[here[0]]
        if change.value is not None:
            table[change.key or change.name] = change.value
        elif table.keys() == {"source"}:
            del table["source"]  # it told where numbers were from that are gone
    return pruned(tree)


def pruned(tree: Mapping[str, Any]) -> dict[str, Any]:
    """Return a tree without its empty tables."""
    whole = {key: pruned(value) if isinstance(value, dict) else value for key, value in tree.items()}
    return {key: value for key, value in whole.items() if value != {}}
