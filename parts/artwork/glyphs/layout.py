"""Layout: lines of text set above one another, straight or along an arc, close enough to touch if they shall.

Lengths are cap heights; the first line's base line runs through the origin, the block's middle lies above it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Literal, NamedTuple, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.artwork.glyphs.faces import Face, FontFile
from parts.artwork.glyphs.outlines import contours, filled_glyph
from parts.artwork.glyphs.shaping import NEW_LINE, Cluster, lines_of, shaped
from parts.cached import cached_property
from parts.geometry import Box, Point

Align: TypeAlias = Literal["left", "centre", "right"]
Inner: TypeAlias = Literal["along", "straight"]

_COARSE_MM = 64.0
# Extents are taken of outlines flattened for a cap height of this: they are off by less than a ten-thousandth of it.
_BLANK = 0.2
# How wide a blank is where letters are set to touch, in cap heights (by eye).
_NEAR_ENOUGH = 1e-3
# Of how far letters are apart, what may be lacking.
_SCANS = 160
# Heights at which the room between two letters is looked at.


@dataclass(frozen=True)
class Text:
    """What is to be set. `spacing` is added between letters, `line_gap` lies between lines, both in cap heights.

    `curve` is the angle in radians that the widest line takes of its circle: positive over the top, negative along
    the bottom. Letters that come nearer to each other than `apart` are moved so far apart; where `overlap` isn't 0,
    each is moved into the one before it by so much instead. Lines whose letters would come nearer than `clear` are set
    further apart; less than 0 lets them run into each other. On an arc the lines after the first go `along` it too, or
    stand `straight` in its middle.
    """

    text: str
    face: Face
    spacing: float = 0.0
    line_gap: float = 0.6
    align: Align = "centre"
    curve: float = 0.0
    apart: float = 0.0
    overlap: float = 0.0
    clear: float = 0.15
    inner: Inner = "along"


class Placed(NamedTuple):
    """A glyph in its place: its origin, and its turn to the left in radians."""

    file: FontFile
    number: int
    x: float
    y: float
    turn: float


@dataclass(frozen=True)
class Line:
    """One line as set: its glyphs, the box of what they fill, and how far its base line is above the first."""

    glyphs: tuple[Placed, ...]
    box: Box
    base: float
    boxes: tuple[NDArray[np.float64], ...]
    """The corners of each letter's own box, four rows of x and y."""


@dataclass(frozen=True)
class Layout:
    """Lines as set. `radius` is of the first line's base line, 0 where it is straight, negative along the bottom."""

    lines: tuple[Line, ...]
    box: Box
    pitch: float
    radius: float

    @cached_property
    def circle(self) -> tuple[Point, float]:
        """The middle and the radius of the smallest circle around all letters' boxes."""
        every = np.concatenate([box for line in self.lines for box in line.boxes])
        around = shapely.minimum_bounding_circle(shapely.MultiPoint(every))
        x, y = shapely.get_coordinates(shapely.centroid(around))[0].tolist()
        return (x, y), float(np.hypot(*(every - (x, y)).T).max())

    @property
    def width(self) -> float:
        """How wide all is that the letters fill."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """How high all is that the letters fill."""
        return self.box[3] - self.box[1]


class _Set(NamedTuple):
    """A cluster in a straight line: where its origin is, and its box about that."""

    cluster: Cluster
    x: float
    box: Box


_Row: TypeAlias = tuple[_Set, ...]


@lru_cache(maxsize=256)
def laid_out(text: Text) -> Layout | None:
    """Return the lines of a text as set; None where it has nothing to be seen, or an arc has no room for them.

    The face must have all its characters.
    """
    first, *below = lines_of(text.text)
    if below and text.curve and text.inner == "straight":
        rest = replace(text, text=NEW_LINE.join(below), curve=0.0)
        return _with_middle(laid_out(replace(text, text=first)), laid_out(rest), max(text.clear, text.apart))
    rows = [_row(text, line) for line in lines_of(text.text)]
    extents = [_extent(row) for row in rows]
    seen = [extent for extent in extents if extent]
    if not seen:
        return None
    pitch = _pitch(text, extents)
    width = max(x1 - x0 for x0, _, x1, _ in seen)
    radius = _radius(text, extents, width, pitch)
    if radius is None:
        return None
    lines = [
        _line(_aligned(row, extent, text.align, width), -i * pitch, radius)
        for i, (row, extent) in enumerate(zip(rows, extents, strict=True))
        if extent
    ]
    return Layout(tuple(lines), _around([line.box for line in lines]), pitch, radius)


def _with_middle(arc: Layout | None, block: Layout | None, clear: float) -> Layout | None:
    """Lines straight in the middle of the circle that a line goes around; None where they come nearer than `clear`."""
    if not arc or not block:
        return None
    x0, y0, x1, y1 = block.box
    straight = [_moved(line, -(x0 + x1) / 2, -arc.radius - (y0 + y1) / 2) for line in block.lines]
    around, within = ([shapely.Polygon(box) for line in of for box in line.boxes] for of in (arc.lines, straight))
    if float(shapely.distance(shapely.union_all(around), shapely.union_all(within))) < clear:
        return None
    lines = (*arc.lines, *straight)
    return Layout(lines, _around([line.box for line in lines]), block.pitch, arc.radius)


def _moved(line: Line, dx: float, dy: float) -> Line:
    x0, y0, x1, y1 = line.box
    glyphs = tuple(glyph._replace(x=glyph.x + dx, y=glyph.y + dy) for glyph in line.glyphs)
    boxes = tuple(np.add(box, (dx, dy)) for box in line.boxes)
    return Line(glyphs, (x0 + dx, y0 + dy, x1 + dx, y1 + dy), line.base + dy, boxes)


def _row(text: Text, line: str) -> _Row:
    """A line's clusters along it, from 0."""
    made: list[_Set] = []
    along = 0.0
    for cluster in shaped(line, text.face):
        if text.overlap and cluster.is_blank:
            along += _BLANK
            continue
        box = _cluster_box(cluster)
        if box is None:
            along += cluster.advance + (text.spacing if cluster.advance else 0.0)
            continue
        if text.overlap and made:
            along = _touching(made[-1], cluster, box, along, text.overlap)
        elif text.apart and made:
            along += _short_of(text.apart, made[-1], cluster, along)
        made.append(_Set(cluster, along, box))
        along += cluster.advance + (text.spacing if cluster.advance else 0.0)
        if text.overlap:
            along = made[-1].x + box[2]
    return tuple(made)


