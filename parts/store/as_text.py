"""A job's content as JSON text and back: what a store and a job's file hold."""

import json
from collections.abc import Iterator
from typing import Any

from parts.errors import Unreadable
from parts.store.content import TURNS, Content, Kept, Line
from parts.store.entries import entry, object_at, text_at
from parts.store.layout_text import layout_of, layout_rows

MOST_VALUES = 400


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
        **({"layout": layout_rows(content.layout)} if content.layout else {}),
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
    job = object_at(row, "job")
    lines = tuple(_lines(entry(job, "lines", list, "job"), "job.lines"))
    if len({line.number for line in lines}) < len(lines):
        raise Unreadable("job.lines: two lines have one number.")
    return Content(
        text_at(job, "name", "job"),
        text_at(job, "reference", "job", ""),
        lines,
        entry(job, "archived", bool, "job", False),
        layout_of(job["layout"], "job.layout") if "layout" in job else None,
    )


def kept_of(row: object, at: str) -> Kept:
    """Return the part that JSON's objects say, which stand at a place of the file.

    Raises:
        Unreadable: as by `read`.
    """
    part = object_at(row, at)
    values = entry(part, "values", dict, at, {})
    if len(values) > MOST_VALUES:
        raise Unreadable(f"{at}.values: are {len(values):,}; a part may have {MOST_VALUES}.")
    each = {name: text_at(values, name, f"{at}.values") for name in values}
    layers, outlines = (
        tuple(_texts(entry(part, name, list, at, []), f"{at}.{name}")) for name in ("layers", "outlines")
    )
    return Kept(text_at(part, "part", at), tuple(each.items()), text_at(part, "drawing", at, ""), layers, outlines)


def _lines(rows: list[Any], at: str) -> Iterator[Line]:
    for i, each in enumerate(rows, start=1):
        here = f"{at}[{i}]"
        row = object_at(each, here)
        turns = text_at(row, "turns", here, "quarter")
        if turns not in TURNS:
            raise Unreadable(f"{here}.turns: {turns[:40]!r} must be one of {', '.join(TURNS)}.")
        number, quantity = (entry(row, name, int, here, 1) for name in ("number", "quantity"))
        if not 1 <= number <= 10**9:
            raise Unreadable(f"{here}.number: {number} is no number of a line: they count from 1.")
        name, mirror = text_at(row, "name", here, ""), entry(row, "mirror", bool, here, False)
        yield Line(number, kept_of(row, here), quantity, name, turns, mirror)


def _texts(given: list[Any], at: str) -> Iterator[str]:
    for i, text in enumerate(given, start=1):
        yield text_at({"text": text}, "text", f"{at}[{i}]")
