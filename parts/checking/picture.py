"""The picture of someone's own drawing: with its findings flagged, or bare where it is too rich for that."""

from parts.checking.limited import NO_NUMBERS
from parts.drawing import Window
from parts.export import page_drawing, thumbnail
from parts.record import Record
from parts.workers import TimeUp, clock, left_s

LONGEST_S = 2.5
"""Of work for the flagged drawing."""
_SPARE_S = 0.6
"""Of the time there is for all, left for the bare one and what goes about it."""
_WIDTH_PX = 800.0


def picture(record: Record, window: Window | None = None) -> tuple[str, bool]:
    """Return the drawing as an `svg` element, and whether it is whole: its flags are left out where they take long.

    Args:
        record: the drawing as a part.
        window: the room it has on a page; None for a picture of any size.
    """
    try:
        with clock(min(LONGEST_S, left_s() - _SPARE_S)):
            return page_drawing(record, window), True
    except (TimeUp, *NO_NUMBERS):
        x0, y0, x1, y1 = record.box
        return thumbnail(record.profile, _WIDTH_PX / max(x1 - x0, y1 - y0)), False
