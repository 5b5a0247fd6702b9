"""The numbers of a tree of data: each leaf that is one, with its path, its source, and the keys of its row.

A *key* is a number that says where others of its row hold: a thickness, a bolt, the limits of a range. It is told with
them and is no entry of its own. A number that is written as a fraction (`3/4`, of an inch) is one as well. So is a
*choice*: a word that decides, as a number does.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from parts.numbers.number import unit_of
from parts.shop import SETTINGS, setting_of
from parts.units import to_figures, with_unit

Tree: TypeAlias = Mapping[str, object]

_FRACTION = re.compile(r"(?:([0-9]+)-)?([0-9]+(?:/[0-9]+)?)")
_ROW_KEYS = ("thickness_mm", "bolt_mm", "bolt_in", "over_mm", "over_in", "to_mm", "class", "from_mm", "under_mm")
_WORDS = frozenset(
    {
        "source",
        "sources",
        "title",
        "name",
        "text",
        "group",
        "gauge",
        "cautions",
        "not_cut_by",
        "quality",
        "groups",
        "says",
        "k_by",
        "metal",
        "date",
        "currency",
        "page",
    }
)

CHOICES = frozenset({"paper", "side"})
"""Entries whose value is a choice."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A number at the end of a path: the names above it, the keys of its row, what the row holds for, its source."""

    path: tuple[str, ...]
    keys: tuple[str, ...]
    setting: str
    value: float | str
    source: str


def leaves(tree: Tree, path: tuple[str, ...] = (), source: str = "", setting: str = "") -> Iterator[Leaf]:
    """Yield each number of a tree, in its order."""
    source = str(tree.get("source") or source)
    keys = _keys(tree) if _is_row(tree) else ()
    setting = setting_of(tree) or setting
    each = tree.get("sources")
    sources = each if isinstance(each, Mapping) else {}
    for name, value in tree.items():
        if name in _WORDS or (keys and name in (*_ROW_KEYS, *SETTINGS)):
            continue
        for leaf in _within(value, (*path, name), str(sources.get(name, source)), setting):
            yield Leaf(leaf.path, (*keys, *leaf.keys), leaf.setting, leaf.value, leaf.source)


def _within(value: object, path: tuple[str, ...], source: str, setting: str) -> Iterator[Leaf]:
    if isinstance(value, Mapping):
        yield from leaves(value, path, source, setting)
    elif isinstance(value, list | tuple):
        for place, item in enumerate(value, 1):
            rows = isinstance(item, Mapping)
            for leaf in _within(item, path[:-1] if rows and path[-1] == "rows" else path, source, setting):
                key = () if rows else (f"number {place}",)
                yield Leaf(leaf.path, (*key, *leaf.keys), leaf.setting, leaf.value, leaf.source)
    elif path[-1] in CHOICES:
        yield Leaf(path, (), setting, str(value), source)
    elif (number := as_number(value)) is not None:
        yield Leaf(path, (), setting, number, source)


def as_number(value: object) -> float | None:
    """Return the number that a value of the data is; None where it is none."""
    if isinstance(value, bool):
        return None
    if isinstance(value, int | float):
        return float(value)
    found = _FRACTION.fullmatch(value) if isinstance(value, str) else None
    return float(int(found[1] or 0) + Fraction(found[2])) if found else None


def _is_row(tree: Tree) -> bool:
    """Whether a table is one of several alike, told apart by its keys, and not one that is called by a name."""
    others = [name for name in tree if name not in (*_ROW_KEYS, *SETTINGS, *_WORDS)]
    return bool(others) and any(name in tree for name in _ROW_KEYS)


def _keys(tree: Tree) -> tuple[str, ...]:
    said = []
    for name in _ROW_KEYS:
        if (number := as_number(tree.get(name))) is not None:
            word = {"over": "over ", "to": "to ", "class": "class "}.get(name.rpartition("_")[0] or name, "")
            text = str(tree[name]) if isinstance(tree[name], str) else to_figures(number)
            said.append(f"{word}{with_unit(text, unit_of(name)).rstrip()}")
    return tuple(said)
