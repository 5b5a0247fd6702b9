"""A smooth curve of arcs whose circles touch each other one after the other.

Each circle is a pin as in `parts.geometry.figure.belt`: its radius is positive where the curve turns left round it,
negative where it turns right. Two circles that touch from outside have unlike signs, one within the other like ones.
Lengths are mm.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from parts.errors import GeometryError
from parts.geometry import Point, Vertex, distance
from parts.geometry.figure import Pin
from parts.templates.silhouette.shared.tapered import apart_from_both, arc_vertex
from parts.tolerance import SAME_POINT_MM


def joint(first: Pin, last: Pin) -> Point:
    """Return where the curve goes over from one pin to the next: right of the heading, a radius from both centres.

    Raises:
        GeometryError: if the two don't touch.
    """
    (a, b), ((x, y), r) = (first.at, last.at), first
    apart = r - last.radius
    if not apart or abs(distance(a, b) - abs(apart)) > SAME_POINT_MM:
        raise GeometryError(f"The arcs about {a} and {b} don't touch.")
    return x + r * (b[0] - x) / apart, y + r * (b[1] - y) / apart


def kissing(start: Point, pins: Sequence[Pin], end: Point) -> list[Vertex]:
    """Return the vertices of the curve from a point on the first pin up to a point on the last, without that.

    Raises:
        GeometryError: if pins that follow each other don't touch.
    """
    joints = [start, *(joint(a, b) for a, b in pairwise(pins)), end]
    return [arc_vertex(joints[i], joints[i + 1], pin.at, 1 if pin.radius > 0 else -1) for i, pin in enumerate(pins)]


def bow(first: Pin, last: Pin, half: float) -> Pin:
    """Return the pin that leads a belt from one pin to the next in a bow instead of straight.

    Over the way between the pins' centres the bow would turn by twice `half` radians, to the left where positive; the
    one of that radius that touches both pins is taken.

    Raises:
        GeometryError: if none does.
    """
    radius = distance(first.at, last.at) / (2 * math.sin(half))
    reaches = abs(radius - first.radius), abs(radius - last.radius)
    if half > 0:
        return Pin(apart_from_both(first.at, last.at, *reaches), radius)
    return Pin(apart_from_both(last.at, first.at, *reversed(reaches)), radius)
