"""The extent of a loop: its least width and greatest length, at any angle, on its true arcs.

The *width* at an angle is the distance between the two parallel lines square to it that the loop just fits
between. Its smallest value is the short side of the narrowest box around the loop; its largest is the
greatest distance between two points. Both are looked for on the hull of a flattened view, a chord error apart,
then taken on the true segments: the greatest in closed form on the few pairs of segments that can hold it,
the least on the directions of straight segments or, where arcs bound it, by golden section.
"""

import math
from collections.abc import Callable, Iterator

import numpy as np

from parts.cached import cached_property
from parts.geometry.loop import Loop
from parts.geometry.search.grid import Floats
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.geometry.view import flattened, hull
from parts.tolerance import SAME_POINT_MM

_CHORD_MM = 0.05
_ROUGH_MM = 2 * _CHORD_MM  # widths of the hull are smaller than the true ones by this at most

# Directions tried on an outline whose hull has more corners than this.
_MANY = 720
_GOLDEN = (math.sqrt(5) - 1) / 2
# From a bracket of less than half a turn down to the last bits of an angle.
_STEPS = 70


class Extent:
    """The widths of a loop, in mm, by angle in radians."""

    def __init__(self, loop: Loop) -> None:
        self._segments = loop.segments
        self._owners: dict[Point, list[int]] = {}
        for k, segment in enumerate(loop.segments):
            for point in (*flattened(segment, _CHORD_MM), segment.end):
                self._owners.setdefault(point, []).append(k)
        self._hull = hull(list(self._owners))

    def width(self, angle: float) -> float:
        """Return the width at an angle."""
        return self._reach(angle) + self._reach(angle + math.pi)

    def middle(self, angle: float) -> Point:
        """Return the middle of the bounding box of the loop with one side at an angle."""
        c, s = math.cos(angle), math.sin(angle)
        u = (self._reach(angle) - self._reach(angle + math.pi)) / 2
        v = (self._reach(angle + math.pi / 2) - self._reach(angle - math.pi / 2)) / 2
        return c * u - s * v, s * u + c * v

    @property
    def surely(self) -> float:
        """A width that the loop has at every angle, as the hull says: no more than the least."""
        low = float(np.min(self._rough))
        if len(self._hull) <= _MANY:
            return low
        span = self._hull.max(axis=0) - self._hull.min(axis=0)  # between two directions it can fall by so much
        return low - math.pi / (2 * _MANY) * float(np.hypot(*span))

    def least(self) -> tuple[float, float]:
        """Return the least width and its angle."""
        best = int(np.argmin(self._rough))
        angle, low, high = self._bracket(best)
        normals = {math.atan2(s.heading[0], -s.heading[1]) % math.pi for s in self._segments if isinstance(s, Line)}
        tried = [angle, *(a for a in normals if (a - low) % math.pi <= high - low)]
        found = [(self.width(a), a) for a in tried]
        if any(isinstance(segment, Arc) for segment in self._segments):
            found.append(_golden(self._width_between(low, high), low, high))
        return min(found)

    def greatest(self) -> float:
        """Return the greatest distance between two points."""
        if len(self._hull) > _MANY:
            best = float(self._directions[int(np.argmax(self._rough))])
            length, _ = _golden(lambda angle: -self.width(angle), best - math.pi / _MANY, best + math.pi / _MANY)
            return -length
        apart = np.hypot(*(self._hull[:, None, :] - self._hull[None, :, :]).T)
        i, j = np.nonzero(np.triu(apart >= apart.max() - 2 * _ROUGH_MM, 1))
        owners = [self._owners[x, y] for x, y in self._hull.tolist()]
        pairs = {(a, b) for p, q in zip(i.tolist(), j.tolist(), strict=True) for a in owners[p] for b in owners[q]}
        return max(farthest(self._segments[a], self._segments[b]) for a, b in pairs)

    @cached_property
    def _directions(self) -> Floats:
        """Angles at which the least width can be but for flattening: square to the convex hull's edges, in order."""
        if len(self._hull) > _MANY:
            return np.arange(_MANY, dtype=float) * (math.pi / _MANY)
        along = np.roll(self._hull, -1, axis=0) - self._hull
        return np.unique(np.arctan2(along[:, 0], -along[:, 1]) % math.pi)

    @cached_property
    def _rough(self) -> Floats:
        """The widths of the convex hull at those angles, a batch at a time so that memory stays small."""
        angles = self._directions
        widths: Floats = np.empty(len(angles))
        for k in range(0, len(angles), 64):
            part = angles[k : k + 64]
            along = self._hull @ np.stack([np.cos(part), np.sin(part)])
            widths[k : k + 64] = along.max(axis=0) - along.min(axis=0)
        return widths

    def _bracket(self, best: int) -> tuple[float, float, float]:
        """The best direction and those beside it, rising."""
        directions = self._directions
        angle = float(directions[best])
        low, high = float(directions[best - 1]), float(directions[(best + 1) % len(directions)])
        return angle, low - math.pi * (low >= angle), high + math.pi * (high <= angle)

    def _width_between(self, low: float, high: float) -> Callable[[float], float]:
        """The width at angles between two, by those segments alone that reach farthest at any of them."""
        middle, half = (low + high) / 2, (high - low) / 2
        ahead, behind = (self._farthest_about(angle, half) for angle in (middle, middle + math.pi))
        return lambda angle: ahead(angle) + behind(angle + math.pi)

    def _farthest_about(self, middle: float, half: float) -> Callable[[float], float]:
        """The reach at angles up to `half` from `middle`, as `_reach` has it."""
        c, s = math.cos(middle), math.sin(middle)
        starts, arcs, round_them = self._arrays
        reaches = c * starts[:, 0] + s * starts[:, 1]
        out = c * round_them[:, 0] + s * round_them[:, 1] + round_them[:, 2]
        across = np.hypot(*(starts.max(axis=0) - starts.min(axis=0))) + 2 * round_them[:, 2].max(initial=0.0)
        least = reaches.max() - across * half  # turned by so much, none gains more on another
        points = starts[reaches >= least].tolist()
        rounds = [(*round_them[i].tolist(), arcs[i]) for i in np.flatnonzero(out >= least).tolist()]

        def reach(angle: float) -> float:
            c, s = math.cos(angle), math.sin(angle)
            farthest: float = max([c * x + s * y for x, y in points])
            for x, y, r, arc in rounds:
                out = c * x + s * y + r
                if out > farthest and arc.covers((x + r * c, y + r * s)):
                    farthest = out
            return farthest

        return reach

    def _reach(self, angle: float) -> float:
        """The support function of the loop: how far it reaches from the origin in a direction."""
        c, s = math.cos(angle), math.sin(angle)
        starts, arcs, round_them = self._arrays
        reach = float((c * starts[:, 0] + s * starts[:, 1]).max())
        out = c * round_them[:, 0] + s * round_them[:, 1] + round_them[:, 2]
        beyond = np.flatnonzero(out > reach)
        for i in beyond[np.argsort(-out[beyond], kind="stable")].tolist():
            (x, y), r = arcs[i].centre, arcs[i].radius
            if arcs[i].covers((x + r * c, y + r * s)):
                return float(out[i])
        return reach

    @cached_property
    def _arrays(self) -> tuple[Floats, tuple[Arc, ...], Floats]:
        """Where the segments start; the arcs, and their centres and radii."""
        arcs = tuple(segment for segment in self._segments if isinstance(segment, Arc))
        starts = np.array([segment.start for segment in self._segments], dtype=float)
        round_them = np.array([(*arc.centre, arc.radius) for arc in arcs], dtype=float).reshape(-1, 3)
        return starts, arcs, round_them


