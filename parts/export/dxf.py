"""DXF: the loops and marks of a part as R12 or R2010, in millimetres or inches.

A full circle is a CIRCLE; any other loop is one closed LWPOLYLINE with bulges (POLYLINE in R12). A scribe
is the same, open where it is open; a bend is a LINE. The text is ASCII whatever the part is called, so no reader can
get its encoding wrong.

A drill centre is a POINT and, unless that isn't wanted, a CIRCLE of its diameter round it, both on DRILL. They stand on
one layer since they are one thing: who drills from the layer has centre and size from it, who leaves it out leaves out
both. A layer of its own would have to be told to every program, and on one that is cut the circle would be.
"""

import math
from collections.abc import Iterable, Iterator
from itertools import count

from parts.export.about import facts, parameter_texts, plain, said, stops
from parts.export.dxf_frame import frame
from parts.export.layers import NOTES, LayerPath, Shape, extent, layers
from parts.geometry import Arc, Box, Circle, Line, Point, Segment
from parts.profile import Drill
from parts.record import Record
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import MM_PER_IN, Units

_IN_WORDS: dict[Units, str] = {
    "mm": "millimetres: 1 drawing unit is 1 mm",
    "in": "inches: 1 drawing unit is 1 in, 25.4 mm",
}
# A line of a DXF may have 255 characters (R12); 200 leave room for the name before them.
_LONGEST = 200
_LONGEST_NOTE = 80
_END = "  0\nENDSEC\n"
_ESCAPE = len("\\U+0041")
_NOTES_ACROSS = 50  # letters of a note are a 50th of the part's longer side high
_SMALLEST_NOTE_MM, _LARGEST_NOTE_MM = 2.5, 25.0
_NOTE_PITCH = 1.6  # from line to line, in heights of a letter


def write(record: Record) -> str:
    """Return the part as DXF text in the record's version and units."""
    made = frame(record.dxf_version, record.units)
    pen = Pen(1.0 if record.units == "mm" else MM_PER_IN, made.owner, made.first_handle)
    box = extent(record.profile)
    drawn = layers(record.profile, record.job.cut.square_side, drill_circles=record.drill_circles)
    entities = "".join(pen.shape(layer, shape) for layer, shapes in drawn.items() for shape in shapes)
    if record.notes:
        entities += "".join(_notes(record, box, pen))
    x0, y0, x1, y1 = (mm / pen.unit_mm for mm in box)
    text = made.around(entities, (x0, y0, x1, y1), next(pen.handles))
    return comments(record) + (text.replace(_END, f"{_properties(record)}{_END}", 1) if made.owner else text)


def comments(record: Record) -> str:
    r"""Return the comment groups at the head: units, version, template, address, what says stop, parameters.

    Each reads `name: value`. A long value goes on in groups that read `name+: value`, to be joined as they
    are. What isn't printable ASCII, and the backslash, stands as `\U+` and four hexadecimal digits.
    """
    lines = [("units", _IN_WORDS[record.units]), *facts(record).items()]
    lines += [(f"STOP {number}", text) for number, text in enumerate(stops(record), start=1)]
    lines += _parameters(record)
    return "".join([f"999\n{name}: {text}\n" for name, text in _cut(lines)])


def _properties(record: Record) -> str:
    """The same as custom properties of the drawing, which other programs keep where they drop comments.

    R12 has none.
    """
    lines = [*facts(record).items(), *_parameters(record)]
    return "".join(
        [f"  9\n$CUSTOMPROPERTYTAG\n  1\n{name}\n  9\n$CUSTOMPROPERTY\n  1\n{text}\n" for name, text in _cut(lines)]
    )


def _parameters(record: Record) -> list[tuple[str, str]]:
    return [(f"parameter {name}", text) for name, text in parameter_texts(record).items()]


