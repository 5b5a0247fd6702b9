"""Someone's own drawing as a part, and the rules over it in bounded time and memory."""

from parts.checking.asked import UNITS, read_values
from parts.checking.checked import FORMATS, Checked, check, template
from parts.checking.chosen import LAYER, OUTLINE
from parts.checking.limited import NO_NUMBERS, found_within
from parts.checking.of_svg import DPI, STROKES_CUT
from parts.checking.picture import picture
from parts.checking.tolerance import TOLERANCE

__all__ = [
    "DPI",
    "FORMATS",
    "LAYER",
    "NO_NUMBERS",
    "OUTLINE",
    "STROKES_CUT",
    "TOLERANCE",
    "UNITS",
    "Checked",
    "check",
    "found_within",
    "picture",
    "read_values",
    "template",
]
