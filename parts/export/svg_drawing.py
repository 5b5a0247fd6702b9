"""SVG of the dimensioned drawing, as a file: what a page shows, in black, with what draws it again.

It is laid out on paper so wide that its lettering prints at 3.5 mm (ISO 3098-1). What is cut is in the plain SVG.
"""

import json
import re
from html import escape

from parts.drawing import Drawing, lay_out
from parts.export.about import facts, parameter_texts
from parts.export.drawing_svg import HEIGHT, WIDTH, described, sheet_groups
from parts.record import Record
from parts.units import joined_unit

_LETTERING_MM = 3.5
"""Size of lettering on the print."""


def write(record: Record) -> str:
    """Return the drawing as SVG text."""
    drawing = lay_out(record, WIDTH, HEIGHT)
    per = _LETTERING_MM / drawing.text_size
    about = json.dumps({**facts(record), "shows": "drawing", "parameters": parameter_texts(record)})
    return "\n".join([
        '<?xml version="1.0" encoding="UTF-8"?>',
        _head(drawing, per),
        f"<title>{escape(record.template.title, quote=False)}</title>",
        f"<metadata>{escape(about, quote=False)}</metadata>",
        f"<desc>{escape(described(record), quote=False)}</desc>",
        *(re.sub("currentColor", "#000000", group) for group in sheet_groups(drawing)),
        "</svg>\n",
    ])  # fmt: skip


def _head(drawing: Drawing, per: float) -> str:
    wide, high = drawing.width, drawing.height
    size = [joined_unit(f"{side * per:.3f}", "mm") for side in (wide, high)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{size[0]}" height="{size[1]}" '
        f'viewBox="0 0 {wide:.4f} {high:.4f}" fill="none" stroke="#000000" stroke-linecap="butt" '
        'stroke-linejoin="round" font-family="sans-serif">'
    )
