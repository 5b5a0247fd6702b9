"""The window that a drawing is laid out for: its size and its level, as the browser's cookie says, or what is usual."""

import re

from flask import request

from parts.drawing import DESK, PHONE, Window
from parts.drawing.screen import LEAST, MOST

COOKIE = "drawing"
"""Set by the page's script: `970x690`, with `-all` where every dimension is wanted."""
_SAID = re.compile(r"(\d{2,5})x(\d{2,5})(-all)?")


def window() -> Window:
    """Return the window of the browser that asks; a size that no screen has is not believed."""
    said = _SAID.fullmatch(request.cookies.get(COOKIE, ""))
    if said:
        width, height = float(said[1]), float(said[2])
        if LEAST <= width <= MOST and LEAST <= height <= MOST:
            return Window(width, height, bool(said[3]))
    usual = PHONE if "Mobi" in request.headers.get("User-Agent", "") else DESK
    return Window(usual.width, usual.height, bool(said and said[3]))
