"""Someone's own DXF or SVG -> a profile, with what was healed and what can't be."""

from parts.read.heal.mend import Mend
from parts.read.limits import LARGEST_BYTES, shown
from parts.read.reading import ReadDrawing, read_drawing

__all__ = ["LARGEST_BYTES", "Mend", "ReadDrawing", "read_drawing", "shown"]