def farthest(a: Segment, b: Segment) -> float:
    """Return the greatest distance between a point of one segment and a point of another, or the same one."""
    return max(
        distance(p, q)
        for points, others in ((_far_points(a, b), b), (_far_points(b, a), a))
        for p in points
        for q in _ends_and_far(others, p)
    )


def _far_points(a: Segment, b: Segment) -> Iterator[Point]:
    """Points of `a` that can be an end of the greatest distance: its ends, and opposite the centre of `b`."""
    yield a.start
    yield a.end
    if isinstance(a, Arc) and isinstance(b, Arc):
        yield from _opposite(a, b.centre)


def _ends_and_far(segment: Segment, p: Point) -> Iterator[Point]:
    yield segment.start
    yield segment.end
    if isinstance(segment, Arc):
        yield from _opposite(segment, p)


def _opposite(arc: Arc, p: Point) -> Iterator[Point]:
    """The point of an arc's circle farthest from `p`, if it is on the arc."""
    (cx, cy), away = arc.centre, distance(arc.centre, p)
    if away > SAME_POINT_MM:
        k = arc.radius / away
        far = cx + (cx - p[0]) * k, cy + (cy - p[1]) * k
        if arc.covers(far):
            yield far


def _golden(width: Callable[[float], float], low: float, high: float) -> tuple[float, float]:
    """The minimum of a unimodal function between two angles, and where it is: golden-section search."""
    a, b = low, high
    c, d = b - _GOLDEN * (b - a), a + _GOLDEN * (b - a)
    at_c, at_d = width(c), width(d)
    for _ in range(_STEPS):
        if at_c < at_d:
            b, d, at_d = d, c, at_c
            c = b - _GOLDEN * (b - a)
            at_c = width(c)
        else:
            a, c, at_c = c, d, at_d
            d = a + _GOLDEN * (b - a)
            at_d = width(d)
    return min((at_c, c), (at_d, d))
