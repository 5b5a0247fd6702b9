"""Someone's own DXF or SVG -> a profile, with what was healed and what can't be."""

from parts.read.account import Account, LayerRow, NothingToCut, OutlineRow, said
from parts.read.layers import ROLES, Role
from parts.read.limits import LARGEST_BYTES, shown
from parts.read.reading import Choices, ReadDrawing, read_drawing

__all__ = [
    "LARGEST_BYTES", "ROLES", "Account", "Choices", "LayerRow", "NothingToCut", "OutlineRow", "ReadDrawing", "Role",
    "read_drawing", "said", "shown",
]  # fmt: skip
