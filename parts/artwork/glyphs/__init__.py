"""Letters as outlines: faces, the shaping of text, lines set straight or along an arc, and what they fill."""

from parts.artwork.glyphs.faces import Face, face, face_table, opened, who_has, words
from parts.artwork.glyphs.layout import Align, Layout, Text, laid_out
from parts.artwork.glyphs.lettered import Lettered, lettered
from parts.artwork.glyphs.shaping import NEW_LINE, lines_of, missing

__all__ = [
    "NEW_LINE",
    "Align",
    "Face",
    "Layout",
    "Lettered",
    "Text",
    "face",
    "face_table",
    "laid_out",
    "lettered",
    "lines_of",
    "missing",
    "opened",
    "who_has",
    "words",
]
