"""The outlines of an area, traced back to the exact lines and arcs that bound it."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely

from parts.geometry.area.chords import CHORD_MM, GRID_MM, Floats, Region, chords, signed_area
from parts.geometry.intersect import carrier_crossings
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.geometry.unsplit import unsplit
from parts.tolerance import SAME_POINT_MM

# Chords of two curves that meet at a narrow angle meet far from where the curves do; further they aren't looked for.
_FARTHEST_MM = 0.5


_SAME_END_MM = 1e-5


def traced(shape: shapely.Geometry, sources: Sequence[Segment]) -> Region:
    """The loops around an area, of the lines and arcs whose chords bound it."""
    polygons = [part for part in shapely.get_parts(shape) if part.geom_type == "Polygon" and not part.is_empty]
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_rings(polygons)] if polygons else []
    tracer = Tracer(sources, len(sources))
    loops = [tracer.loop(ring[:-1]) for ring in rings if not _is_sliver(ring[:-1])]
    return tuple(loop for loop in loops if loop is not None)


def _is_sliver(ring: Floats) -> bool:
    around = float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum())
    return abs(signed_area(ring)) < CHORD_MM * around


class _Run(NamedTuple):
    """Chords that follow each other along one source, from point to point, and how far they turn about its centre."""

    source: int
    start: Point
    end: Point
    turn: float


class Tracer:
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

    def loop(self, ring: Floats) -> Loop | None:
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

    def path(self, points: Floats) -> tuple[Segment, ...]:
        """Return the open path that a row of points stands for."""
        runs = self._runs(points)
        if not runs:
            return ()
        inner = [self._corner(a, b) for a, b in pairwise(runs)]
        ends = [self._end(runs[0], runs[0].start), *inner, self._end(runs[-1], runs[-1].end)]
        return tuple(self._drawn(runs, ends))

    def _runs(self, points: Floats) -> list[_Run]:
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