def _touching(before: _Set, cluster: Cluster, box: Box, along: float, overlap: float) -> float:
    """Where a letter's origin is to be so that it reaches `overlap` into the one before it, or blanks are kept."""
    blank = along - (before.x + before.box[2])
    low, high = max(before.box[1], box[1]), min(before.box[3], box[3])
    gap = box[0] - before.box[2]
    if high > low:
        heights = np.linspace(low, high, _SCANS)
        gaps = _edge(cluster, heights, left=True) - _edge(before.cluster, heights, left=False)
        nearest = np.nanmin(gaps, initial=np.inf)
        gap = float(nearest) if np.isfinite(nearest) else gap
    return before.x - gap + (blank if blank > _BLANK / 2 else -overlap)


def _short_of(apart: float, before: _Set, cluster: Cluster, along: float) -> float:
    """How far a letter has to go so that it is `apart` from the one before it."""
    if along + _cluster_box(cluster)[0] - before.x - before.box[2] >= apart:  # type: ignore[index]
        return 0.0
    fixed, moving, by = _shape(before.cluster), _shape(cluster), 0.0
    for _ in range(8):
        at = _shifted(moving, along - before.x + by, 0.0)
        short = apart - float(shapely.distance(fixed, at))
        if short <= _NEAR_ENOUGH * apart:
            break
        by += short
    return by


@lru_cache(maxsize=2048)
def _shape(cluster: Cluster) -> shapely.Geometry:
    """What a cluster fills, about its origin."""
    shapes = [_shifted(filled_glyph(g.file, g.number, _COARSE_MM), g.dx, g.dy) for g in cluster.glyphs]
    return shapely.union_all(shapes)


def _shifted(shape: shapely.Geometry, dx: float, dy: float) -> shapely.Geometry:
    return shapely.transform(shape, lambda points: np.add(points, (dx, dy)))


def _edge(cluster: Cluster, heights: NDArray[np.float64], *, left: bool) -> NDArray[np.float64]:
    """The outermost x of a cluster at some heights; no number where it has none."""
    best = np.full(len(heights), np.inf if left else -np.inf)
    for ring in _rings(cluster):
        (ax, ay), (bx, by) = ring.T, np.roll(ring, -1, axis=0).T
        rise = np.where(by == ay, 1.0, by - ay)
        share = (heights[:, None] - ay) / rise
        on = (np.minimum(ay, by) <= heights[:, None]) & (heights[:, None] <= np.maximum(ay, by)) & (by != ay)
        x = np.where(on, ax + share * (bx - ax), np.inf if left else -np.inf)
        best = np.minimum(best, x.min(axis=1)) if left else np.maximum(best, x.max(axis=1))
    return np.where(np.isfinite(best), best, np.nan)


