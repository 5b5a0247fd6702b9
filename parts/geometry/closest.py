"""The closest points of two segments, in closed form on true arcs."""

from collections.abc import Iterator

from parts.geometry.intersect import meeting_points
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import SAME_POINT_MM


def closest(a: Segment, b: Segment) -> tuple[Point, Point]:
    """Return the closest points of two segments, on `a` and on `b`; one point twice where they meet.

    They are closest at an end of one of them, or where the chord between them stands square on both.
    """
    if met := meeting_points(a, b):
        return met[0], met[0]
    pairs = [(end, b.nearest(end)) for end in (a.start, a.end)]
    pairs += [(a.nearest(end), end) for end in (b.start, b.end)]
    pairs += [(p, q) for p, q in _square(a, b) if _on(a, p) and _on(b, q)]
    return min(pairs, key=lambda pair: distance(*pair))


def _square(a: Segment, b: Segment) -> Iterator[tuple[Point, Point]]:
    """Yield the common normals of the whole lines or circles of both, as chords; none of parallel lines."""
    if isinstance(a, Line):
        if isinstance(b, Arc):
            foot = a.at(a.fraction_of(b.centre))
            yield from ((foot, q) for q in _on_circle(b, foot))
    elif isinstance(b, Line):
        yield from ((p, q) for q, p in _square(b, a))
    else:
        yield from ((p, q) for p in _on_circle(a, b.centre) for q in _on_circle(b, a.centre))


def _on_circle(arc: Arc, toward: Point) -> tuple[Point, ...]:
    """The points of an arc's circle nearest to a point and furthest from it; none seen from the centre."""
    (cx, cy), apart = arc.centre, distance(arc.centre, toward)
    if apart <= SAME_POINT_MM:
        return ()
    x, y = arc.radius * (toward[0] - cx) / apart, arc.radius * (toward[1] - cy) / apart
    return (cx + x, cy + y), (cx - x, cy - y)


def _on(segment: Segment, p: Point) -> bool:
    return distance(segment.nearest(p), p) <= SAME_POINT_MM
