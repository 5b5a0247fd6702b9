"""Overlay: regions bounded by lines and arcs, united, intersected and taken from one another.

region    what closed loops fill by the even-odd rule; loops of one region don't cross, though they may touch

Which stretches of the boundary remain is decided by GEOS on chords within CHORD_MM of the arcs, snapped to a grid of
GRID_MM. What is handed back are the lines and arcs themselves, cut where they truly meet: chords decide what stays
and never how it looks. Shapes nearer than CHORD_MM to each other may be told apart wrongly, and what is thinner than
that is left out.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.geometry.intersect import carrier_crossings
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.geometry.unsplit import unsplit
from parts.tolerance import SAME_POINT_MM

CHORD_MM = 0.002
"""How far chords lie from the arcs they stand for: a tenth of what curves are fitted within."""
GRID_MM = 1e-6
"""Points are snapped to a grid this fine, so that what all but coincides does."""

Region: TypeAlias = tuple[Loop, ...]
FillRule: TypeAlias = Literal["nonzero", "evenodd"]
_Floats: TypeAlias = NDArray[np.float64]
_Tick: TypeAlias = Callable[[], None]

_AT_ONCE = 1_000_000  # pairs of a point and a chord that are compared between two ticks
# Chords of two curves that meet at a narrow angle meet far from where the curves do; further they aren't looked for.
_FARTHEST_MM = 0.5
_SAME_END_MM = 1e-5


def filled(loops: Sequence[Loop], rule: FillRule, tick: _Tick) -> Region:
    """Return the region that loops fill, which may cross themselves and one another; `tick` is called now and then."""
    sources = [segment for loop in loops for segment in loop.segments]
    return _traced(_area([chords_of(loop) for loop in loops], rule, tick), sources)


def filled_rings(rings: Sequence[NDArray[np.float64]], rule: FillRule) -> shapely.Geometry:
    """Return the area that closed rows of points fill, each an array of x and y, not closed; few, so nobody waits."""
    return _area(rings, rule, lambda: None)


def united(regions: Sequence[Region], tick: _Tick) -> Region:
    """Return what lies in any of the regions."""
    tick()
    shapes = [_shape(region, tick) for region in regions]
    return _traced(shapely.union_all(shapes, grid_size=GRID_MM), _segments(regions))


def common(a: Region, b: Region, tick: _Tick) -> Region:
    """Return what lies in both regions."""
    return _traced(shapely.intersection(_shape(a, tick), _shape(b, tick), grid_size=GRID_MM), _segments((a, b)))


def without(a: Region, b: Region, tick: _Tick) -> Region:
    """Return what lies in the first region and not in the second."""
    return _traced(shapely.difference(_shape(a, tick), _shape(b, tick), grid_size=GRID_MM), _segments((a, b)))


def clipped(path: Sequence[Segment], region: Region, tick: _Tick) -> tuple[tuple[Segment, ...], ...]:
    """Return the stretches of a path, each segment starting where the one before it ends, that lie in a region."""
    line = shapely.LineString([*(p for segment in path for p in chords(segment)), path[-1].end])
    inside = shapely.intersection(line, _shape(region, tick), grid_size=GRID_MM)
    merged = shapely.line_merge(inside) if inside.geom_type == "MultiLineString" else inside
    parts = [part for part in shapely.get_parts(merged) if part.geom_type == "LineString"]
    tracer = _Tracer([*path, *_segments((region,))], len(path))
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
    turns = [1 if _signed_area(ring) > 0 else -1 for ring in arrays]
    shapes = [shapely.Polygon(ring) for ring in arrays]
    outside = [0] * len(arrays)
    tick()
    for inner, outer in shapely.STRtree(shapes).query(np.array(shapes), predicate="within").T.tolist():
        if inner != outer:
            outside[inner] += turns[outer]
    return [(around, around + turn) for around, turn in zip(outside, turns, strict=True)]


def chords(segment: Segment) -> list[Point]:
    """Return points along a segment, its start first, its end left out.

    On an arc they lie at whole steps of its circle, so that two arcs of one circle have the same chords.
    """
    if isinstance(segment, Line):
        return [segment.start]
    step = 2 * math.pi / max(math.ceil(math.pi / math.acos(max(1 - CHORD_MM / segment.radius, 0.0))), 8)
    (cx, cy), (ax, ay), r, sweep = segment.centre, segment.start, segment.radius, segment.sweep
    first = math.atan2(ay - cy, ax - cx)
    low, high = sorted((first, first + sweep))
    numbers = range(math.floor(low / step + 1e-6) + 1, math.ceil(high / step - 1e-6))
    inner = [(cx + r * math.cos(n * step), cy + r * math.sin(n * step)) for n in numbers]
    return [segment.start, *(inner if sweep > 0 else inner[::-1])]


def chords_of(loop: Loop) -> list[Point]:
    """Return the points of a loop's chords, not closed."""
    return [p for segment in loop.segments for p in chords(segment)]


