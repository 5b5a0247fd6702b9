"""What is drawn for its looks or to be read: lettering, tapered slots, leaves."""

from parts.artwork.arrow import arrow, head
from parts.artwork.biarc import Knot, closed, notch, tip
from parts.artwork.label import Label, numeral_width, scribe_all
from parts.artwork.lettering import characters, scribed, text_width

__all__ = [
    "Knot",
    "Label",
    "arrow",
    "characters",
    "closed",
    "head",
    "notch",
    "numeral_width",
    "scribe_all",
    "scribed",
    "text_width",
    "tip",
]
