"""What is painted decides what is cut: shapes with their fill and stroke -> strokes to be read as outlines.

fill      closes each of its subpaths; its outline is cut, and where it crosses itself the outline of what it paints
stroke    without a fill, cut along its own outline where it is wide, along its middle where it is a hairline
hairline  a line drawn with a pen of up to PEN_MM, which stands for its middle

Whatever can stay as it was drawn does: only shapes that cross themselves, are cut off by a clip path, a mask or a
window, or are stroked widely go by areas (`parts.read.svg.areas`).
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from parts.geometry import Loop, Point
from parts.geometry.area import Region, clipped, covers, is_simple, winding_numbers
from parts.read.affine import Affine, scaling
from parts.read.asked import Asked
from parts.read.layers import Role, role, side
from parts.read.limits import Budget
from parts.read.pieces import LeftOut, Piece, Spot, Stroke, anchors, line, placed
from parts.read.raw import Raw
from parts.read.svg.areas import Areas
from parts.read.svg.placed import Shape
from parts.read.svg.shapes import Drawn
from parts.read.svg.told import Told
from parts.read.svg.walk import along
from parts.tolerance import CURVE_FIT_MM, PEN_IN, PEN_MM, SAME_POINT_MM
from parts.units import MM_PER_IN, Units

# Part of a path's length that it must be wide to have an area.
_FLAT = 1e-9
_SIMPLE = frozenset({"rect", "circle", "ellipse"})


class Painter:
    """Turns shapes into strokes of a raw drawing, of which a user unit is `unit_mm`."""

    def __init__(self, areas: Areas, raw: Raw, unit_mm: float, asked: Asked, budget: Budget) -> None:
        self._areas, self._raw, self._unit_mm = areas, raw, unit_mm
        self._asked, self._budget, self._units = asked, budget, _units(raw, asked)
        self.told = Told(self._units)

    def paint(self, shape: Shape) -> None:
        """Add what is cut of a shape, or what it marks."""
        what = self._asked.layers.get(shape.layer, role(shape.layer))
        if what in ("scribe", "bend", "drill"):
            self._mark(shape, what)
            return
        filled, stroked = bool(shape.style.paint("fill")), bool(shape.style.paint("stroke"))
        self._name(shape, stroked)
        if not (filled or stroked):
            self._raw.hidden["that [is|are] neither filled nor stroked"] += 1
            return
        wide = stroked and self._is_wide(shape)
        if not filled and not wide:
            if side(shape.layer) is None:
                self.told.stroke("middle", self._areas.pen_mm(shape))
            self._add(shape, shape.drawn, closed=None)
            return
        flat = [each for each in shape.drawn if not _has_area(each[0])] if filled else []
        areas = [each for each in shape.drawn if each not in flat]
        if flat and not wide:
            self._flat(shape, flat, stroked, bool(areas))
        if areas or wide:
            self._fill(shape, areas, filled, wide)

    def _flat(self, shape: Shape, flat: Sequence[Drawn], stroked: bool, rest: bool) -> None:
        """What encloses nothing has no fill: a line where it is stroked, or where nothing is said of paint at all."""
        if stroked or (not rest and not shape.style.says_paint):
            self._add(shape, flat, closed=None)
        else:
            self._raw.hidden["that [is filled and encloses|are filled and enclose] nothing"] += len(flat)

    def _fill(self, shape: Shape, drawn: Sequence[Drawn], filled: bool, wide: bool) -> None:
        kept = self._as_drawn(shape, drawn) if filled and not wide else None
        if kept is not None:
            self.told.counts["closed"] += sum(not closed for _, closed, _ in kept)
            self._add(shape, kept, closed=True)
            return
        region = self._areas.fill(shape) if filled and drawn else ()
        if wide:
            region = self._areas.any_of([region, self._areas.stroke(shape)])
            self.told.stroke("outline", self._areas.pen_mm(shape))
        else:
            self.told.counts["crossed"] += 1
        if shape.cuts and region:
            region = self._cut_off(shape, region)
        self._add_region(region, shape)

    def _as_drawn(self, shape: Shape, drawn: Sequence[Drawn]) -> list[Drawn] | None:
        """The subpaths that bound what is filled, where none cross or touch; None where some do."""
        if len(drawn) == 1 and shape.element.name in _SIMPLE:
            return list(drawn)
        rings = [_ring(pieces) for pieces, _, _ in drawn]
        self._budget.pairs(sum(map(len, rings)) // 100)
        if not is_simple(rings):
            return None
        if len(drawn) == 1 or shape.style.rule("fill-rule") == "evenodd":
            return list(drawn)
        wound = winding_numbers(rings, self._budget.time)
        kept = [each for each, (out, within) in zip(drawn, wound, strict=True) if (out != 0) != (within != 0)]
        at = shape.to.point((0.0, 0.0))
        self._raw.left_out += [LeftOut("outline filled over", shape.layer, at)] * (len(drawn) - len(kept))
        return kept

    def _add(self, shape: Shape, drawn: Sequence[Drawn], closed: bool | None) -> None:
        """Add subpaths as they were drawn; those that are filled closed by a line where they aren't."""
        if shape.cuts:
            left = self._areas.left_by(shape.cuts)
            chains = self._areas.chains(replace(shape, drawn=tuple(drawn), cuts=()))
            boxes = [segment.box for chain in chains for segment in chain.segments]
            if not all(covers(left, box, self._budget.time) for box in _around(boxes)):
                self._add_cut_off(shape, drawn, left, closed)
                return
        for pieces, is_closed, kind in drawn:
            whole = _closed(pieces) if closed and not is_closed else list(pieces)
            made = tuple(q for p in whole for q in placed(p, shape.to))
            self._raw.strokes.append(Stroke(made, bool(closed) or is_closed, shape.layer, kind))
        self._budget.segments(len(drawn))

    def _add_cut_off(self, shape: Shape, drawn: Sequence[Drawn], left: Region, closed: bool | None) -> None:
        part = replace(shape, drawn=tuple(drawn))
        if closed:
            self._add_region(self._cut_off(part, self._areas.fill(part)), shape)
            return
        self.told.counts["cut off"] += 1
        back = scaling(1 / self._unit_mm, 1 / self._unit_mm)
        for chain in self._areas.chains(part):
            for run in clipped(chain.segments, left, self._budget.time) if left else ():
                pieces = tuple(q for p in run for q in placed(p, back))
                self._raw.strokes.append(Stroke(pieces, run[0].start == run[-1].end, shape.layer))

    def _cut_off(self, shape: Shape, region: Region) -> Region:
        left = self._areas.left_by(shape.cuts)
        box = _around([loop.box for loop in region])[0] if region else None
        if box is None or covers(left, box, self._budget.time):
            return region
        self.told.counts["cut off"] += 1
        return self._areas.both(region, left)

    def _add_region(self, region: Region, shape: Shape) -> None:
        if not region:
            self._raw.hidden["of which nothing shows"] += 1
        back = scaling(1 / self._unit_mm, 1 / self._unit_mm)
        for loop in region:
            if loop.area < CURVE_FIT_MM / 2 * loop.perimeter and not self._is_wide(shape):
                self.told.counts["slivers"] += 1  # left between curves that meet, by fitting them
                continue
            self._budget.segments(len(loop.segments))
            self._raw.strokes.append(Stroke(_placed(loop, back), True, shape.layer))

    def _is_wide(self, shape: Shape) -> bool:
        """Whether a stroke is cut along its outline; those on our own layers never are."""
        if side(shape.layer) is not None:
            return False
        if self._asked.strokes == "auto":
            return self._areas.pen_mm(shape) > (PEN_MM if self._units == "mm" else PEN_IN * MM_PER_IN) + SAME_POINT_MM
        return self._asked.strokes == "outline" and self._areas.pen_mm(shape) > 0

    def _name(self, shape: Shape, stroked: bool) -> None:
        """Name what of a shape's paint isn't followed."""
        at = shape.to.point((0.0, 0.0))
        kinds = [*self._areas.unfollowed(shape)]
        if stroked and any(self._areas.lengths(shape, "stroke-dasharray")) and not self._is_wide(shape):
            kinds.append("dashed line")
        self._raw.left_out += [LeftOut(kind, shape.layer, at) for kind in kinds]

    def _mark(self, shape: Shape, what: Role) -> None:
        """Take a shape that isn't cut as it was drawn; a cross on a layer to drill is its middle: SVG has no points."""
        made = [
            Stroke(tuple(q for p in pieces for q in placed(p, shape.to)), closed, shape.layer, kind)
            for pieces, closed, kind in shape.drawn
        ]
        self._budget.segments(len(made))
        if what == "drill" and not any(stroke.closed for stroke in made):
            middle = _middle([piece for stroke in made for piece in stroke.pieces])
            self._raw.spots.append(Spot(middle, shape.layer))
        else:
            self._raw.strokes += made


