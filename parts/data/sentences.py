"""One sentence on one thing that is wrong with a data file: the entry, its value, what is accepted."""

from collections.abc import Mapping
from types import MappingProxyType

from pydantic_core import ErrorDetails

_ACCEPTED = {
    "greater_than": "it must be over {gt:g}{unit}",
    "greater_than_equal": "it must be at least {ge:g}{unit}",
    "less_than": "it must be less than {lt:g}{unit}",
    "less_than_equal": "it must be at most {le:g}{unit}",
    "finite_number": "it must be a finite number", "float_type": "it must be a number",
    "int_type": "it must be a whole number", "int_parsing": "it must be a whole number",
    "int_from_float": "it must be a whole number",
    "string_type": "it must be text in quotes", "string_pattern_mismatch": "it must not be empty",
    "string_too_long": "it must be of {max_length} character", "string_too_short": "it must not be empty",
    "tuple_type": "it must be a list in square brackets", "dict_type": "it must be a table",
    "literal_error": "accepted: {expected}", "too_short": "it must have at least {min_length} row",
    "too_long": "it must have {max_length} numbers", "value_error": "{error}",
}  # fmt: skip
_UNITS = {"_mm": " mm", "_in": " in", "_mm_s": " mm/s", "_mm_s2": " mm/s2", "_s": " s", "_kg_per_m3": " kg/m3"}
_LONGEST_ECHO = 60
_KEY = "[key]"  # what pydantic ends a path with where the name of an entry is wrong, not its value
_NONE: Mapping[str, str] = MappingProxyType({})


def said(fault: ErrorDetails, tree: object, other_names: Mapping[str, str] = _NONE) -> str:
    """Return the sentence on a fault that a model found, without its full stop.

    Args:
        fault: as pydantic tells it.
        tree: the plain tables of the file.
        other_names: the names of entries that may be given another way, as `Table.other_names`.
    """
    loc = tuple(key for key in fault["loc"] if key != _KEY)
    entry, value = _as_written(loc, tree, other_names)
    if loc != fault["loc"]:
        value = loc[-1]
    if fault["type"] == "missing":
        return f"{entry} is missing; it must be given"
    accepted = _ACCEPTED.get(fault["type"], fault["msg"]).format(unit=_unit(loc), **fault.get("ctx", {}))
    if isinstance(fault["input"], dict):
        return f"{entry or 'the file'} {accepted}".rstrip(".")
    echo = repr(fault["input"] if value is None else value)
    return f"{entry} is {echo[:_LONGEST_ECHO]}{'...' * (len(echo) > _LONGEST_ECHO)}; {accepted}".rstrip(".")


def _unit(loc: tuple[int | str, ...]) -> str:
    """The unit of an entry by the end of its name; what goes by a number has its table's: `thickness_in.16`, inches."""
    name = next((key for key in reversed(loc) if isinstance(key, str) and not key.isdigit()), "")
    return next((unit for end, unit in _UNITS.items() if name.endswith(end)), "")


def _as_written(loc: tuple[int | str, ...], tree: object, other_names: Mapping[str, str]) -> tuple[str, object]:
    """Return an entry's name and value as the file has them; None for a value that isn't in it."""
    words: list[str] = []
    for key in loc:
        if isinstance(key, int):
            tree = tree[key] if isinstance(tree, list) and key < len(tree) else None
            words.append(f"row {key + 1}" if words[-1] == "rows" else f"number {key + 1}")
            continue
        table = tree if isinstance(tree, dict) else {}
        name = next((k for k in table if k == key or other_names.get(k) == key), key)
        tree = table.get(name)
        words.append(name)
    entry = ".".join(words).replace("rows.row ", "row ")
    return entry.replace(".row ", " row ").replace(".number ", " number "), tree
