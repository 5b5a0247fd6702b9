"""Entries of JSON that anyone may have written, each of its kind and within its bounds."""

from collections.abc import Callable, Mapping
from typing import Any, TypeAlias, cast

from parts.errors import Unreadable

LONGEST_VALUE = 2_000
Row: TypeAlias = Mapping[str, Any]
_WORDS: Mapping[type, str] = {
    str: "text",
    int: "a whole number",
    bool: "true or false",
    list: "a list",
    dict: "an object",
}
_NEEDED = object()


def object_at(row: object, at: str) -> Row:
    """Return JSON's object at a place of a file.

    Raises:
        Unreadable: it is none.
    """
    return cast(Row, entry({at: row}, at, dict, ""))


def entry(row: Row, name: str, kind: Callable[..., Any], at: str, otherwise: Any = _NEEDED) -> Any:  # noqa: ANN401
    """Return the entry of a name, where it is what it should be.

    Raises:
        Unreadable: it isn't, or isn't there.
    """
    value = row.get(name, otherwise)
    where = f"{at}.{name}" if at else name
    if value is _NEEDED:
        raise Unreadable(f"{where}: isn't there; it has to be {_WORDS[cast(type, kind)]}.")
    if type(value) is not kind:  # true is no whole number here
        raise Unreadable(f"{where}: must be {_WORDS[cast(type, kind)]}.")
    return value


def text_at(row: Row, name: str, at: str, otherwise: Any = _NEEDED) -> str:  # noqa: ANN401
    """Return a text; what is raised as of `entry`."""
    text = cast(str, entry(row, name, str, at, otherwise))
    if len(text) > LONGEST_VALUE:
        raise Unreadable(f"{at}.{name}: is {len(text):,} characters long; it may have {LONGEST_VALUE:,}.")
    if "\x00" in text or any("\ud800" <= sign <= "\udfff" for sign in text):
        raise Unreadable(f"{at}.{name}: has a sign in it that no text has.")
    return text