def _cut(lines: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """Yield names and texts in ASCII, a long text in pieces whose names after the first end in a plus."""
    for name, text in lines:
        for i, piece in enumerate(pieces(ascii_text(text), _LONGEST)):
            yield f"{name}{'+' if i else ''}", piece


def ascii_text(text: str) -> str:
    r"""Return the text in printable ASCII, any other character as DXF's own escape `\U+` and four digits."""
    if text.isascii() and text.isprintable() and "\\" not in text:
        return text
    return "".join(
        character if " " <= character <= "~" and character != "\\" else _escaped(character) for character in text
    )


def _escaped(character: str) -> str:
    code = character.encode("utf-16-be", "surrogatepass").hex().upper()
    return "".join(f"\\U+{code[i : i + 4]}" for i in range(0, len(code), 4))


def pieces(text: str, longest: int) -> Iterator[str]:
    """Yield the text cut into lines: before an `&` where one is near, never within an escape."""
    while len(text) > longest:
        end = text.rfind("&", longest // 2, longest)
        if end < 0:
            end = text.rfind("\\", longest - _ESCAPE + 1, longest)
        if end < 0:
            end = longest
        end = len(text[:end].rstrip(" ")) or end  # a reader may take blanks off a line's end
        yield text[:end]
        text = text[end:]
    yield text


class Pen:
    """Writes entities, each with a handle of its own; R12 knows no `owner` and no subclasses."""

    def __init__(self, unit_mm: float, owner: str, first_handle: int) -> None:
        self.unit_mm = unit_mm
        self.owner = owner
        self.handles = count(first_handle)

    def shape(self, layer: str, shape: Shape) -> str:
        """Return the entity, or in R12 the entities, of one shape."""
        if isinstance(shape, Circle):
            head, radius = self.start("CIRCLE", layer, "AcDbCircle"), plain(shape.diameter / 2 / self.unit_mm)
            return f"{head}{self.at(shape.centre)} 30\n0.0\n 40\n{radius}\n"
        if isinstance(shape, Drill):
            return f"{self.start('POINT', layer, 'AcDbPoint')}{self.at(shape.at)} 30\n0.0\n"
        if len(shape.segments) == 1 and isinstance(line := shape.segments[0], Line):
            head = self.start("LINE", layer, "AcDbLine")
            return f"{head}{self.at(line.start)} 30\n0.0\n{self.at(line.end, 11)} 31\n0.0\n"
        return self.lwpolyline(layer, shape) if self.owner else self.polyline(layer, shape)

    def lwpolyline(self, layer: str, path: LayerPath) -> str:
        """Return a path as one entity."""
        vertices = list(self.vertices(path))
        head = self.start("LWPOLYLINE", layer, "AcDbPolyline")
        return f"{head} 90\n{len(vertices)}\n 70\n{int(path.closed)}\n{''.join(vertices)}"

    def polyline(self, layer: str, path: LayerPath) -> str:
        """Return a path as R12 has it: the polyline, an entity for each vertex, and one that ends it."""
        head = self.start("POLYLINE", layer)
        vertices = "".join(self.start("VERTEX", layer) + vertex for vertex in self.vertices(path))
        end = self.start("SEQEND", layer)
        return f"{head} 66\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n 70\n{int(path.closed)}\n{vertices}{end}"

    def text(self, at: Point, height: float, text: str) -> str:
        """Return one line of ASCII text; `height` in mm."""
        head = self.start("TEXT", NOTES, "AcDbText")
        second = "100\nAcDbText\n" if self.owner else ""
        return f"{head}{self.at(at)} 30\n0.0\n 40\n{plain(height / self.unit_mm)}\n  1\n{text}\n{second}"

    def start(self, kind: str, layer: str, subclass: str = "") -> str:
        """Return the groups every entity starts with."""
        handle = f"  0\n{kind}\n  5\n{next(self.handles):X}\n"
        if not self.owner:
            return f"{handle}  8\n{layer}\n"
        return f"{handle}330\n{self.owner}\n100\nAcDbEntity\n  8\n{layer}\n100\n{subclass}\n"

    def at(self, point: Point, code: int = 10) -> str:
        """Return a point of the plane in drawing units."""
        x, y = point
        return f" {code}\n{plain(x / self.unit_mm)}\n {code + 10}\n{plain(y / self.unit_mm)}\n"

    def vertices(self, path: LayerPath) -> Iterator[str]:
        """Yield each vertex with the bulge of the segment leaving it."""
        for segment in path.segments:
            for piece in _no_more_than_half(segment):
                bulge = f" 42\n{plain(piece.bulge)}\n" if isinstance(piece, Arc) else ""
                yield self.at(piece.start) + bulge
        if not path.closed:
            yield self.at(path.segments[-1].end)


def _no_more_than_half(segment: Segment) -> tuple[Segment, ...]:
    """The segment; in two where it is more than half a circle, which readers are known to turn inside out."""
    if isinstance(segment, Line) or abs(segment.bulge) <= 1 + LIMIT_SLACK_MM:
        return (segment,)
    middle, bulge = segment.at(0.5), math.tan(math.atan(segment.bulge) / 2)
    return Arc(segment.start, middle, bulge), Arc(middle, segment.end, bulge)


def _notes(record: Record, box: Box, pen: Pen) -> Iterator[str]:
    """Yield what the part is as lines of text below it, clear of its extent."""
    x0, y0, x1, y1 = box
    height = min(max(max(x1 - x0, y1 - y0) / _NOTES_ACROSS, _SMALLEST_NOTE_MM), _LARGEST_NOTE_MM)
    told = (*said(record), *stops(record), record.address)
    texts = (ascii_text(text).replace("^", "^ ") for text in told)  # ^J: line feed
    lines = [piece for text in texts for piece in pieces(text, _LONGEST_NOTE)]
    for i, line in enumerate(lines, start=1):
        yield pen.text((x0, y0 - height * (1 + _NOTE_PITCH * i)), height, line)
