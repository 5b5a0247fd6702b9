"""A font of someone's own: read within bounds, lent to what is drawn within, and forgotten after.

word     by what the font is asked for while it is lent: `own-` and the first letters of its SHA-256. An address can
         say which font it means by it, and can't carry it
lent     within `lent`, a font can be asked for by its word; past it nothing of it is left

HarfBuzz reads tables and outlines, which holds what a hostile one may cost: how deep glyphs are made of others, how
many points one has, how many steps a charstring or a lookup takes.
"""

import hashlib
import re
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING, Any

from parts.artwork.face_table import OWN
from parts.artwork.glyphs import layout, outlines, shaping, traits
from parts.artwork.glyphs.container import Unfit, sfnt
from parts.artwork.glyphs.faces import Face, FontFile, lend
from parts.artwork.pipeline import forget
from parts.errors import Problem, Refused

if TYPE_CHECKING:
    import uharfbuzz

_LIKELY, _TALLEST = 0.2, 1.6
# A capital is at least and at most so high, in ems: what a font says beyond is no cap height.
_USUAL_CAP = 0.7
_LOOKED_AT = 64
# How many glyphs are looked at for one that has an outline.
_LONGEST_TITLE = 60
_MOST_POINTS = 20_000
# Of all letters of a text; a hundred letters of an ornate face have half as many.
_RESTRICTED, _NO_OUTLINES, _EMBEDDING = 0x0002, 0x0200, 68 - 60  # fsType of OS/2, and where it stands there


@dataclass(frozen=True, eq=False)
class OwnFile(FontFile):
    """A font file whose outlines HarfBuzz draws: its glyphs go by number, whatever they are called."""

    def draw(self, glyph: int, pen: Any) -> None:  # noqa: ANN401 - fontTools has no types
        """Draw a glyph with a pen."""
        self.font.draw_glyph_with_pen(glyph, pen)


@dataclass(frozen=True, eq=False)
class OwnFont:
    """A font of someone's own: by which word it is asked for, what it is called, and what is to be said of it."""

    word: str
    title: str
    face: Face
    notes: tuple[str, ...]


@contextmanager
def lent(data: bytes, name: str) -> Iterator[OwnFont]:
    """Lend a font to whatever is drawn within, by its word; `name` is that of its file.

    Raises:
        Refused: it can't be used; the problem is of the parameter `font`.
    """
    try:
        font = _read(data)
    except Unfit as error:
        raise Refused((Problem("font", name, f"{error}."),)) from None
    try:
        with lend(font.face):
            yield font
    finally:
        _forget_letters()
        forget()


def _forget_letters() -> None:
    """Empty whatever these modules keep of letters."""
    for module in (layout, outlines, shaping, traits):
        for kept in vars(module).values():
            if hasattr(kept, "cache_clear"):
                kept.cache_clear()


def heavy(text: str, face: Face) -> str:
    """Return the first line of a text whose outlines have more points than are drawn; nothing where none has."""
    from fontTools.pens.recordingPen import RecordingPen  # noqa: PLC0415 - only what draws letters needs it

    points = 0
    for line in shaping.lines_of(text):
        for cluster in shaping.shaped(line, face):
            for glyph in cluster.glyphs:
                pen = RecordingPen()
                glyph.file.draw(glyph.number, pen)
                points += sum(len(ends) for _, ends in pen.value)
            if points > _MOST_POINTS:
                return line
    return ""


def is_own(word: str) -> bool:
    """Tell whether a word is that of a font of someone's own."""
    return bool(re.fullmatch(OWN, word))


def _read(data: bytes) -> OwnFont:
    import uharfbuzz  # noqa: PLC0415 - only what draws letters needs it

    made = uharfbuzz.Face(sfnt(data))
    font = uharfbuzz.Font(made)
    characters = frozenset(made.unicodes)
    if not characters or made.glyph_count < 2:
        raise Unfit("says no characters: what it has for each letter can't be found")
    if not _has_outlines(font, characters):
        raise Unfit("has no outlines that can be read: pictures of letters alone, or a broken table")
    word = f"own-{hashlib.sha256(data).hexdigest()[:12]}"
    files = (OwnFile(font, None, characters, _cap(font), has_outlines=True),)
    title, notes = _title(made), tuple(_notes(made))
    about = " ".join((f"{title}, a font of your own: its file isn't kept here.", *notes))
    return OwnFont(word, title, Face(word, files, title, about), notes)


def _has_outlines(font: "uharfbuzz.Font", characters: frozenset[int]) -> bool:
    letters = [each for each in map(ord, "HAaO08") if each in characters]
    seen = islice([*letters, *sorted(characters)], _LOOKED_AT)
    extents = (font.get_glyph_extents(font.get_nominal_glyph(each) or 0) for each in seen)
    return any(each and each.width and each.height for each in extents)


def _cap(font: "uharfbuzz.Font") -> float:
    """The height of the H as it is drawn, or what the font says of its capitals, or what is usual."""
    em = float(font.face.upem)
    glyph = font.get_nominal_glyph(ord("H"))
    extents = font.get_glyph_extents(glyph) if glyph else None
    said = _halfwords(font.face, 88, 1)  # sCapHeight
    for height in (extents.y_bearing if extents else 0, said[0] if said else 0):
        if _LIKELY * em <= height <= _TALLEST * em:
            return float(height)
    return _USUAL_CAP * em


def _halfwords(face: "uharfbuzz.Face", at: int, count: int) -> tuple[int, ...]:
    """Some 16-bit numbers of the table OS/2; nothing where it isn't so long."""
    table = bytes(face.reference_table("OS/2").data)
    return struct.unpack_from(f">{count}h", table, at) if len(table) >= at + 2 * count else ()


def _title(face: "uharfbuzz.Face") -> str:
    """What the font calls itself, as far as a line can show it: its full name, or its family."""
    for number in (4, 1):
        said = " ".join("".join(c if c.isprintable() else " " for c in face.get_name(number) or "").split())
        if said:
            return said[:_LONGEST_TITLE]
    return "A font without a name"


def _notes(face: "uharfbuzz.Face") -> Iterator[str]:
    if face.has_var_data:
        yield "It is a variable font: its default is cut."
    allowed = _halfwords(face, _EMBEDDING, 1)
    if allowed and allowed[0] & _RESTRICTED:
        yield (
            "Its maker has marked it as restricted: its licence says whether signs may be made with it. "
            "That is for you to know."
        )
