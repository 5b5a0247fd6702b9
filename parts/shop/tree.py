"""Plain trees of the shop's numbers: read from TOML, and the shop's own laid over the built-in ones.

Tables merge key by key, row lists replace whole, and every table says whose its numbers are. Nothing here
knows which entries are right; `parts/shop/schema.py` does.
"""

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from parts.data import FOLDER, OWN, REST, read
from parts.units import MM_PER_IN

BUILT_IN = ("materials.toml", "processes.toml", "bending.toml", "setup.toml")

_SPEEDS = {"in_min": MM_PER_IN / 60, "mm_min": 1 / 60}  # to mm/s
_FACTORS = {f"{speed}_{unit}": factor for speed in ("feed", "top_speed", "rapid") for unit, factor in _SPEEDS.items()}
_LENGTHS = (
    *("x", "y", "floor", "thickness", "kerf", "diameter", "corner_tolerance", "slat_pitch", "punch_width"),
    *("pierce_height", "cut_height", "margin"),
)
ALIASES = {name: f"{name}_mm" for name in _LENGTHS} | {name: f"{name.rsplit('_', 2)[0]}_mm_s" for name in _FACTORS}
"""The built-in name of an entry that may be given another way: x = "52 in" for x_mm = 1320.8."""

# Entries that are no numbers, so don't change where a table's numbers are from.
_WORDS = frozenset(
    {"title", "group", "gauge", "cautions", "not_cut_by", "source", "text", "k_by", "groups", "currency", "page"}
)


@cache
def builtin() -> dict[str, Any]:
    """Return the built-in tree as written, not to be changed."""
    files = [read(FOLDER / name) for name in BUILT_IN]
    return {name: entry for file in files for name, entry in file.items()}


def own_over_builtin(own: dict[str, Any]) -> dict[str, Any]:
    """Return the built-in tree with the shop's own over it, under the built-in names and units.

    Raises:
        OverflowError: a number is too long to be turned into another unit.
        RecursionError: the tables are too deep.
    """
    return _merged(builtin(), _with_units(_signed(own)))


def _merged(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """Return `base` with `own` over it, tables key by key and everything else whole; sign what changed."""
    tree = dict(base)
    for key, value in own.items():
        below = base.get(key)
        both = isinstance(below, dict) and isinstance(value, dict)
        tree[key] = _merged(as_table(below), value) if both else value
    if "source" in base:
        tree["source"] = _mixed_source(base, own)
    if "sources" in base:
        tree["sources"] = as_table(tree["sources"]) | _sources_of(base, own) | as_table(own.get("sources"))
    return tree


def _sources_of(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, object]:
    """Return the source of each entry of a shop's own table, where each number has its own."""
    return {key: own.get("source", OWN) for key in own if key in base and key != "sources"}


def _mixed_source(base: Mapping[str, Any], own: Mapping[str, Any]) -> object:
    """Return the source of a table of which some numbers are the shop's own."""
    numbers = {key for key, value in base.items() if key not in _WORDS and not isinstance(value, dict)}
    source = own.get("source", OWN if numbers & own.keys() else base["source"])
    mixed = numbers & own.keys() and numbers - own.keys()
    return f"{source}{REST}{base['source']}" if mixed else source


def _through(value: object, turn: Callable[[dict[str, Any]], dict[str, Any]]) -> object:
    """Return `value` with each table in it turned; lists are walked."""
    if isinstance(value, list):
        return [_through(item, turn) for item in value]
    return turn(value) if isinstance(value, dict) else value


def _signed(table: dict[str, Any]) -> dict[str, Any]:
    """Return the shop's own table with its own name before each source it gives."""
    own: dict[str, Any] = {"source": f"{OWN}: {table['source']}"} if isinstance(table.get("source"), str) else {}
    if isinstance(each := table.get("sources"), dict):
        own["sources"] = {key: f"{OWN}: {said}" if isinstance(said, str) else said for key, said in each.items()}
    return {key: _through(value, _signed) for key, value in table.items()} | own


def _with_units(table: dict[str, Any]) -> dict[str, Any]:
    """Return the table with lengths given as shop text, and speeds in other units, under the built-in names.

    An entry given both ways keeps both names, so that the second is refused as an unknown one.
    """
    out: dict[str, Any] = {}
    for key, value in table.items():
        name = ALIASES.get(key, key)
        if name in out or (name != key and name in table) or isinstance(value, dict):
            name = key
        number = isinstance(value, int | float) and not isinstance(value, bool)
        factor = _FACTORS[key] if name != key and key in _FACTORS and number else None
        out[name] = _through(value, _with_units) if factor is None else value * factor
    return out


def as_table(value: object) -> dict[str, Any]:
    """Return `value` if it is a table, else an empty one."""
    return value if isinstance(value, dict) else {}
