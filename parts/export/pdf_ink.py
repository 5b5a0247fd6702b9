"""Ink: a drawing's items put on a PDF page, mm for mm; and text that the page's face can show.

The face is in the file itself, as far as it is used, so a sheet prints alike everywhere and can be archived.
"""

import math
import threading
import unicodedata
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from hashlib import md5
from pathlib import Path as FilePath
from typing import IO, Any

from reportlab import rl_config
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFDocument, PDFInfo, PDFString
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from parts.drawing import DASHES, MARK_WEIGHT, WEIGHTS, Arrow, Dot, Drawing, Item, NumberedMark, Path, Polygon, Text
from parts.geometry import Arc, Line, Point, Segment

FONT, BOLD = "barlow-400", "barlow-600"
"""The lettering of the pages too, regular and semibold; `faces/README.md` has their source."""
_FACES = FilePath(__file__).parent / "faces"
_TYPES = {name: TTFont(name, str(_FACES / f"{name}.ttf"), asciiReadable=0) for name in (FONT, BOLD)}
_SHOWN = frozenset(chr(code) for code in _TYPES[FONT].face.charToGlyph) & frozenset(
    chr(code) for code in _TYPES[BOLD].face.charToGlyph
)
for _type in _TYPES.values():
    registerFont(_type)

rl_config.useA85 = 0  # pages as bytes: spelling them in letters takes as long as a tenth of a sheet

_SPELLED = {
    "\u2032": "'", "\u2033": '"', "\u2212": "-", "\u2264": "<=", "\u2265": ">=", "\u2192": "->",
    "\u2300": "Ø", "\u2205": "Ø", "\u03b1": "alpha", "\u03bc": "µ", "\u221a": "sqrt",
}  # fmt: skip


@lru_cache(maxsize=4096)
def printable(text: str) -> str:
    """Return a text in characters that the face has: the same, spelled out, without its accent, or `?`."""
    return "".join(_printable(character) for character in text)


@cache  # every line of text is measured and written letter by letter
def _printable(character: str) -> str:
    if character.isspace():
        return " "
    for form in (character, _SPELLED.get(character, ""), *unicodedata.normalize("NFKD", character)[:1]):
        if form and form.isprintable() and all(each in _SHOWN for each in form):
            return str(form)
    return "?"


class _Undated(PDFInfo):
    """What a file says of itself, without the date of its making: the same part has the same bytes on any day."""

    def format(self, document: PDFDocument) -> bytes:
        """Return the entries of ISO 32000-1, 14.3.3, none of which is required."""
        said = {
            "Title": self.title, "Author": self.author, "Producer": self.producer, "Creator": self.creator,
            "Subject": self.subject, "Keywords": self.keywords,
        }  # fmt: skip
        return PDFDictionary({name: PDFString(text) for name, text in said.items()}).format(document)


_one_saves = threading.Lock()


class _Canvas(Canvas):
    """Written by one thread at a time: all files share the faces, each read from by a place that it remembers."""

    def save(self) -> None:
        """Write the file."""
        with _one_saves:
            super().save()


def canvas_on(stream: IO[bytes], width: float, height: float) -> Canvas:
    """Return a file of sheets of so many mm to draw on, without a date and with no face that isn't in it."""
    size = width * mm, height * mm
    kept: Any = {"invariant": 1, "pageCompression": 1, "initialFontName": FONT}  # a name, whatever its types say
    canvas = _Canvas(stream, pagesize=size, **kept)
    document = canvas._doc  # type: ignore[attr-defined]  # there is no public way to leave the date out
    document.info = _Undated()
    document.signature = md5(usedforsecurity=False)  # of what is in the file, from which its ID is made: no clock
    return canvas


def width_of(text: str, size: float, font: str = FONT) -> float:
    """Return how long a text is in this font, mm for a size in mm."""
    return _thousandths(text, font) * 0.001 * size


def width_of_words(words: Iterable[str], size: float, font: str = FONT) -> float:
    """Return how long words are with a blank between each two, as `width_of` tells of them as one text."""
    widths = [_thousandths(word, font) for word in words]
    return (sum(widths) + max(len(widths) - 1, 0) * _thousandths(" ", font)) * 0.001 * size


