"""Pictures to metal: a scan, a photograph or drawn artwork, its shapes told from their ground, as polygons."""

from parts.artwork.pictures.drawn_lines import enclosed
from parts.artwork.pictures.levels import BLUR_PX, Grey, coarser, levelled
from parts.artwork.pictures.opening import KINDS, LARGEST_BYTES, Picture, is_picture, opened
from parts.artwork.pictures.paper import SHEETS
from parts.artwork.pictures.photograph import Taken, taken
from parts.artwork.pictures.shapes import MOST_SHAPES, Contours, Shows, TooRich, contours_of, touches
from parts.artwork.pictures.showing import as_png

__all__ = [
    "BLUR_PX",
    "KINDS",
    "LARGEST_BYTES",
    "MOST_SHAPES",
    "SHEETS",
    "Contours",
    "Grey",
    "Picture",
    "Shows",
    "Taken",
    "TooRich",
    "as_png",
    "coarser",
    "contours_of",
    "enclosed",
    "is_picture",
    "levelled",
    "opened",
    "taken",
    "touches",
]
