"""The files: one module a format, each from a record alone; the table of formats, and the drawing of a page."""

from parts.export.about import bend_rows, expected_said
from parts.export.drawing_svg import thumbnail
from parts.export.drawing_svg import write as page_drawing
from parts.export.formats import FORMATS, Format
from parts.export.json_text import content as json_content
from parts.export.json_text import segments as json_segments
from parts.export.json_text import text as json_of
from parts.export.measuring_sheet import MeasuringSheet

__all__ = [
    "FORMATS",
    "Format",
    "MeasuringSheet",
    "bend_rows",
    "expected_said",
    "json_content",
    "json_of",
    "json_segments",
    "page_drawing",
    "thumbnail",
]
