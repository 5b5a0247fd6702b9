"""Which pairs of boxes, points and segments are near each other, so that exact work is kept to those."""

from parts.geometry.search.boxes import near_pairs
from parts.geometry.search.grid import Floats, Indices
from parts.geometry.search.vicinity import Vicinity

__all__ = ["Floats", "Indices", "Vicinity", "near_pairs"]
