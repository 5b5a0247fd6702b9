"""Counting: a number with its noun, and a sentence about so many things, its words agreeing with the number."""

import re

_EITHER = re.compile(r"\[([^][|]*)\|([^][|]*)\]")


def counted(count: int, thing: str, things: str = "") -> str:
    """Return a number with its noun: 1 line, 2 lines."""
    return f"{count:,} {thing if count == 1 else things or thing + 's'}"


def worded(count: int, text: str, things: str = "") -> str:
    """Return a text as said of so many: of each `[is|are]` the word for one or for more, the number for `{n}`.

    `things`, with their number, stand for `{n}` where they are said: they may come from a file.
    """
    return _EITHER.sub(r"\1" if count == 1 else r"\2", text).replace("{n}", things or f"{count:,}")
