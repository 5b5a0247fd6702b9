"""A job on sheets: laid out, kept with it, changed by hand, and what is left of its sheets; slow to load."""

from parts.laying.drawing_lines import Making
from parts.laying.kept_layout import Shown, as_kept
from parts.laying.moving import Move, pin, put
from parts.laying.off_cuts import as_stock, drawn_as, left_of_sheet, measured
from parts.laying.search import ZIPPED, laid_out, shown, zipped

__all__ = [
    "ZIPPED",
    "Making",
    "Move",
    "Shown",
    "as_kept",
    "as_stock",
    "drawn_as",
    "laid_out",
    "left_of_sheet",
    "measured",
    "pin",
    "put",
    "shown",
    "zipped",
]