def unpainted(shape: Shape) -> Iterator[Stroke]:
    """Yield the strokes of a shape as it was drawn; what is filled is closed."""
    filled = bool(shape.style.paint("fill"))
    for pieces, closed, kind in shape.drawn:
        whole = _closed(pieces) if filled and not closed and pieces else pieces
        made = tuple(q for p in whole for q in placed(p, shape.to))
        yield Stroke(made, closed or filled, shape.layer, kind, colour=shape.style.colour)


def _units(raw: Raw, asked: Asked) -> Units:
    """The units that the drawing will be spoken of in, as `parts.read.scale.decided` has them."""
    scale = raw.scale or raw.assumed
    return asked.units or (scale.units if scale else "mm")


def _ring(pieces: Sequence[Piece]) -> list[Point]:
    """Points around a closed subpath, each once."""
    points = [p for piece in pieces for p in along(piece)[:-1]]
    last = along(pieces[-1])[-1]
    return points if last == points[0] else [*points, last]


def _closed(pieces: Sequence[Piece]) -> list[Piece]:
    ends = next(anchors(pieces[0])), [*anchors(pieces[-1])][-1]
    return [*pieces, *line(ends[1], ends[0])]


def _placed(loop: Loop, to: Affine) -> tuple[Piece, ...]:
    return tuple(q for segment in loop.segments for q in placed(segment, to))


def _around(boxes: Sequence[tuple[float, float, float, float]]) -> list[tuple[float, float, float, float]]:
    """The box around boxes, if there are any."""
    if not boxes:
        return []
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return [(min(x0), min(y0), max(x1), max(y1))]


def _has_area(pieces: Sequence[Piece]) -> bool:
    """Whether a subpath, closed, leaves a straight line."""
    points = [p for piece in pieces for p in along(piece)]
    if len(points) < 3:
        return False
    (ax, ay), far = points[0], max(points, key=lambda p: math.dist(points[0], p))
    long = math.dist(points[0], far)
    ux, uy = far[0] - ax, far[1] - ay
    return any(abs(ux * (p[1] - ay) - uy * (p[0] - ax)) > _FLAT * long * long for p in points)


def _middle(pieces: Sequence[Piece]) -> Point:
    at = [p for piece in pieces for p in anchors(piece)] or [(0.0, 0.0)]
    xs, ys = [p[0] for p in at], [p[1] for p in at]
    return math.fsum((min(xs), max(xs))) / 2, math.fsum((min(ys), max(ys))) / 2
