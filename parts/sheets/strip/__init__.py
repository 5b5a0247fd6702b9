"""Strips: the sheets of a layout as one strip, made as short as can be by a solver, where that is there."""

from parts.sheets.strip.asking import is_there
from parts.sheets.strip.shorter import shorter

__all__ = ["is_there", "shorter"]
