"""A belt led round pins: an outline of straight flanks, every corner an arc of a pin that the flanks touch.

A pin's radius is positive where the belt turns left round it (an outside corner of a counter-clockwise outline),
negative where it turns right (an inside corner), and 0 for a sharp corner. Pins that touch have no flank between them:
the belt goes over from one to the other. Lengths are mm.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from parts.errors import GeometryError
from parts.geometry.draft import Vertex
from parts.geometry.loop import Loop
from parts.geometry.segment import Line, Point
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM


class Pin(NamedTuple):
    """Centre of a corner's arc, and its radius with the sign of the turn."""

    at: Point
    radius: float


def polar(radius: float, angle: float) -> Point:
    """Return the point at a distance from the origin, `angle` radians to the left of the x axis."""
    return radius * math.cos(angle), radius * math.sin(angle)


def belt(pins: Sequence[Pin]) -> Loop:
    """Return the closed outline round the pins in their order.

    Raises:
        GeometryError: if two pins that follow each other overlap, or the belt would turn the other way at one.
    """
    normals = [_normal(pins[i - 1], pin) for i, pin in enumerate(pins)]  # of the flank that arrives at each
    vertices: list[Vertex] = []
    for i, ((x, y), r) in enumerate(pins):
        (ax, ay), (bx, by) = normals[i], normals[(i + 1) % len(pins)]
        turn = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
        if not r or abs(turn) <= PARALLEL_RAD:
            vertices.append((x + r * bx, y + r * by, 0.0))
            continue
        if turn * r < 0:
            raise GeometryError(f"The outline turns the other way at {(x, y)}.")
        vertices += [(x + r * ax, y + r * ay, math.tan(turn / 4)), (x + r * bx, y + r * by, 0.0)]
    return Loop.through(vertices)


def tangent(first: Pin, last: Pin) -> Line:
    """Return the common tangent of two pins that follow each other, a flank of the belt.

    Raises:
        GeometryError: if they overlap.
    """
    (nx, ny), ((ax, ay), ra), ((bx, by), rb) = _normal(first, last), first, last
    return Line((ax + ra * nx, ay + ra * ny), (bx + rb * nx, by + rb * ny))


def _normal(first: Pin, last: Pin) -> Point:
    """The unit vector to the right of the flank from one pin to the next.

    The flank's points are a radius along it from both centres: its share of the way between them is the
    difference of the radii.
    """
    ((ax, ay), ra), ((bx, by), rb) = first, last
    apart, differ = math.hypot(bx - ax, by - ay), ra - rb
    if apart > abs(differ) + SAME_POINT_MM:
        sine = differ / apart
    elif apart and apart >= abs(differ) - SAME_POINT_MM:  # they touch
        sine = math.copysign(1.0, differ)
    else:
        raise GeometryError(f"The corners at {first.at} and {last.at} overlap.")
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    cosine = math.sqrt(1 - sine**2)
    return sine * ux + cosine * uy, sine * uy - cosine * ux
