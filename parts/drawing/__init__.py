"""The dimensioned drawing of a part, laid out once on paper for every format that shows it."""

from parts.drawing.layout import STANDARD_SCALES, Layout, largest_bare, lay_out, lay_out_to_standard

__all__ = ["STANDARD_SCALES", "Layout", "largest_bare", "lay_out", "lay_out_to_standard"]
