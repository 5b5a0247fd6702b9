"""What is wrong with a layout, by exact distances of true lines and arcs, and nothing that the layout itself asks."""

import math

from parts.geometry import distance
from parts.geometry.closest import closest
from parts.profile import Profile

SLACK = 1e-5
"""Coordinates of a placement are told to a millionth of a mm."""


def place(profile: Profile, x: float, y: float, turn_deg: float, mirrored: bool):
    """The loops of a part where it lies, by the contract's words: mirrored in x, turned counter-clockwise, moved."""
    from parts.geometry import Arc, Line

    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))

    def moved(p):
        px = -p[0] if mirrored else p[0]
        return c * px - s * p[1] + x, s * px + c * p[1] + y

    def segment(each):
        if isinstance(each, Line):
            return Line(moved(each.start), moved(each.end))
        return Arc(moved(each.start), moved(each.end), -each.bulge if mirrored else each.bulge)

    return [[segment(each) for each in loop.segments] for loop in profile.boundary]


def box(loops):
    x0, y0, x1, y1 = zip(*(each.box for loop in loops for each in loop), strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def is_near(a, b, by):
    return a[0] - by <= b[2] and b[0] - by <= a[2] and a[1] - by <= b[3] and b[1] - by <= a[3]


def apart(a, b, gap):
    """The distance of two parts' boundaries, as far as it is under the gap; infinite where it isn't."""
    boxes = box(b)
    near = [s for loop in a for s in loop if is_near(s.box, boxes, gap)]
    least = math.inf
    for one in near:
        for loop in b:
            for other in loop:
                if is_near(one.box, other.box, gap):
                    least = min(least, distance(*closest(one, other)))
    return least


def in_metal(loops, p):
    """Whether a point is in a part: it is inside an odd number of its loops."""
    return sum(sum(each.crossings_right_of(p) for each in loop) % 2 for loop in loops) % 2 == 1


def off_the_off_cut(placed, rings, margin):
    """Sentences for parts on an off-cut that reach beyond its outline, or nearer to it than the margin."""
    from parts.geometry import Line

    edge = [[Line(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)] for ring in rings]
    for i, loops in enumerate(placed):
        if (least := apart(loops, edge, max(margin, SLACK))) < margin - SLACK:
            yield f"{i} is {least} mm from the edge of its off-cut"
        if not in_metal(edge, loops[0][0].start):
            yield f"{i} is off its off-cut"


def wrong(placed, width, height, gap, margin):
    """Sentences for what is wrong with parts on one sheet; each is its loops where it lies."""
    boxes = [box(loops) for loops in placed]
    for x0, y0, x1, y1 in boxes:
        if min(x0, y0, width - x1, height - y1) < margin - SLACK:
            yield f"{x0, y0, x1, y1} is off the sheet or in its margin"
    for i, a in enumerate(placed):
        for j in range(i):
            if is_near(boxes[i], boxes[j], gap):
                if (least := apart(a, placed[j], gap)) < gap - SLACK:
                    yield f"{i} and {j} are {least} mm apart"
                if in_metal(a, placed[j][0][0].start) or in_metal(placed[j], a[0][0].start):
                    yield f"{i} and {j} lie on each other"
