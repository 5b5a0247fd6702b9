"""DXF of the dimensioned drawing: the plain DXF, and its dimensions on a layer of their own, in true size.

What is cut stands as in the plain file, entity for entity. On DIMENSIONS, which no machine cuts, a length, a radius or
a diameter that the part declares is a DIMENSION, its picture in a block as it is laid out for every format; what is
told besides, counted holes, centre lines and numbers, is lines and text. Text is ASCII, as in the plain file.
"""

import io
import math
from collections import Counter
from collections.abc import Iterable
from typing import TYPE_CHECKING

from parts.drawing import Arrow, Dot, Drawing, Group, Item, NumberedMark, Path, Text, lay_out
from parts.export import dxf
from parts.export.dxf_making import nothing_of_the_moment
from parts.geometry import Arc, Point, distance
from parts.profile import Dimension
from parts.record import Record
from parts.units import MM_PER_IN

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.base import BaseLayout

LAYER = "DIMENSIONS"
_GREY = 8
_PAPER = 100.0, 110.0
"""The paper that it is laid out on, mm, as that of a page: lettering is a share of its width."""
_SHOWN = ("worked", "centres", "dimension")
_LINE_TYPES = {"centre": "DASHDOT"}
_ANCHORS = {"start": 0, "middle": 1, "end": 2}
_ACROSS, _ALONG, _DIAMETER, _RADIUS = 0, 1, 3, 4
_OWN_BLOCK = 32
# Kinds of DIMENSION by their number, and what is added where a block belongs to it alone.
_ANGLES = {"below": 0.0, "above": 0.0, "left": 90.0, "right": 90.0}
_SPELLED = {"\u00d8": "%%c", "\u00b0": "%%d", "\u00b1": "%%p", "\u00d7": "x", "\u2032": "'", "\u2033": '"'}
_NEAR_MM = 1e-3


def write(record: Record) -> str:
    """Return the drawing as DXF text in the record's version and units."""
    import ezdxf  # noqa: PLC0415 - a quarter of a second, of which no other file has need

    with nothing_of_the_moment():
        document = ezdxf.read(io.StringIO(dxf.write(record)))  # type: ignore[attr-defined]
        document.layers.add(LAYER, color=_GREY)
        _Dimensions(record, lay_out(record, *_PAPER), document).draw()
        stream = io.StringIO()
        document.write(stream)
    return f"{dxf.comments(record)}999\nshows: drawing\n{_without_comments(stream.getvalue())}"


def _without_comments(text: str) -> str:
    """The text from its first section on."""
    return text[text.index("  0\nSECTION") :]


