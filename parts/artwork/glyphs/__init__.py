"""Letters as outlines: faces, the shaping of text, lines set straight or along an arc, and what they fill."""

from parts.artwork.face_table import OWN, face_table, words
from parts.artwork.glyphs.container import LARGEST_BYTES
from parts.artwork.glyphs.faces import Face, face, is_there, opened, own_title, who_has
from parts.artwork.glyphs.layout import Align, Inner, Layout, Text, laid_out
from parts.artwork.glyphs.lettered import Lettered, lettered, rough_letters
from parts.artwork.glyphs.outlines import path_contours
from parts.artwork.glyphs.own import OwnFont, heavy, is_own, lent
from parts.artwork.glyphs.shaping import NEW_LINE, lines_of, missing
from parts.artwork.glyphs.traits import traits

__all__ = [
    "LARGEST_BYTES",
    "NEW_LINE",
    "OWN",
    "Align",
    "Face",
    "Inner",
    "Layout",
    "Lettered",
    "OwnFont",
    "Text",
    "face",
    "face_table",
    "heavy",
    "is_own",
    "is_there",
    "laid_out",
    "lent",
    "lettered",
    "lines_of",
    "missing",
    "opened",
    "own_title",
    "path_contours",
    "rough_letters",
    "traits",
    "who_has",
    "words",
]
