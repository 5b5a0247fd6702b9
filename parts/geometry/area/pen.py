"""Pen: the area that a pen of some width paints along a path of lines and arcs, with its joins, caps and dashes.

body    what the pen paints along one segment: as wide as the pen, square to the path
join    what fills the outside of a corner between two bodies
cap     what is added at an open end

Joins, caps and dashes are those of SVG 2, sections 13.5.4 to 13.5.7. The area is handed back as loops that overlap;
`parts.geometry.area.united` makes one outline of them.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, TypeAlias

from parts.errors import GeometryError
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import SAME_POINT_MM

Cap: TypeAlias = Literal["butt", "round", "square"]
Join: TypeAlias = Literal["miter", "round", "bevel"]

MOST_DASHES = 5000
# Bodies whose ends turn by less than this from each other have nothing between them that could be seen.
_SMOOTH_RAD = 1e-7


@dataclass(frozen=True, slots=True)
class Pen:
    """A pen's width in mm, how it joins and ends, and its dashes: lengths on and off in mm, and where these start.

    `miter_limit` is how many times as long as wide a mitre may be before it is a bevel.
    """

    width: float
    cap: Cap = "butt"
    join: Join = "miter"
    miter_limit: float = 4.0
    dashes: tuple[float, ...] = ()
    offset: float = 0.0


def painted(path: Sequence[Segment], closed: bool, pen: Pen) -> list[Loop]:
    """Return loops that together cover what a pen paints along a path; each segment starts where the last one ends.

    Raises:
        GeometryError: if there are more than MOST_DASHES dashes on it.
    """
    strokes = dashed(path, closed, pen) if pen.dashes else [(path, closed)]
    return [loop for stroke, is_closed in strokes for loop in _stroke(stroke, is_closed, pen)]


def dashed(path: Sequence[Segment], closed: bool, pen: Pen) -> list[tuple[Sequence[Segment], bool]]:
    """Return the dashes of a path, each a path; the path itself where its dashes come to nothing.

    Raises:
        GeometryError: if there are too many.
    """
    whole = math.fsum(pen.dashes)
    if whole <= SAME_POINT_MM or min(pen.dashes) < 0:
        return [(path, closed)]
    lengths = pen.dashes * (1 + len(pen.dashes) % 2)
    if sum(s.length for s in path) / math.fsum(lengths) * len(lengths) > MOST_DASHES:
        raise GeometryError(f"A path has more than {MOST_DASHES} dashes.")
    index, left = _first_dash(lengths, pen.offset)
    made: list[tuple[Sequence[Segment], bool]] = []
    current: list[Segment] = []
    for segment in path:
        at = 0.0
        while segment.length - at > left:
            if index % 2 == 0:
                current += _stretch(segment, at, at + left)
                made.append((current, False))
                current = []
            at, index = at + left, (index + 1) % len(lengths)
            left = lengths[index]
        if index % 2 == 0:
            current += _stretch(segment, at, segment.length)
        left -= segment.length - at
    return [(stroke, False) for stroke, _ in [*made, (current, False)] if stroke]


def _first_dash(lengths: Sequence[float], offset: float) -> tuple[int, float]:
    """Which dash or gap a path starts in, and how much of it is left."""
    at = offset % math.fsum(lengths)
    for i, length in enumerate(lengths):
        if at < length:
            return i, length - at
        at -= length
    return 0, lengths[0]


def _stretch(segment: Segment, low: float, high: float) -> tuple[Segment, ...]:
    """The stretch of a segment between two lengths along it; none where nothing is left."""
    if high - low <= SAME_POINT_MM:
        return ()
    whole = segment.length
    start = segment.start if low == 0 else segment.at(low / whole)
    end = segment.end if high == whole else segment.at(high / whole)
    if distance(start, end) <= SAME_POINT_MM:
        return ()
    if isinstance(segment, Line):
        return (Line(start, end),)
    return (Arc(start, end, math.tan((high - low) / whole * segment.sweep / 4)),)


def _stroke(path: Sequence[Segment], closed: bool, pen: Pen) -> Iterator[Loop]:
    half = pen.width / 2
    for segment in path:
        yield from _body(segment, half)
    for before, after in pairwise([*path, path[0]] if closed else path):
        yield from _joint(before, after, pen)
    if not closed:
        (ux, uy), (vx, vy) = path[0].heading_at_start, path[-1].heading_at_end
        yield from _cap(path[0].start, (-ux, -uy), pen)
        yield from _cap(path[-1].end, (vx, vy), pen)


def _body(segment: Segment, half: float) -> Iterator[Loop]:
    if isinstance(segment, Line):
        ux, uy = segment.heading
        side = -uy * half, ux * half
        (ax, ay), (bx, by), (sx, sy) = segment.start, segment.end, side
        yield _polygon([(ax - sx, ay - sy), (bx - sx, by - sy), (bx + sx, by + sy), (ax + sx, ay + sy)])
        return
    inner = segment.radius - half
    outer = _scaled(segment, segment.radius + half)
    if inner > 2 * SAME_POINT_MM:
        back = _scaled(segment, inner).reversed()
        yield Loop((outer, Line(outer.end, back.start), back, Line(back.end, outer.start)))
        return
    yield _pie(outer)
    if inner < -2 * SAME_POINT_MM:  # the inner edge has passed the centre and lies on the other side of it
        yield _pie(_scaled(segment, inner))


def _scaled(arc: Arc, radius: float) -> Arc:
    """An arc about the same centre with the same turn; a negative radius is that on the other side of it."""
    (cx, cy), k = arc.centre, radius / arc.radius
    (ax, ay), (bx, by) = arc.start, arc.end
    return Arc((cx + k * (ax - cx), cy + k * (ay - cy)), (cx + k * (bx - cx), cy + k * (by - cy)), arc.bulge)


def _pie(arc: Arc) -> Loop:
    if abs(arc.sweep) > math.pi - 1e-9:  # in two, since at half a turn its sides are one line
        middle, quarter = arc.at(0.5), math.tan(arc.sweep / 8)
        halves = Arc(arc.start, middle, quarter), Arc(middle, arc.end, quarter)
        return Loop((*halves, Line(arc.end, arc.centre), Line(arc.centre, arc.start)))
    return Loop((arc, Line(arc.end, arc.centre), Line(arc.centre, arc.start)))


def _joint(before: Segment, after: Segment, pen: Pen) -> Iterator[Loop]:
    """What fills the outside of the corner between two segments."""
    (ux, uy), (vx, vy), at = before.heading_at_end, after.heading_at_start, after.start
    turn = math.atan2(cross(ux, uy, vx, vy), ux * vx + uy * vy)
    if abs(turn) <= _SMOOTH_RAD:
        return
    out = -math.copysign(pen.width / 2, turn)  # to the right of a left turn
    a = at[0] - uy * out, at[1] + ux * out
    b = at[0] - vy * out, at[1] + vx * out
    back = math.pi - abs(turn) <= 1e-9  # straight back: no mitre, and no bevel either
    if pen.join == "round":
        yield (
            Loop(_half_disc(at, (a[0] - at[0], a[1] - at[1]), -1.0 if turn < 0 else 1.0))
            if back
            else _pie(Arc(a, b, math.tan(turn / 4)))
        )
    elif not back:
        over = 1 + (a[0] - at[0]) * (b[0] - at[0]) / out**2 + (a[1] - at[1]) * (b[1] - at[1]) / out**2
        tip = at[0] + (a[0] + b[0] - 2 * at[0]) / over, at[1] + (a[1] + b[1] - 2 * at[1]) / over
        sharp = pen.join == "miter" and math.cos(turn / 2) * pen.miter_limit >= 1
        yield _polygon([at, a, tip, b] if sharp else [at, a, b])


def _cap(at: Point, away: Point, pen: Pen) -> Iterator[Loop]:
    half = pen.width / 2
    (x, y), (ux, uy) = at, (away[0] * half, away[1] * half)
    if pen.cap == "round":
        yield Loop(_half_disc(at, (uy, -ux)))
    elif pen.cap == "square":
        yield _polygon([(x + uy, y - ux), (x + uy + ux, y - ux + uy), (x - uy + ux, y + ux + uy), (x - uy, y + ux)])


def _half_disc(at: Point, side: Point, way: float = 1.0) -> tuple[Segment, ...]:
    """Half a disc, from one side of it left round to the other and straight back; right round if `way` is -1."""
    (x, y), (sx, sy) = at, side
    start, end = (x + sx, y + sy), (x - sx, y - sy)
    return Arc(start, end, way), Line(end, start)


def _polygon(corners: Sequence[Point]) -> Loop:
    return Loop(tuple(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)))
