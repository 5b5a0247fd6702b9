"""Faces: the fonts that letters are cut from, as they are shipped or as someone brings their own.

face     one weight of a font: one or several files, of which the first that has a character draws it
file     a font as shaping and outlines need it: sfnt in memory, whatever it was packed in
"""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any

from parts.artwork.face_table import face_table
from parts.data import FOLDER
from parts.errors import DataError

if TYPE_CHECKING:
    import uharfbuzz

_FONTS = FOLDER / "fonts"


@dataclass(frozen=True, eq=False)
class FontFile:
    """One file of a face, open; `cap` units of its grid are the height of its capitals."""

    font: "uharfbuzz.Font"
    read: Any = field(repr=False)  # fontTools' font, which has no types; None where HarfBuzz draws
    characters: frozenset[int]
    cap: float
    has_outlines: bool

    @cached_property
    def glyphs(self) -> Any:  # noqa: ANN401 - fontTools has no types
        """The outlines of its glyphs, by their names: read when the first is drawn; None where HarfBuzz draws."""
        return self.read.getGlyphSet() if self.read else None

    def draw(self, glyph: int, pen: Any) -> None:  # noqa: ANN401 - fontTools has no types
        """Draw a glyph with a pen."""
        self.glyphs[self.font.glyph_to_string(glyph)].draw(pen)


@dataclass(frozen=True, eq=False)
class Face:
    """An open face, asked for by its `word`; one of someone's own has a `title`, and what is said `about` it."""

    word: str
    files: tuple[FontFile, ...]
    title: str = ""
    about: str = ""

    @property
    def said(self) -> str:
        """What it is called in a sentence."""
        return f"the font {self.title}" if self.title else f"the face {self.word}"

    @property
    def cap(self) -> float:
        """The height of its capitals in units of its first file."""
        return self.files[0].cap

    def file_of(self, character: str) -> FontFile | None:
        """Return the first file that has a character, if any has."""
        return next((file for file in self.files if ord(character) in file.characters), None)


_lent: ContextVar[Face | None] = ContextVar("lent", default=None)


@contextmanager
def lend(own: Face) -> Iterator[None]:
    """Have a face of someone's own among the others within, by its word."""
    token = _lent.set(own)
    try:
        yield
    finally:
        _lent.reset(token)


def face(word: str) -> Face:
    """Return one of the faces that come with Platewright, or the one that is lent, open.

    Raises:
        DataError: its data or a file of it is unusable.
        KeyError: there is none of this word, or it isn't lent.
    """
    own = _lent.get()
    return own if own and own.word == word else _shipped_face(word)


def own_title(word: str) -> str:
    """Return what the face that is lent is called; nothing where the word is another's."""
    own = _lent.get()
    return own.title if own and own.word == word else ""


def is_there(word: str) -> bool:
    """Tell whether a face can be asked for by a word: one that comes with Platewright, or the one that is lent."""
    own = _lent.get()
    return word in face_table() or bool(own and own.word == word)


@cache
def _shipped_face(word: str) -> Face:
    known = face_table()
    return Face(word, tuple(_shipped(name) for name in known[word].files))


def who_has(character: str) -> tuple[str, ...]:
    """Return the words of the shipped faces that have a character."""
    return tuple(word for word in face_table() if face(word).file_of(character))


def _shipped(name: str) -> FontFile:
    try:
        return opened((_FONTS / name).read_bytes())
    except (OSError, ValueError) as error:
        raise DataError(f"The font {name} can't be used: {error}.") from error


def opened(data: bytes) -> FontFile:
    """Return a font file open, from the bytes of a TTF, an OTF or a WOFF of one font.

    What it is packed in is undone first: shaping finds no glyphs in a WOFF, and doesn't say so.

    Raises:
        ValueError: it can't be read as a font; the sentence has no full stop.
    """
    import uharfbuzz  # noqa: PLC0415 - only what draws letters needs it
    from fontTools.ttLib import TTFont, TTLibError  # noqa: PLC0415 - as above

    try:
        read = TTFont(io.BytesIO(data), lazy=False)
        read.flavor, packed = None, io.BytesIO()
        read.save(packed, reorderTables=None)
        font = uharfbuzz.Font(uharfbuzz.Face(packed.getvalue()))
        characters = frozenset(read.getBestCmap() or {})
        outlines = "glyf" in read or "CFF " in read
        return FontFile(font, read, characters, _cap(read, font), outlines)
    except TTLibError as error:
        raise ValueError(f"it is no font that can be read ({error})") from error


def _cap(read: Any, font: "uharfbuzz.Font") -> float:  # noqa: ANN401 - fontTools has no types
    """The height of the H as it is drawn, or what the font says of its capitals, or 0.7 em, which is usual."""
    glyph = font.get_nominal_glyph(ord("H"))
    extents = font.get_glyph_extents(glyph) if glyph else None
    said = getattr(read.get("OS/2"), "sCapHeight", 0) or 0
    return float((extents.y_bearing if extents else 0) or said or 0.7 * read["head"].unitsPerEm)