def _segments(regions: Iterable[Region]) -> list[Segment]:
    return [segment for region in regions for loop in region for segment in loop.segments]


def _shape(region: Region, tick: _Tick) -> shapely.Geometry:
    return _area([chords_of(loop) for loop in region], "evenodd", tick)


def _area(rings: Sequence[Sequence[Point] | _Floats], rule: FillRule, tick: _Tick) -> shapely.Geometry:
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


def _winding(points: _Floats, starts: _Floats, ends: _Floats, tick: _Tick) -> NDArray[np.int64]:
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


def _signed_area(ring: _Floats) -> float:
    x, y = (ring - ring[0]).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def _traced(shape: shapely.Geometry, sources: Sequence[Segment]) -> Region:
    """The loops around an area, of the lines and arcs whose chords bound it."""
    polygons = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon" and not part.is_empty]
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_rings(polygons)] if polygons else []
    tracer = _Tracer(sources, len(sources))
    loops = [tracer.loop(ring[:-1]) for ring in rings if not _is_sliver(ring[:-1])]
    return tuple(loop for loop in loops if loop is not None)


def _is_sliver(ring: _Floats) -> bool:
    around = float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum())
    return abs(_signed_area(ring)) < CHORD_MM * around


class _Run(NamedTuple):
    """Chords that follow each other along one source, from point to point, and how far they turn about its centre."""

    source: int
    start: Point
    end: Point
    turn: float


class _Tracer:
    """Finds for chords the lines and arcs that they stand for, and cuts those where they meet."""

    def __init__(self, sources: Sequence[Segment], own: int) -> None:
        """Take the sources; the first `own` of them may be part of what is traced, the rest only cut it."""
        self._sources = sources
        stops = [[*chords(segment), segment.end] for segment in sources]
        pairs = [pair for points in stops[:own] for pair in pairwise(points)]
        self._owner = np.array([i for i, points in enumerate(stops[:own]) for _ in points[1:]], dtype=np.int64)
        self._tree = _tree(pairs)
        self._own = own
        self._edges = {} if own == len(sources) else self._others(stops)

    def _others(self, stops: Sequence[Sequence[Point]]) -> dict[str, object]:
        rest = [(i, pair) for i in range(self._own, len(stops)) for pair in pairwise(stops[i])]
        tree = _tree([pair for _, pair in rest])
        return {"tree": tree, "owner": [i for i, _ in rest]}

    def loop(self, ring: _Floats) -> Loop | None:
        """Return the loop that a ring of points stands for; None where nothing is left of it."""
        runs = self._runs(np.vstack([ring, ring[:1]]))
        if len(runs) > 1 and self._goes_on(runs[-1], runs[0]):
            runs[0] = _joined(runs[-1], runs[0])
            runs.pop()
        if len(runs) == 1:
            return self._circle(runs[0])
        if not runs:
            return None
        corners = [self._corner(runs[i - 1], runs[i]) for i in range(len(runs))]
        segments = self._drawn(runs, [*corners, corners[0]])
        return Loop(unsplit(segments)) if len(segments) > 1 else None

    def _circle(self, run: _Run) -> Loop | None:
        """The full circle of a run that comes back to its start."""
        source = self._sources[run.source]
        if isinstance(source, Line) or abs(run.turn) < math.pi:
            return None
        (cx, cy), r, way = source.centre, source.radius, math.copysign(1.0, run.turn)
        left, right = (cx - r, cy), (cx + r, cy)
        return Loop((Arc(left, right, way), Arc(right, left, way)))

    def path(self, points: _Floats) -> tuple[Segment, ...]:
        """Return the open path that a row of points stands for."""
        runs = self._runs(points)
        if not runs:
            return ()
        inner = [self._corner(a, b) for a, b in pairwise(runs)]
        ends = [self._end(runs[0], runs[0].start), *inner, self._end(runs[-1], runs[-1].end)]
        return tuple(self._drawn(runs, ends))

    def _runs(self, points: _Floats) -> list[_Run]:
        middles = shapely.points((points[1:] + points[:-1]) / 2)
        owners = self._owner[self._tree.nearest(middles)].tolist()
        row = [(float(x), float(y)) for x, y in points]
        runs: list[_Run] = []
        for owner, (a, b) in zip(owners, pairwise(row), strict=True):
            run = _Run(owner, a, b, _turn(self._sources[owner], a, b))
            if runs and self._goes_on(runs[-1], run):
                runs[-1] = _joined(runs[-1], run)
            else:
                runs.append(run)
        return runs

    def _goes_on(self, before: _Run, after: _Run) -> bool:
        """Whether two runs are of one source, or of two that are one line or lie on one circle."""
        a, b = self._sources[before.source], self._sources[after.source]
        return before.source == after.source or (before.turn * after.turn > 0 and _same_circle(a, b))

    def _corner(self, before: _Run, after: _Run) -> Point:
        """Where two runs truly meet: at an end of both sources, or where they cross."""
        a, b, near = self._sources[before.source], self._sources[after.source], after.start
        for end in (b.start, b.end, a.start, a.end):
            if distance(end, near) <= _SAME_END_MM:
                return end
        return _nearest_crossing(a, b, near)

    def _end(self, run: _Run, near: Point) -> Point:
        """Where a path truly ends: at an end of its source, or where it is cut by an edge."""
        source = self._sources[run.source]
        for end in (source.start, source.end):
            if distance(end, near) <= _SAME_END_MM:
                return end
        tree, owner = self._edges.get("tree"), self._edges.get("owner")
        if not isinstance(tree, shapely.STRtree) or not isinstance(owner, list):
            return near
        edge = self._sources[owner[int(tree.nearest(shapely.Point(near)))]]
        return _nearest_crossing(source, edge, near)

    def _drawn(self, runs: Sequence[_Run], corners: Sequence[Point]) -> list[Segment]:
        made: list[Segment] = []
        at = corners[0]
        for i, run in enumerate(runs):
            last = i == len(runs) - 1
            if distance(at, corners[i + 1]) <= SAME_POINT_MM:
                if last and made:
                    made[-1] = _ending(made[-1], corners[i + 1])
                continue
            made.append(_between(self._sources[run.source], at, corners[i + 1], run.turn))
            at = corners[i + 1]
        return made


