"""What is drawn for its looks or to be read: lettering, tapered slots, leaves."""

from parts.artwork.arrow import arrow, head
from parts.artwork.biarc import Knot, biarc, closed
from parts.artwork.face_table import OWN, words
from parts.artwork.label import Label, numeral_width, scribe_all
from parts.artwork.lettering import characters, scribed, text_width
from parts.artwork.metal import (
    FLAT_MM,
    MOST_TURN,
    Metal,
    curve_points,
    disc,
    metal_from,
    metal_of,
    one_wide,
    pieces,
    quarter_chords,
    segment_points,
    without_specks,
)
from parts.artwork.points import Spot, both_sides, curve, slit
from parts.artwork.rough import coarse, rough_loops, rounded_roughly

__all__ = [
    "FLAT_MM",
    "MOST_TURN",
    "OWN",
    "Knot",
    "Label",
    "Metal",
    "Spot",
    "arrow",
    "biarc",
    "both_sides",
    "characters",
    "closed",
    "coarse",
    "curve",
    "curve_points",
    "disc",
    "head",
    "metal_from",
    "metal_of",
    "numeral_width",
    "one_wide",
    "pieces",
    "quarter_chords",
    "rough_loops",
    "rounded_roughly",
    "scribe_all",
    "scribed",
    "segment_points",
    "slit",
    "text_width",
    "without_specks",
    "words",
]
