"""A job's content as JSON text and back: what a store and a job's file hold."""

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any, TypeAlias, cast

from parts.errors import Unreadable
from parts.store.content import TURNS, Content, Kept, Line

LONGEST_VALUE = 2_000
MOST_VALUES = 400
Row: TypeAlias = Mapping[str, Any]


def written(content: Content) -> str:
    """Return a content as JSON text."""
    return json.dumps(as_rows(content), ensure_ascii=False)


def as_rows(content: Content) -> dict[str, Any]:
    """Return a content as JSON's objects."""
    return {
        "name": content.name,
        "reference": content.reference,
        "archived": content.is_archived,
        "lines": [
            {
                "number": line.number,
                **kept_rows(line.kept),
                "quantity": line.quantity,
                "name": line.name,
                "turns": line.turns,
                "mirror": line.mirror,
            }
            for line in content.lines
        ],
    }


def kept_rows(kept: Kept) -> dict[str, Any]:
    """Return a part as JSON's objects; what it hasn't is left out."""
    of_drawing = {"drawing": kept.drawing, "layers": list(kept.layers), "outlines": list(kept.outlines)}
    return {
        "part": kept.part,
        "values": dict(kept.values),
        **{name: value for name, value in of_drawing.items() if value},
    }


def read(text: str) -> Content:
    """Return the content that a text holds.

    Raises:
        Unreadable: it holds none; the sentence names the entry and what is accepted.
    """
    return content_of(parsed(text))


def parsed(text: str | bytes) -> Any:  # noqa: ANN401 - whatever a text holds
    """Return what a JSON text holds.

    Raises:
        Unreadable: it is none, or nested more than anything of a job.
    """
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as error:
        raise Unreadable("It holds no JSON, or is damaged.") from error


def content_of(row: object) -> Content:
    """Return the content that JSON's objects say.

    Raises:
        Unreadable: as by `read`.
    """
    job = _object(row, "job")
    lines = tuple(_lines(_of(job, "lines", list, "job"), "job.lines"))
    if len({line.number for line in lines}) < len(lines):
        raise Unreadable("job.lines: two lines have one number.")
    return Content(
        _text(job, "name", "job"),
        _text(job, "reference", "job", ""),
        lines,
        _of(job, "archived", bool, "job", False),
    )


def kept_of(row: object, at: str) -> Kept:
    """Return the part that JSON's objects say, which stand at a place of the file.

    Raises:
        Unreadable: as by `read`.
    """
    part = _object(row, at)
    values = _of(part, "values", dict, at, {})
    if len(values) > MOST_VALUES:
        raise Unreadable(f"{at}.values: are {len(values):,}; a part may have {MOST_VALUES}.")
    each = {name: _text(values, name, f"{at}.values") for name in values}
    layers, outlines = (tuple(_texts(_of(part, name, list, at, []), f"{at}.{name}")) for name in ("layers", "outlines"))
    return Kept(_text(part, "part", at), tuple(each.items()), _text(part, "drawing", at, ""), layers, outlines)


def _lines(rows: list[Any], at: str) -> Iterator[Line]:
    for i, each in enumerate(rows, start=1):
        here = f"{at}[{i}]"
        row = _object(each, here)
        turns = _text(row, "turns", here, "quarter")
        if turns not in TURNS:
            raise Unreadable(f"{here}.turns: {turns[:40]!r} must be one of {', '.join(TURNS)}.")
        number, quantity = (_of(row, name, int, here, 1) for name in ("number", "quantity"))
        if not 1 <= number <= 10**9:
            raise Unreadable(f"{here}.number: {number} is no number of a line: they count from 1.")
        name, mirror = _text(row, "name", here, ""), _of(row, "mirror", bool, here, False)
        yield Line(number, kept_of(row, here), quantity, name, turns, mirror)


def _texts(given: list[Any], at: str) -> Iterator[str]:
    for i, text in enumerate(given, start=1):
        yield _text({"text": text}, "text", f"{at}[{i}]")


_WORDS: Mapping[type, str] = {
    str: "text",
    int: "a whole number",
    bool: "true or false",
    list: "a list",
    dict: "an object",
}
_NEEDED = object()


def _object(row: object, at: str) -> Row:
    return cast(Row, _of({at: row}, at, dict, ""))


def _of(row: Row, name: str, kind: Callable[..., Any], at: str, otherwise: Any = _NEEDED) -> Any:  # noqa: ANN401
    """The entry of a name, where it is what it should be."""
    value = row.get(name, otherwise)
    where = f"{at}.{name}" if at else name
    if value is _NEEDED:
        raise Unreadable(f"{where}: isn't there; it has to be {_WORDS[cast(type, kind)]}.")
    if type(value) is not kind:  # true is no whole number here
        raise Unreadable(f"{where}: must be {_WORDS[cast(type, kind)]}.")
    return value


def _text(row: Row, name: str, at: str, otherwise: Any = _NEEDED) -> str:  # noqa: ANN401
    text = cast(str, _of(row, name, str, at, otherwise))
    if len(text) > LONGEST_VALUE:
        raise Unreadable(f"{at}.{name}: is {len(text):,} characters long; it may have {LONGEST_VALUE:,}.")
    if "\x00" in text or any("\ud800" <= sign <= "\udfff" for sign in text):
        raise Unreadable(f"{at}.{name}: has a sign in it that no text has.")
    return text
