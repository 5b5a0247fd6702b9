"""Someone's own DXF or SVG -> a profile, with what was healed and what can't be."""

from parts.read.account import NO_ACCOUNT, Account, LayerRow, NothingToCut, OutlineRow, said
from parts.read.affine import IDENTITY, Affine
from parts.read.asked import STROKES, More, StrokesCut
from parts.read.heal.mend import Mend
from parts.read.layers import ROLES, Role
from parts.read.limits import LARGEST_BYTES, shown
from parts.read.reading import ReadDrawing, read_drawing

__all__ = [
    "IDENTITY", "LARGEST_BYTES", "NO_ACCOUNT", "ROLES",
    "STROKES", "Account", "Affine", "LayerRow", "Mend", "More", "NothingToCut",
    "OutlineRow", "ReadDrawing", "Role", "StrokesCut", "read_drawing", "said", "shown",
]  # fmt: skip
