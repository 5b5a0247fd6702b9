"""Tapered slots: round at both ends, as wide at each as asked, straight or along an arc, of lines and true arcs.

An *end* is the circle that rounds one end of the slot; the flanks touch both ends without a corner.
"""

import math

from parts.errors import GeometryError
from parts.geometry import Circle, Loop, Point, Vertex, cross, distance, slot
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import format_figures


def arc_vertex(start: Point, end: Point, centre: Point, turn: int) -> Vertex:
    """Return the vertex that an arc about `centre` leaves from, turning left (1) or right (-1) by less than a turn."""
    ax, ay = start[0] - centre[0], start[1] - centre[1]
    bx, by = end[0] - centre[0], end[1] - centre[1]
    sweep = turn * math.atan2(cross(ax, ay, bx, by), ax * bx + ay * by) % (2 * math.pi)
    return *start, turn * math.tan(sweep / 4)


def apart_from_both(a: Point, b: Point, from_a: float, from_b: float) -> Point:
    """Return the point on the left of the way from a to b with these distances from both.

    Raises:
        GeometryError: if there is none.
    """
    apart = distance(a, b)
    along = (apart**2 + from_a**2 - from_b**2) / (2 * apart) if apart else math.inf
    if not abs(along) <= from_a:
        raise GeometryError(f"No point is {format_figures(from_a)} from {a} and {format_figures(from_b)} from {b}.")
    aside = math.sqrt(from_a**2 - along**2)
    ux, uy = (b[0] - a[0]) / apart, (b[1] - a[1]) / apart
    return a[0] + along * ux - aside * uy, a[1] + along * uy + aside * ux


def straight(first: Circle, last: Circle) -> Loop:
    """Return the slot between two ends with straight flanks, counter-clockwise.

    Its flanks lean by the angle whose sine is the difference of the radii over the distance of the centres.

    Raises:
        GeometryError: if one end lies within the other.
    """
    (ax, ay), (bx, by) = first.centre, last.centre
    apart, ra, rb = distance(first.centre, last.centre), first.diameter / 2, last.diameter / 2
    if abs(ra - rb) <= LIMIT_SLACK_MM:
        middle = (ax + bx) / 2, (ay + by) / 2
        return slot(middle, apart + first.diameter, first.diameter, math.atan2(by - ay, bx - ax))
    sine = (ra - rb) / apart if apart else math.inf
    if not abs(sine) < 1:
        raise GeometryError(
            f"Ends of {format_figures(first.diameter)} and {format_figures(last.diameter)} lie within one another."
        )
    cosine = math.sqrt(1 - sine**2)
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    right, left = (sine * ux + cosine * uy, sine * uy - cosine * ux), (sine * ux - cosine * uy, sine * uy + cosine * ux)
    corners = [(ax + ra * right[0], ay + ra * right[1]), (bx + rb * right[0], by + rb * right[1])]
    corners += [(bx + rb * left[0], by + rb * left[1]), (ax + ra * left[0], ay + ra * left[1])]
    return Loop.through(
        [
            (*corners[0], 0.0),
            arc_vertex(corners[1], corners[2], last.centre, 1),
            (*corners[2], 0.0),
            arc_vertex(corners[3], corners[0], first.centre, 1),
        ]
    )


def curved(first: Circle, last: Circle, radius: float) -> Loop:
    """Return the slot between two ends along an arc that turns left with `radius`, counter-clockwise.

    The outer flank is an arc of the radius plus the mean of the ends' radii, and touches both ends from
    around them; the inner one, of the radius less that mean, from between. Where the ends are alike both
    are concentric with the arc.

    Raises:
        GeometryError: if no such arcs touch both ends.
    """
    p, q, ra, rb = first.centre, last.centre, first.diameter / 2, last.diameter / 2
    lean = (ra - rb) / 2
    around = apart_from_both(p, q, radius - lean, radius + lean)
    between = apart_from_both(p, q, radius + lean, radius - lean)
    outer = _away(p, around, ra), _away(q, around, rb)
    inner = _away(q, between, -rb), _away(p, between, -ra)
    return Loop.through(
        [
            arc_vertex(outer[0], outer[1], around, 1),
            arc_vertex(outer[1], inner[0], q, 1),
            arc_vertex(inner[0], inner[1], between, -1),
            arc_vertex(inner[1], outer[0], p, 1),
        ]
    )


def _away(p: Point, centre: Point, length: float) -> Point:
    """The point `length` from p straight away from a centre."""
    share = length / distance(p, centre)
    return p[0] + share * (p[0] - centre[0]), p[1] + share * (p[1] - centre[1])