class _Dimensions:
    """Puts the dimensions of a laid-out drawing into a document, each place of the paper back on the part."""

    def __init__(self, record: Record, drawing: Drawing, document: "Document") -> None:
        self._drawing, self._document = drawing, document
        self._corner = record.box[:2]
        self._unit = 1.0 if record.units == "mm" else MM_PER_IN
        self._text = drawing.text_size / drawing.scale / self._unit
        counts = Counter(dimension.parameter for dimension in record.profile.dimensions)
        self._declared = {d.parameter: d for d in record.profile.dimensions if counts[d.parameter] == 1}

    def draw(self) -> None:
        """Put every group there that a drawing for a shop has."""
        space = self._document.modelspace()
        for group in self._drawing.groups:
            if group.spare or group.kind not in _SHOWN:
                continue
            if found := self._dimension_of(group):
                block = self._document.blocks.new_anonymous_block(type_char="D")
                self._items(block, group.items)
                space.new_entity("DIMENSION", {**found, "geometry": block.name, "layer": LAYER})
            else:
                self._items(space, group.items)

    def _at(self, p: Point) -> Point:
        """A place of the paper on the part, in drawing units."""
        (ox, oy), (x0, y0), scale = self._drawing.origin, self._corner, self._drawing.scale
        return ((p[0] - ox) / scale + x0) / self._unit, ((p[1] - oy) / scale + y0) / self._unit

    def _dimension_of(self, group: Group) -> dict[str, object] | None:
        """What a DIMENSION says where a group shows one that is declared; None where it shows anything else."""
        declared = self._declared.get(group.key)
        arrows = [item for item in group.items if isinstance(item, Arrow)]
        if group.kind != "dimension" or declared is None or not arrows or len(group.texts) != 1:
            return None
        tips = [self._at(arrow.tip) for arrow in arrows]
        said: dict[str, object] = {"text": _ascii(group.texts[0].text), "text_midpoint": self._at(group.texts[0].at)}
        start, end = ((x / self._unit, y / self._unit) for x, y in (declared.start, declared.end))
        if declared.style in ("radius", "diameter"):
            return self._round(declared, start, end, tips, said)
        if len(arrows) != 2 or not self._shows(declared, tips):
            return None
        kind = _ALONG if declared.style == "along" else _ACROSS
        places = {"defpoint": tips[1], "defpoint2": start, "defpoint3": end, "angle": _ANGLES.get(declared.style, 0.0)}
        return {**said, **places, "dimtype": kind + _OWN_BLOCK}

    def _shows(self, declared: Dimension, tips: list[Point]) -> bool:
        """Whether arrows so far apart measure what is declared."""
        return abs(distance(*tips) * self._unit - declared.measured) <= max(_NEAR_MM, 1e-3 * declared.measured)

    def _round(
        self, declared: Dimension, centre: Point, on: Point, tips: list[Point], said: dict[str, object]
    ) -> dict[str, object] | None:
        radius = distance(centre, on)
        if any(abs(distance(tip, centre) - radius) > max(_NEAR_MM, 1e-2 * radius) for tip in tips):
            return None
        if declared.style == "radius":
            return {**said, "defpoint": centre, "defpoint4": tips[0], "dimtype": _RADIUS + _OWN_BLOCK}
        opposite = 2 * centre[0] - tips[0][0], 2 * centre[1] - tips[0][1]
        return {**said, "defpoint": opposite, "defpoint4": tips[0], "dimtype": _DIAMETER + _OWN_BLOCK}

    def _items(self, into: "BaseLayout", items: Iterable[Item]) -> None:
        for item in items:
            if isinstance(item, Path):
                self._path(into, item)
            elif isinstance(item, Text):
                self._lettering(into, item)
            elif isinstance(item, Arrow | NumberedMark):
                self._filled(into, item)
            elif isinstance(item, Dot):
                radius = item.size / 2 / self._drawing.scale / self._unit
                into.add_circle(self._at(item.at), radius, {"layer": LAYER})

    def _path(self, into: "BaseLayout", path: Path) -> None:
        drawn = {"layer": LAYER, "linetype": _LINE_TYPES.get(path.pen, "Continuous")}
        for segment in path.segments:
            start, end = self._at(segment.start), self._at(segment.end)
            if not isinstance(segment, Arc):
                into.add_line(start, end, drawn)
                continue
            centre = self._at(segment.centre)
            ends = [math.degrees(math.atan2(y - centre[1], x - centre[0])) for x, y in (start, end)]
            first, last = ends if segment.bulge > 0 else ends[::-1]
            into.add_arc(centre, distance(centre, start), first, last, dxfattribs=drawn)

    def _lettering(self, into: "BaseLayout", text: Text) -> None:
        height = text.size / self._drawing.scale / self._unit
        place = {"insert": self._at(text.at), "align_point": self._at(text.at), "halign": _ANCHORS[text.anchor]}
        turned = {"height": height * 0.72, "rotation": math.degrees(text.angle), "layer": LAYER}
        into.add_text(_ascii(text.text), dxfattribs={**place, **turned})

    def _filled(self, into: "BaseLayout", item: Arrow | NumberedMark) -> None:
        corners = [self._at(corner) for corner in item.outline]
        if len(corners) == 3:
            into.add_solid(corners, {"layer": LAYER})
            return
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            into.add_line(a, b, {"layer": LAYER})


def _ascii(text: str) -> str:
    """A text in what every reader of DXF shows."""
    return dxf.ascii_text("".join(_SPELLED.get(character, character) for character in text))
