"""A curved span as tangent arcs: from point to point the longest biarcs that stay within the tolerance."""

import math

import numpy as np

from parts.artwork.biarc import biarc
from parts.artwork.fitting.offsets import Floats, edge_feet, right_offsets
from parts.artwork.fitting.rings import Span
from parts.errors import GeometryError

Vertex = tuple[float, float, float]


def headings(span: Span) -> Floats:
    """Return the heading at each point: that of the circle through it and its neighbours; given ones as they are."""
    edge = np.diff(span.points, axis=0)
    length = np.hypot(*edge.T)
    angle = np.unwrap(np.arctan2(edge[:, 1], edge[:, 0]))
    made = np.empty(len(span.points))
    turn = np.diff(angle)
    made[1:-1] = angle[:-1] + turn * length[:-1] / (length[:-1] + length[1:])
    if span.closed:
        last = (angle[0] - angle[-1] + math.pi) % (2 * math.pi) - math.pi
        made[0] = made[-1] = angle[-1] + last * length[-1] / (length[-1] + length[0])
        return made
    made[0] = 2 * angle[0] - made[1] if len(turn) else angle[0]
    made[-1] = 2 * angle[-1] - made[-2] if len(turn) else angle[-1]
    if span.leaving is not None:
        made[0] = span.leaving
    if span.arriving is not None:
        made[-1] = span.arriving
    return made


def along(span: Span, tolerance: float) -> list[Vertex]:
    """Return the vertices, with their bulges, of tangent arcs along a span; the last point left out."""
    points, heading, last = span.points, headings(span), len(span.points) - 1
    made: list[Vertex] = []
    i = 0
    while i < last:
        good, step = i + 1, 2
        best = _pair(points, heading, i, i + 1, tolerance, sure=True)
        bad = last + 1
        while good < last and good + 1 < bad:
            j = min(i + step, last) if bad > last else (good + bad) // 2
            tried = _pair(points, heading, i, j, tolerance)
            if tried:
                good, best, step = j, tried, step * 2
            else:
                bad = j
        made += best or [(float(points[i][0]), float(points[i][1]), 0.0)]
        i = good
    return made


def _pair(points: Floats, heading: Floats, i: int, j: int, tolerance: float, sure: bool = False) -> list[Vertex] | None:
    """The biarc from one point to another, where it stays within the tolerance."""
    a, b = points[i], points[j]
    try:
        made = biarc((float(a[0]), float(a[1])), heading[i], (float(b[0]), float(b[1])), heading[j])
    except GeometryError:
        return None
    if max(abs(made[0][2]), abs(made[1][2])) > 0.42:
        return None
    middle = np.array(made[1][:2])
    way = np.array([math.cos(t := heading[i] + 4 * math.atan(made[0][2])), math.sin(t)])
    run = points[i : j + 1]
    side = (run - middle) @ way
    first = run[: max(int(np.searchsorted(side > 0, True)), 1) + 1]
    second = run[max(len(run) - int(np.searchsorted(side[::-1] < 0, True)) - 1, 0) :]
    off = max(_off(first, a, middle, made[0][2]), _off(second, middle, b, made[1][2]))
    return made if off <= tolerance else None


def _off(points: Floats, start: Floats, end: Floats, bulge: float) -> float:
    chord = end - start
    half = 2 * math.atan(bulge)
    length = math.hypot(*chord)
    c, s = math.cos(half), math.sin(half)
    tx, ty = (chord[0] * c + chord[1] * s) / length, (chord[1] * c - chord[0] * s) / length
    normal, curvature = np.array([-ty, tx]), np.array(2 * s / length)
    feet = edge_feet(points[:-1], points[1:], start, normal, curvature)
    return float(np.abs(right_offsets(np.vstack([points, feet]), start, normal, curvature)).max())
