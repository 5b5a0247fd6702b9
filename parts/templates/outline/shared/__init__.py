"""What outlines found by a name share."""

from parts.templates.outline.shared.drawn import drawn, sketched
from parts.templates.outline.shared.figure import CAUTIONS, Figure
from parts.templates.outline.shared.surround import FIGURE

__all__ = ["CAUTIONS", "FIGURE", "Figure", "drawn", "sketched"]
