"""Holding: pieces that would drop out are tied by bridges, as few and as little ugly as can be."""

from parts.artwork.holding.held import held
from parts.artwork.holding.records import Bridge, Dropped, Frame, Held, Style, Ties

__all__ = ["Bridge", "Dropped", "Frame", "Held", "Style", "Ties", "held"]
