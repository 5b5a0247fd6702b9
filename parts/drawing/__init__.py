"""The dimensioned drawing of a part, laid out once on paper for every format that shows it."""

from parts.drawing.kept import Kept
from parts.drawing.layout import STANDARD_SCALES, Layout, largest_bare, lay_out, lay_out_to_standard
from parts.drawing.overlays import OVERLAYS, STEPS, overlaid
from parts.drawing.pens import DASHES, MARK_WEIGHT, WEIGHTS
from parts.drawing.plumb import hanging
from parts.drawing.primitives import Arrow, Dot, Drawing, Group, Item, NumberedMark, Path, Pen, Polygon, Text
from parts.drawing.screen import DESK, PHONE, Window, lay_out_on_screen

__all__ = [
    "DASHES",
    "DESK",
    "MARK_WEIGHT",
    "OVERLAYS",
    "PHONE",
    "STANDARD_SCALES",
    "STEPS",
    "WEIGHTS",
    "Arrow",
    "Dot",
    "Drawing",
    "Group",
    "Item",
    "Kept",
    "Layout",
    "NumberedMark",
    "Path",
    "Pen",
    "Polygon",
    "Text",
    "Window",
    "hanging",
    "largest_bare",
    "lay_out",
    "lay_out_on_screen",
    "lay_out_to_standard",
    "overlaid",
]
