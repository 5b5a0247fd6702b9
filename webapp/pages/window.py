"""The window that a drawing is laid out for: its size and its level, as the browser's cookie says, or what is usual."""

import re
from dataclasses import replace

from flask import request

from parts.drawing import DESK, PHONE, Kept, Window

KEPT = "Platewright-Kept"
"""The header that says how the drawing that is shown was laid out, and the sections, while someone types."""
COOKIE = "drawing"
"""Set by the page's script: `970x690`, with `-all` where every dimension is wanted."""
_SAID = re.compile(r"([0-9]{2,5})x([0-9]{2,5})(-all)?")


def kept() -> tuple[Kept | None, ...]:
    """Return how each drawing of the browser that asks is laid out; None for one that it says nothing usable of."""
    return tuple(map(Kept.read, request.headers.get(KEPT, "").split(",")))


def window() -> Window:
    """Return the window of the browser that asks; a size that no screen has is not believed."""
    usual = PHONE if "Mobi" in request.headers.get("User-Agent", "") else DESK
    said = _SAID.fullmatch(request.cookies.get(COOKIE, ""))
    if not said:
        return usual
    asked = Window(float(said[1]), float(said[2]), bool(said[3]))
    return asked if asked.is_likely else replace(usual, every=asked.every)
