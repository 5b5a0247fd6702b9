"""DXF -> raw drawing: units, layers, blocks placed, every entity a stroke, a spot, or named as left out.

We read DXF ourselves, not through ezdxf: it holds a whole document in memory, takes about four times as long
(1.2 s for 50,000 lines, 2.5 s where it recovers), and is the other reader that the tests hold this one against.
"""

from collections.abc import Mapping, Sequence

from parts.geometry import Point
from parts.read.affine import scaling, shift, turning
from parts.read.coordinate import plain
from parts.read.dxf.blocks import Block, Insert, Placing
from parts.read.dxf.colours import OF_BLOCK, colour
from parts.read.dxf.records import Rec, records
from parts.read.dxf.shapes import READERS, UPRIGHT, frame, polyline
from parts.read.limits import Budget, shown
from parts.read.pieces import LeftOut, Spot, Stroke
from parts.read.raw import ON_PAPER, Raw, Scale
from parts.units import MM_PER_IN

# $INSUNITS of the published DXF reference, header variables; lengths exact by definition (inch of 1959).
_UNITS: Mapping[int, Scale] = {
    1: Scale(MM_PER_IN, "inches", "in"),
    2: Scale(12 * MM_PER_IN, "feet", "in"),
    4: Scale(1.0, "millimetres", "mm"),
    5: Scale(10.0, "centimetres", "mm"),
    6: Scale(1000.0, "metres", "mm"),
    9: Scale(MM_PER_IN / 1000, "thousandths of an inch", "in"),
    10: Scale(36 * MM_PER_IN, "yards", "in"),
    14: Scale(100.0, "decimetres", "mm"),
}
# The comment at the head of our own R12, which has no other place for its units.
_COMMENTS = {"units: millimetres": _UNITS[4], "units: inches": _UNITS[1]}

_KINDS: Mapping[str, str] = {
    **dict.fromkeys(("TEXT", "MTEXT", "ATTRIB", "RTEXT", "ARCALIGNEDTEXT"), "text"),
    **dict.fromkeys(("HATCH", "MPOLYGON"), "hatch"),
    **dict.fromkeys(("SOLID", "TRACE"), "filled shape"),
    **dict.fromkeys(("IMAGE", "OLEFRAME", "OLE2FRAME", "PDFUNDERLAY", "DWFUNDERLAY", "DGNUNDERLAY"), "picture"),
    **dict.fromkeys(("DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL_DIMENSION"), "dimension"),
    **dict.fromkeys(("LEADER", "MLEADER", "MULTILEADER"), "leader"),
    **dict.fromkeys(("3DSOLID", "BODY", "SURFACE", "EXTRUDEDSURFACE", "PLANESURFACE", "MESH", "HELIX"), "3D entity"),
    **dict.fromkeys(("XLINE", "RAY"), "endless line"),
    "WIPEOUT": "mask", "TOLERANCE": "tolerance frame", "ACAD_TABLE": "table", "MLINE": "multiline",
    "REGION": "region", "3DFACE": "3D face", "SHAPE": "shape of a font", "ACAD_PROXY_ENTITY": "proxy",
}  # fmt: skip
_HARMLESS = frozenset({"hatch", "mask", "dimension", "leader", "tolerance frame", "table", "endless line"})
_NOTHING = frozenset({"SECTION", "SEQEND", "ATTDEF", "VIEWPORT", "VERTEX"})
_OF_ANOTHER_FILE = 4 | 8  # of a BLOCK: an external reference, or an overlay
_PAPER_BLOCKS = ("*PAPER_SPACE", "$PAPER_SPACE")


def read(data: bytes, budget: Budget) -> Raw:
    """Return what a DXF draws, in its own units.

    Raises:
        Unreadable: if it is broken, cut short, hostile, or holds too much.
    """
    reader = _Reader(budget)
    for rec in records(data, budget):
        reader.take(rec)
    return reader.placed()


