"""Someone's own DXF or SVG -> a profile, with what was healed and what can't be."""

from parts.read.account import NO_ACCOUNT, Account, LayerRow, NothingToCut, OutlineRow, said
from parts.read.affine import IDENTITY, Affine
from parts.read.as_drawn import AsDrawn, as_drawn
from parts.read.asked import STROKES, More, StrokesCut
from parts.read.file_kind import kind_of
from parts.read.heal.mend import Mend
from parts.read.layers import ROLES, Role
from parts.read.limits import LARGEST_BYTES, shown
from parts.read.reading import ReadDrawing, read_drawing
from parts.read.seen import read_painted
from parts.read.svg.painted import Painted

__all__ = [
    "IDENTITY", "LARGEST_BYTES", "NO_ACCOUNT", "ROLES",
    "STROKES", "Account", "Affine", "AsDrawn", "LayerRow", "Mend", "More", "NothingToCut",
    "OutlineRow", "Painted", "ReadDrawing", "Role", "StrokesCut", "as_drawn", "kind_of", "read_drawing",
    "read_painted", "said", "shown",
]  # fmt: skip
