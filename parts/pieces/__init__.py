"""Pieces: what is drawn in several, or belongs to a set, one by one: as a record of its own, and as a list."""

from parts.pieces.alone import alone, values_of
from parts.pieces.listed import Listed, listed

__all__ = ["Listed", "alone", "listed", "values_of"]
