"""The void: the space around the material, which the jet has; where it is narrow.

A *gap* is a neck of the void (`parts.geometry.narrow.width`): the narrowest chord of a slot, a notch, a window, or of
the room between two pieces. Loops are given with the material on their left, so the void is on their right.

An *ear* is a round relief at an inside corner, one arc of more than half a turn. Its mouth is a neck, but no
gap: a jet that the ear has room for only grazes the mouth's lips, it doesn't run along between two walls.
"""

import math
from collections.abc import Iterator, Sequence

from parts.geometry.corner import turn_between
from parts.geometry.loop import Loop
from parts.geometry.narrow.convex import is_convex
from parts.geometry.narrow.memo import narrow
from parts.geometry.narrow.width import Neck
from parts.geometry.nesting import holders
from parts.geometry.room import holds
from parts.geometry.search.boxes import near_pairs
from parts.geometry.segment import Arc, Point, distance
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_NECK_MM

_EAR_TURN = math.pi / 4
"""An inside corner turns at least so far to have an ear; a round notch in an edge turns nothing in all."""


def gaps(boundary: Sequence[Loop], limit: float) -> list[Neck]:
    """Return each place where the void is narrower than `limit` mm, narrowest first, by the loops' indices.

    A round hole with nothing in it has none: it is as wide every way.
    """
    several = sum(loop.counter_clockwise for loop in boundary) > 1
    occupied = islands(boundary)
    kept = [
        i
        for i, loop in enumerate(boundary)
        if i in occupied or (several and loop.counter_clockwise) or _may_have_gaps(loop, limit)
    ]
    found = narrow(tuple(boundary[i].reversed() for i in kept)).under(limit) if kept else []
    found = [Neck(neck.start, neck.end, kept[neck.loop_a], kept[neck.loop_b]) for neck in found]
    return _without(found, [mouth for i in kept for mouth in _ear_mouths(boundary[i])]) if found else []


def islands(boundary: Sequence[Loop]) -> dict[int, list[int]]:
    """Return the pieces that lie directly in each opening, by the loops' indices; openings with none are left out."""
    found: dict[int, list[int]] = {}
    if sum(loop.counter_clockwise for loop in boundary) > 1:
        for piece, around in enumerate(holders(boundary)):
            if around and boundary[piece].counter_clockwise and not boundary[around[0]].counter_clockwise:
                found.setdefault(around[0], []).append(piece)
    return found


def _may_have_gaps(loop: Loop, limit: float) -> bool:
    """Leave out, quickly, a loop alone that can't have any: most of a part.

    The void outside a convex piece is nowhere narrow. A convex opening is nowhere narrower than the diameter of
    a circle that fits in it, for a gap across it lies between two parallel lines, and all of the opening too.
    """
    if loop.counter_clockwise:
        return not is_convex(loop)
    return loop.circle is None and not (is_convex(loop) and holds(loop, limit / 2))


def _without(found: Sequence[Neck], mouths: Sequence[tuple[Point, Point]]) -> list[Neck]:
    """The gaps that aren't the mouth of an ear."""
    middles = [neck.middle for neck in found] + [((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in mouths]
    count = len(found)
    of_ears = {
        i
        for i, j in near_pairs([(*middle, *middle) for middle in middles], SAME_NECK_MM)
        if i < count <= j and abs(distance(*mouths[j - count]) - found[i].width) <= SAME_NECK_MM
    }
    return [neck for i, neck in enumerate(found) if i not in of_ears]


def _ear_mouths(loop: Loop) -> Iterator[tuple[Point, Point]]:
    """Yield the ends of each ear's arc, when they are at least its radius apart."""
    segments = loop.unsplit
    for k, arc in enumerate(segments):
        if not isinstance(arc, Arc) or arc.sweep >= -math.pi - PARALLEL_RAD:
            continue
        before, after = segments[k - 1], segments[(k + 1) % len(segments)]
        if arc.chord >= arc.radius - LIMIT_SLACK_MM and turn_between(before, after) <= -_EAR_TURN:
            yield arc.start, arc.end
