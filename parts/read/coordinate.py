"""A coordinate as a file writes it, within what can be a drawing; and text of a file whose encoding isn't stated."""

import math

from parts.errors import Unreadable
from parts.read.limits import FARTHEST

_SHOWN = 20
"""Characters of it that a refusal shows."""


def coordinate(text: str | bytes, what: str) -> float:
    """Return the number that a text states; a refusal calls it `what`.

    Raises:
        Unreadable: if it is none, or lies beyond any drawing.
    """
    try:
        if (b"_" in text) if isinstance(text, bytes) else ("_" in text or not text.isascii()):
            raise ValueError  # Python's float takes both; of bytes it takes no other digits than 0 to 9
        value = float(text)
    except ValueError:
        raise Unreadable(f"{what} should be a number and is {plain(text)[:_SHOWN]!r}") from None
    if not math.isfinite(value) or abs(value) > FARTHEST:
        raise Unreadable(f"{what} is {plain(text)[:_SHOWN]}, which is no place on a drawing")
    return value


def plain(text: str | bytes) -> str:
    """Return text as it is, bytes without blanks around them decoded: UTF-8, else Windows-1252."""
    if isinstance(text, str):
        return text
    try:
        return text.strip().decode("utf-8")
    except UnicodeDecodeError:
        return text.strip().decode("cp1252", "replace")
