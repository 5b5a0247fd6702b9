"""The contact of two loops: coincident along a stretch, crossing, or only tangent at points."""

import itertools
from collections.abc import Iterator, Sequence
from typing import Literal, TypeAlias

from parts.geometry.intersect import meeting_points
from parts.geometry.loop import Loop
from parts.geometry.search.boxes import near_pairs
from parts.geometry.segment import Point, Segment, distance
from parts.tolerance import SAME_POINT_MM, TANGENT_MM, TOUCH_MM

ContactKind: TypeAlias = Literal["same", "along", "crossing", "touching"]
"""One loop drawn twice; on each other for a stretch; one partly in and partly out of the other; at points only."""


def contact(a: Loop, b: Loop) -> tuple[ContactKind, Point | None]:
    """Return how loop `b` meets loop `a`, and for loops on each other the middle of such a stretch."""
    pieces = list(_pieces(a, b))
    shared = [(start, end, segment) for start, end, segment, off, _ in pieces if off <= SAME_POINT_MM]
    if shared:
        along = sum(_length(*stretch) for stretch in shared)
        start, end, segment = max(shared, key=lambda stretch: _length(*stretch))
        same = max(abs(along - a.perimeter), abs(along - b.perimeter)) <= 2 * TOUCH_MM
        return "same" if same else "along", segment.at((start + end) / 2)
    # where they only touch, what lies between the touches is all in or all out; too near, its side means nothing
    sides = {a.contains(p) for _, _, _, off, p in pieces if off > TANGENT_MM}
    return ("crossing" if len(sides) > 1 else "touching"), None


def _length(start: float, end: float, segment: Segment) -> float:
    return (end - start) * segment.length


def _pieces(a: Loop, b: Loop) -> Iterator[tuple[float, float, Segment, float, Point]]:
    """Yield, of each segment of `b` that meets `a`, the pieces between the meetings.

    Each with how far it is off `a`, and where it is that far, of three places along it: two curves that touch
    may be as good as one in the middle of a short piece, but not in all three.
    """
    first = len(a.segments)
    boxes = [segment.box for segment in (*a.segments, *b.segments)]
    near: dict[int, list[Segment]] = {}
    for i, j in near_pairs(boxes, SAME_POINT_MM):
        if i < first <= j:
            near.setdefault(j - first, []).append(a.segments[i])
    for k, others in near.items():
        segment = b.segments[k]
        points = [point for other in others for point in meeting_points(segment, other)]
        if not points:
            continue
        stops = sorted({0.0, 1.0, *(min(max(segment.fraction_of(p), 0.0), 1.0) for p in points)})
        for start, end in itertools.pairwise(stops):
            if (end - start) * segment.length > TOUCH_MM:
                places = [segment.at(start + part * (end - start)) for part in (0.25, 0.5, 0.75)]
                yield start, end, segment, *max((_off(p, others), p) for p in places)


def _off(p: Point, segments: Sequence[Segment]) -> float:
    return min(distance(segment.nearest(p), p) for segment in segments)
