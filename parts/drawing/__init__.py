"""The dimensioned drawing of a part, laid out once on paper for every format that shows it."""

from parts.drawing.layout import STANDARD_SCALES, Layout, largest_bare, lay_out, lay_out_to_standard
from parts.drawing.overlays import OVERLAYS, STEPS, overlaid
from parts.drawing.pens import DASHES, MARK_WEIGHT, WEIGHTS
from parts.drawing.primitives import Arrow, Dot, Drawing, Group, Item, NumberedMark, Path, Pen, Polygon, Text

__all__ = [
    "DASHES",
    "MARK_WEIGHT",
    "OVERLAYS",
    "STANDARD_SCALES",
    "STEPS",
    "WEIGHTS",
    "Arrow",
    "Dot",
    "Drawing",
    "Group",
    "Item",
    "Layout",
    "NumberedMark",
    "Path",
    "Pen",
    "Polygon",
    "Text",
    "largest_bare",
    "lay_out",
    "lay_out_to_standard",
    "overlaid",
]
