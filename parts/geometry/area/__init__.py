"""What areas loops fill and pens paint, and those areas united, intersected and taken from one another."""

from parts.geometry.area.chords import CHORD_MM, Region
from parts.geometry.area.overlay import (
    FillRule,
    clipped,
    common,
    covers,
    filled,
    filled_rings,
    is_simple,
    united,
    winding_numbers,
    without,
)
from parts.geometry.area.pen import Cap, Join, Pen, painted

__all__ = [
    "CHORD_MM", "Cap", "FillRule", "Join", "Pen", "Region", "clipped", "common", "covers", "filled",
    "filled_rings", "is_simple", "painted", "united", "winding_numbers", "without",
]  # fmt: skip