def _rings(cluster: Cluster) -> list[NDArray[np.float64]]:
    return [np.add(ring, (g.dx, g.dy)) for g in cluster.glyphs for ring in contours(g.file, g.number, _COARSE_MM)]


@lru_cache(maxsize=2048)
def _cluster_box(cluster: Cluster) -> Box | None:
    rings = _rings(cluster)
    if not rings:
        return None
    points = np.concatenate(rings)
    (x0, y0), (x1, y1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return x0, y0, x1, y1


def _extent(row: _Row) -> Box | None:
    boxes = [(each.x + each.box[0], each.box[1], each.x + each.box[2], each.box[3]) for each in row]
    return _around(boxes) if boxes else None


def _around(boxes: Sequence[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _pitch(text: Text, extents: Sequence[Box | None]) -> float:
    """From base line to base line: the gap as asked, or more where what hangs down would meet what stands up."""
    clear = text.clear if text.clear < 0 else max(text.clear, text.apart)
    pairs = pairwise(extents)
    needed = [below[3] - above[1] + clear for above, below in pairs if above and below]
    return max(1 + text.line_gap, *needed) if needed else 1 + text.line_gap


def _radius(text: Text, extents: Sequence[Box | None], width: float, pitch: float) -> float | None:
    """The radius of the first base line, negative along the bottom, 0 for straight; None where there is no room."""
    if not text.curve:
        return 0.0
    widest = next(i for i, extent in enumerate(extents) if extent and extent[2] - extent[0] == width)
    side = math.copysign(1.0, text.curve)
    first = width / abs(text.curve) + side * widest * pitch + (side < 0)
    for i, extent in enumerate(extents):
        if extent:
            radius = first - side * i * pitch
            inner = radius + extent[1] if side > 0 else radius - extent[3]
            if inner < 0.3 or (extent[2] - extent[0]) / (radius - (side < 0)) > 2 * math.pi * 0.95:
                return None
    return side * first


def _aligned(row: _Row, extent: Box, align: Align, width: float) -> list[_Set]:
    """The row about the block's middle."""
    own = extent[2] - extent[0]
    left = {"left": -width / 2, "centre": -own / 2, "right": width / 2 - own}[align]
    return [each._replace(x=each.x - extent[0] + left) for each in row]


def _line(row: Sequence[_Set], base: float, radius: float) -> Line:
    glyphs: list[Placed] = []
    boxes: list[NDArray[np.float64]] = []
    points: list[NDArray[np.float64]] = []
    for each in row:
        middle = each.x + (each.box[0] + each.box[2]) / 2
        glyphs += (_placed(g.file, g.number, (each.x + g.dx, g.dy), middle, base, radius) for g in each.cluster.glyphs)
        x0, y0, x1, y1 = each.box
        x0, x1 = x0 + each.x, x1 + each.x
        corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
        boxes.append(_bent(corners, middle, base, radius))
        points += (_bent(np.add(ring, (each.x, 0)), middle, base, radius) for ring in _rings(each.cluster))
    every = np.concatenate(points)
    (x0, y0), (x1, y1) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
    return Line(tuple(glyphs), (x0, y0, x1, y1), base, tuple(boxes))


def _turn(middle: float, base: float, radius: float) -> tuple[float, float, float]:
    """Turn to the left and place of the point of a base line that is `middle` along it."""
    if not radius:
        return 0.0, middle, base
    own = radius + base  # over the top, the next line's circle is smaller; along the bottom, larger
    angle = middle / (own if own > 0 else own + 1)  # along the bottom it is the capitals' tops that come close
    return -angle, own * math.sin(angle), own * math.cos(angle) - radius


def _placed(file: FontFile, number: int, at: tuple[float, float], middle: float, base: float, radius: float) -> Placed:
    turn, x, y = _turn(middle, base, radius)
    c, s, along, up = math.cos(turn), math.sin(turn), at[0] - middle, at[1]
    return Placed(file, number, x + c * along - s * up, y + s * along + c * up, turn)


def _bent(points: NDArray[np.float64], middle: float, base: float, radius: float) -> NDArray[np.float64]:
    turn, x, y = _turn(middle, base, radius)
    c, s = math.cos(turn), math.sin(turn)
    along, up = points[:, 0] - middle, points[:, 1]
    return np.column_stack((x + c * along - s * up, y + s * along + c * up))
