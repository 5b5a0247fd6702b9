"""Symbols by name or by word: filled signs of an open set, without marks of makers."""

from parts.artwork.symbols.find import called, named, symbol_names
from parts.artwork.symbols.shape import symbol

__all__ = ["called", "named", "symbol", "symbol_names"]
