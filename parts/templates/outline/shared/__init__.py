"""What outlines found by a name share."""

from parts.templates.outline.shared.figure import CAUTIONS, FIGURE, Figure, drawn, sketched

__all__ = ["CAUTIONS", "FIGURE", "Figure", "drawn", "sketched"]
