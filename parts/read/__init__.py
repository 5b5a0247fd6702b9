"""Someone's own DXF or SVG -> a profile, with what was healed and what can't be."""

from parts.read.reading import Reading, read_drawing

__all__ = ["Reading", "read_drawing"]