class _Reader:
    """Takes records one by one; `placed` then gives the drawing."""

    def __init__(self, budget: Budget) -> None:
        self._budget = budget
        self._raw = Raw()
        self._placing = Placing(self._raw, budget)
        self._drawing = Block((0.0, 0.0))
        self._into = self._drawing
        self._on_paper = False  # in the block of a paper layout
        self._open: tuple[Rec, list[Rec]] | None = None  # a POLYLINE whose vertices are being read

    def take(self, rec: Rec) -> None:
        """Take one record."""
        if rec.kind == "VERTEX" and self._open:
            self._budget.segments()
            self._open[1].append(rec)
            return
        if self._open:
            head, vertices = self._open
            self._open = None
            self._add(head, polyline(head, vertices))
        if rec.kind == "COMMENT":
            self._comments(rec)
        elif rec.section == "HEADER":
            self._header(rec)
        elif rec.kind == "LAYER":
            self._placing.layers.take_layer(rec)
            self._raw.colours[rec.text(2).upper()] = colour(rec).replace(OF_BLOCK, "")
        elif rec.kind == "LTYPE":
            self._placing.layers.take_linetype(rec)
        elif rec.section in ("BLOCKS", "ENTITIES"):
            self._entity(rec)

    def placed(self) -> Raw:
        """Return the drawing with every block placed."""
        self._placing.place(self._drawing, UPRIGHT)
        return self._raw

    def _comments(self, rec: Rec) -> None:
        for _, value in rec.groups:
            text = value.decode("ascii", "replace").strip()
            for start, scale in _COMMENTS.items():
                if text.startswith(start):
                    self._raw.scale = scale

    def _header(self, rec: Rec) -> None:
        stated = rec.variable(b"$INSUNITS")
        code = int(stated) if stated.isdigit() else -1
        self._raw.scale = _UNITS.get(code, self._raw.scale)
        if stated and code and code not in _UNITS:
            said = shown(plain(stated))
            self._raw.unscaled = f"The file states its units by the code {said}, which isn't one a shop draws in"

    def _entity(self, rec: Rec) -> None:
        kind = rec.kind
        if kind == "BLOCK":
            name = rec.text(2).upper()
            self._on_paper = name.startswith(_PAPER_BLOCKS)
            self._into = self._placing.blocks.setdefault(name, Block(self._base(rec)))
            self._into.is_elsewhere = bool(rec.whole(70) & _OF_ANOTHER_FILE)
        elif kind in ("ENDBLK", "ENDSEC"):
            self._into, self._on_paper = self._drawing, False
        elif kind in _NOTHING:
            return
        elif self._on_paper or rec.whole(67):
            self._raw.hidden[ON_PAPER] += 1
        elif rec.whole(60):
            self._raw.hidden["set invisible"] += 1
        else:
            self._drawn(rec)

    def _drawn(self, rec: Rec) -> None:
        if rec.kind == "POLYLINE":
            self._open = rec, []
        elif rec.kind == "INSERT":
            self._insert(rec)
        elif rec.kind == "POINT":
            self._into.items.append(Spot(rec.point(), rec.text(8, "0")))
        elif rec.kind in READERS:
            self._add(rec, READERS[rec.kind](rec))
        else:
            self._leave_out(rec, _KINDS.get(rec.kind, rec.kind))

    @staticmethod
    def _base(rec: Rec) -> Point:
        return rec.number(10, 0.0), rec.number(20, 0.0)

    def _add(self, rec: Rec, strokes: Sequence[Stroke] | None) -> None:
        if strokes is None:
            self._leave_out(rec, "damaged spline" if rec.kind == "SPLINE" else "3D entity")
            return
        for stroke in strokes:
            self._budget.segments(len(stroke.pieces))
            self._into.items.append(stroke)

    def _leave_out(self, rec: Rec, kind: str) -> None:
        at = (rec.number(10, 0.0), rec.number(20, 0.0))
        self._into.items.append(LeftOut(kind, rec.text(8, "0"), at, kind not in _HARMLESS))

    def _insert(self, rec: Rec) -> None:
        mirrored = frame(rec)
        if mirrored is None:
            self._leave_out(rec, "3D entity")
            return
        to = mirrored.after(shift(*rec.point())).after(turning(rec.number(50, 0.0)))
        self._into.items.append(
            Insert(
                block=rec.text(2).upper(),
                layer=rec.text(8, "0"),
                to=to,
                size=scaling(rec.number(41, 1.0), rec.number(42, 1.0)),
                columns=max(rec.whole(70, 1), 1),
                rows=max(rec.whole(71, 1), 1),
                step=(rec.number(44, 0.0), rec.number(45, 0.0)),
                linetype=rec.text(6),
                colour=colour(rec),
            )
        )
