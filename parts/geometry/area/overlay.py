"""Overlay: regions bounded by lines and arcs, united, intersected and taken from one another.

region    what closed loops fill by the even-odd rule; loops of one region don't cross, though they may touch

Which stretches of the boundary remain is decided by GEOS on chords within CHORD_MM of the arcs, snapped to a grid of
GRID_MM. What is handed back are the lines and arcs themselves, cut where they truly meet: chords decide what stays
and never how it looks. Shapes nearer than CHORD_MM to each other may be told apart wrongly, and what is thinner than
that is left out.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Literal, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.geometry.area.chords import CHORD_MM, GRID_MM, Floats, Region, chords, chords_of, signed_area
from parts.geometry.area.traced import Tracer, traced
from parts.geometry.loop import Loop
from parts.geometry.segment import Point, Segment

FillRule: TypeAlias = Literal["nonzero", "evenodd"]
_Tick: TypeAlias = Callable[[], None]

_AT_ONCE = 1_000_000  # pairs of a point and a chord that are compared between two ticks


def filled(loops: Sequence[Loop], rule: FillRule, tick: _Tick) -> Region:
    """Return the region that loops fill, which may cross themselves and one another; `tick` is called now and then."""
    sources = [segment for loop in loops for segment in loop.segments]
    return traced(_area([chords_of(loop) for loop in loops], rule, tick), sources)


def filled_rings(rings: Sequence[NDArray[np.float64]], rule: FillRule) -> shapely.Geometry:
    """Return the area that closed rows of points fill, each an array of x and y, not closed; few, so nobody waits."""
    return _area(rings, rule, lambda: None)


def united(regions: Sequence[Region], tick: _Tick) -> Region:
    """Return what lies in any of the regions."""
    tick()
    shapes = [_shape(region, tick) for region in regions]
    return traced(shapely.union_all(shapes, grid_size=GRID_MM), _segments(regions))


def common(a: Region, b: Region, tick: _Tick) -> Region:
    """Return what lies in both regions."""
    return traced(shapely.intersection(_shape(a, tick), _shape(b, tick), grid_size=GRID_MM), _segments((a, b)))


def without(a: Region, b: Region, tick: _Tick) -> Region:
    """Return what lies in the first region and not in the second."""
    return traced(shapely.difference(_shape(a, tick), _shape(b, tick), grid_size=GRID_MM), _segments((a, b)))


def clipped(path: Sequence[Segment], region: Region, tick: _Tick) -> tuple[tuple[Segment, ...], ...]:
    """Return the stretches of a path, each segment starting where the one before it ends, that lie in a region."""
    line = shapely.LineString([*(p for segment in path for p in chords(segment)), path[-1].end])
    inside = shapely.intersection(line, _shape(region, tick), grid_size=GRID_MM)
    merged = shapely.line_merge(inside) if inside.geom_type == "MultiLineString" else inside
    parts = [part for part in shapely.get_parts(merged) if part.geom_type == "LineString"]
    tracer = Tracer([*path, *_segments((region,))], len(path))
    return tuple(run for part in parts if (run := tracer.path(shapely.get_coordinates(part))))


def covers(region: Region, box: tuple[float, float, float, float], tick: _Tick) -> bool:
    """Tell whether a box lies in a region, and not on its edge."""
    grown = shapely.box(box[0] - CHORD_MM, box[1] - CHORD_MM, box[2] + CHORD_MM, box[3] + CHORD_MM)
    return bool(shapely.contains_properly(_shape(region, tick), grown))


def is_simple(rings: Sequence[Sequence[Point]]) -> bool:
    """Tell whether closed rows of points neither cross, touch nor repeat themselves or each other."""
    lines = [[*ring, ring[0]] for ring in rings if len(ring) > 2]
    return bool(shapely.is_simple(shapely.MultiLineString(lines))) if lines else True


def winding_numbers(rings: Sequence[Sequence[Point]], tick: _Tick) -> list[tuple[int, int]]:
    """Return for each of some simple rings how often they all wind round what lies just outside and inside it."""
    arrays = [np.asarray(ring, dtype=float) for ring in rings]
    turns = [1 if signed_area(ring) > 0 else -1 for ring in arrays]
    shapes = [shapely.Polygon(ring) for ring in arrays]
    outside = [0] * len(arrays)
    tick()
    for inner, outer in shapely.STRtree(shapes).query(np.array(shapes), predicate="within").T.tolist():
        if inner != outer:
            outside[inner] += turns[outer]
    return [(around, around + turn) for around, turn in zip(outside, turns, strict=True)]


def _segments(regions: Iterable[Region]) -> list[Segment]:
    return [segment for region in regions for loop in region for segment in loop.segments]


def _shape(region: Region, tick: _Tick) -> shapely.Geometry:
    return _area([chords_of(loop) for loop in region], "evenodd", tick)


def _area(rings: Sequence[Sequence[Point] | Floats], rule: FillRule, tick: _Tick) -> shapely.Geometry:
    """The area that rings fill: the faces between their lines that they wind round as the rule asks."""
    tick()
    arrays = [np.asarray(ring, dtype=float) for ring in rings if len(ring) > 2]
    if len(arrays) == 1:
        alone = shapely.Polygon(arrays[0])
        if shapely.is_valid(alone):
            return alone
    if not arrays:
        return shapely.Polygon()
    starts = np.concatenate(arrays)
    ends = np.concatenate([np.roll(ring, -1, axis=0) for ring in arrays])
    lines = shapely.MultiLineString([np.vstack([ring, ring[:1]]).tolist() for ring in arrays])
    noded = shapely.union_all([lines], grid_size=GRID_MM)
    tick()
    faces = shapely.get_parts(shapely.polygonize([noded]))
    wound = _winding(shapely.get_coordinates(shapely.point_on_surface(faces)), starts, ends, tick)
    kept = faces[wound % 2 == 1 if rule == "evenodd" else wound != 0]
    return shapely.union_all(kept, grid_size=GRID_MM)


def _winding(points: Floats, starts: Floats, ends: Floats, tick: _Tick) -> NDArray[np.int64]:
    """How often chords wind round each point: those that cross the ray to its right, rising less falling."""
    (ax, ay), (bx, by) = starts.T, ends.T
    rise = by - ay
    slope = np.divide(bx - ax, rise, out=np.zeros_like(rise), where=rise != 0)
    wound = np.zeros(len(points), dtype=np.int64)
    batch = max(_AT_ONCE // max(len(starts), 1), 1)
    for i in range(0, len(points), batch):
        tick()
        x, y = points[i : i + batch, :1], points[i : i + batch, 1:]
        crossing = ((ay > y) != (by > y)) & (ax + (y - ay) * slope > x)
        wound[i : i + batch] = (crossing * np.sign(rise)).sum(axis=1)
    return wound