@lru_cache(maxsize=8192)
def _thousandths(text: str, font: str) -> int:
    """How long a text is in thousandths of its size, of which the widths of all letters are whole numbers."""
    return round(stringWidth(printable(text), font, 1000))


def letter(canvas: Canvas, at: Point, text: str, size: float, font: str = FONT) -> None:
    """Write one line of text from `at` on."""
    canvas.setFont(font, size)
    canvas.drawString(at[0], at[1], printable(text))


def ink(canvas: Canvas, drawing: Drawing, at: Point) -> None:
    """Draw a drawing with the lower left of its paper at `at`."""
    canvas.saveState()
    canvas.translate(*at)
    canvas.setLineJoin(1)
    for group in drawing.groups:
        for item in group.items:
            _ink_item(canvas, item, drawing.text_size)
    canvas.restoreState()


def _ink_item(canvas: Canvas, item: Item, size: float) -> None:
    if isinstance(item, Path):
        _ink_path(canvas, item, size)
    elif isinstance(item, Text):
        _ink_text(canvas, item)
    elif isinstance(item, Arrow):
        _ink_polygon(canvas, item.outline, filled=True)
    elif isinstance(item, Dot):
        canvas.circle(*item.at, item.size / 2, stroke=0, fill=1)
    else:
        ink_mark(canvas, item)


def ink_mark(canvas: Canvas, mark: NumberedMark) -> None:
    """Draw the numbered sign of a finding."""
    canvas.setLineWidth(MARK_WEIGHT * mark.size)
    if mark.severity == "note":
        canvas.circle(*mark.at, mark.size / 2)
    else:
        _ink_polygon(canvas, mark.outline, filled=False)
    _ink_text(canvas, mark.label)


def _ink_path(canvas: Canvas, path: Path, size: float) -> None:
    canvas.setLineWidth(WEIGHTS[path.pen] * size)
    canvas.setDash([share * size for share in DASHES.get(path.pen, ())])
    outline = canvas.beginPath()
    trace(outline, path.segments)
    if path.closed:
        outline.close()
    canvas.drawPath(outline)
    canvas.setDash()


def trace(path: PDFPathObject, segments: Sequence[Segment]) -> None:
    """Lead a path along a chain of lines and arcs; it is not closed."""
    path.moveTo(*segments[0].start)
    for segment in segments:
        if isinstance(segment, Line):
            path.lineTo(*segment.end)
        else:
            for piece in curves(segment):
                path.curveTo(*piece)


def curves(arc: Arc) -> list[tuple[float, float, float, float, float, float]]:
    """Return the arc as Bezier curves, PDF having no arcs.

    Each is of at most an eighth of a turn, where it strays 4e-6 of the radius: the handles are
    4/3 tan(sweep/4) of the radius long, as is usual for circles.
    """
    count = math.ceil(abs(arc.sweep) / (math.pi / 4) - 1e-9)
    handle = 4 / 3 * math.tan(abs(arc.sweep) / count / 4) * arc.radius
    found = []
    for i in range(count):
        a, b = arc.at(i / count), arc.end if i == count - 1 else arc.at((i + 1) / count)
        (ux, uy), (vx, vy) = arc.heading_at(a), arc.heading_at(b)
        found.append((a[0] + handle * ux, a[1] + handle * uy, b[0] - handle * vx, b[1] - handle * vy, *b))
    return found


def _ink_text(canvas: Canvas, text: Text) -> None:
    canvas.saveState()
    canvas.translate(*text.at)
    canvas.rotate(math.degrees(text.angle))
    canvas.setFont(FONT, text.size)
    write = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
    write[text.anchor](0, 0, printable(text.text))
    canvas.restoreState()


def _ink_polygon(canvas: Canvas, polygon: Polygon, filled: bool) -> None:
    outline = canvas.beginPath()
    outline.moveTo(*polygon[0])
    for corner in polygon[1:]:
        outline.lineTo(*corner)
    outline.close()
    canvas.drawPath(outline, stroke=0 if filled else 1, fill=1 if filled else 0)