def _tree(pairs: Sequence[tuple[Point, Point]]) -> shapely.STRtree:
    """Chords, to be asked for the one nearest to a point."""
    return shapely.STRtree(np.asarray(shapely.linestrings(np.array(pairs).reshape(-1, 2, 2))))


def _joined(before: _Run, after: _Run) -> _Run:
    return _Run(before.source, before.start, after.end, before.turn + after.turn)


def _turn(source: Segment, a: Point, b: Point) -> float:
    """By how much a chord turns about the centre of its arc, left positive; 0 for a line."""
    if isinstance(source, Line):
        return 0.0
    cx, cy = source.centre
    ux, uy, vx, vy = a[0] - cx, a[1] - cy, b[0] - cx, b[1] - cy
    return math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def _same_circle(a: Segment, b: Segment) -> bool:
    if not isinstance(a, Arc) or not isinstance(b, Arc):
        return False
    return distance(a.centre, b.centre) <= GRID_MM and abs(a.radius - b.radius) <= GRID_MM


def _nearest_crossing(a: Segment, b: Segment, near: Point) -> Point:
    found = [p for p in carrier_crossings(a, b) if distance(p, near) <= _FARTHEST_MM]
    return min(found, key=lambda p: distance(p, near), default=near)


def _between(source: Segment, start: Point, end: Point, about: float) -> Segment:
    """The stretch of a source between two points on it, which turns by about so much about its centre."""
    if isinstance(source, Arc):
        sweep = _turn(source, start, end)
        sweep += 2 * math.pi * round((about - sweep) / (2 * math.pi))
        bulge = math.tan(sweep / 4) if abs(sweep) < 2 * math.pi else 0.0
        if sweep * about > 0 and abs(bulge) * distance(start, end) / 2 > SAME_POINT_MM:
            return Arc(start, end, bulge)
    return Line(start, end)


def _ending(segment: Segment, end: Point) -> Segment:
    return Line(segment.start, end) if isinstance(segment, Line) else Arc(segment.start, end, segment.bulge)
