"""Wide lines: the outline of a line that is drawn with a width, its sides met in mitres, its ends square.

side   what lies half a width to the left of the middle, or to the right of it
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from parts.geometry import Arc, Line, Point, Segment, circle_crossings, distance, line_crossings
from parts.tolerance import SAME_POINT_MM

_STEP, _STRAIGHT = math.radians(10), 1e-9
LONGEST_MITRE = 4.0
"""Half widths from the middle's corner to the tip of a mitre; beyond it the corner is cut off, as of a sharp angle."""


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a line's middle, and half its width at either end."""

    middle: Segment
    at_start: float
    at_end: float


def outline(spans: Sequence[Span], *, closed: bool) -> tuple[tuple[Segment, ...], ...] | None:
    """Return the closed chains around a wide line: one where it is open, the outer and the inner where it is closed.

    Of a closed line so wide that nothing is left inside it there is only the outer. None where the line is bent so
    tightly for its width that its sides can't be told.
    """
    spans = [each for span in spans for each in _in_steps(span)]
    sides = [_side(spans, closed=closed, sign=sign) for sign in (1, -1)]
    if closed:
        chains = [side for side in sides if side]
        return tuple(chains) if chains and None not in sides else None
    left, right = sides
    if not left or not right:
        return None
    back = tuple(segment.reversed() for segment in reversed(right))
    caps = [Line(a, b) if distance(a, b) > SAME_POINT_MM else None for a, b in
            ((left[-1].end, back[0].start), (back[-1].end, left[0].start))]  # fmt: skip
    return (tuple(piece for piece in (*left, caps[0], *back, caps[1]) if piece),)


def _side(spans: Sequence[Span], *, closed: bool, sign: int) -> tuple[Segment, ...] | None:
    """One side, end to end; empty where a closed line leaves nothing on it, None where it can't be told."""
    shifted = [_shifted(span, sign) for span in spans]
    if closed and all(piece is None for piece in shifted):
        return ()
    pieces = [piece for piece in shifted if piece is not None]
    if len(pieces) < len(shifted):
        return None
    half = max(max(span.at_start, span.at_end) for span in spans)
    pairs = [*pairwise(range(len(pieces)))] + ([(len(pieces) - 1, 0)] if closed and len(pieces) > 1 else [])
    ends: dict[int, Point] = {}
    starts: dict[int, Point] = {}
    for i, j in pairs:
        ends[i], starts[j] = _joint(pieces[i], pieces[j], spans[i].middle.end, LONGEST_MITRE * half)
    done: list[Segment] = []
    for i, piece in enumerate(pieces):
        trimmed = _between(piece, starts.get(i, piece.start), ends.get(i, piece.end))
        if trimmed is None:
            return () if closed and _all_turned(pieces, starts, ends) else None
        done.append(trimmed)
    return tuple(_bridged(done, closed=closed))


def _all_turned(pieces: Sequence[Segment], starts: dict[int, Point], ends: dict[int, Point]) -> bool:
    return all(_between(piece, starts[i], ends[i]) is None for i, piece in enumerate(pieces) if i in starts)


def _shifted(span: Span, sign: int) -> Segment | None:
    """A stretch's side as if it were alone; None of an arc that is too tight."""
    middle, near, far = span.middle, sign * span.at_start, sign * span.at_end
    if isinstance(middle, Arc):
        left = middle.radius if middle.bulge > 0 else -middle.radius  # to the centre, which lies left of a left turn
        share = 1 - near / left
        if min(share, 1 - far / left) * middle.radius <= SAME_POINT_MM:
            return None
        if near != far:
            return _spiral(middle, [1 - off / left for off in (near, (near + far) / 2, far)])
        start, end = (_toward(middle.centre, p, share) for p in (middle.start, middle.end))
        return Arc(start, end, middle.bulge) if distance(start, end) > SAME_POINT_MM else None
    (ux, uy) = middle.heading
    start = middle.start[0] - near * uy, middle.start[1] + near * ux
    return Line(start, (middle.end[0] - far * uy, middle.end[1] + far * ux))


def _in_steps(span: Span) -> Iterator[Span]:
    """A stretch that tapers along an arc, in steps so short that arcs stand for its sides, which are spirals.

    Of a radius that grows by k in a turn of a, an arc through both ends and the middle is off by about k a^2 / 250,
    which is under 0.1 % of the taper in steps of 10 degrees.
    """
    middle = span.middle
    if span.at_start == span.at_end or not isinstance(middle, Arc):
        yield span
        return
    steps = math.ceil(abs(middle.sweep) / _STEP)
    bulge = math.tan(middle.sweep / steps / 4)
    stops = [middle.start, *(middle.at(i / steps) for i in range(1, steps)), middle.end]
    for i, (a, b) in enumerate(pairwise(stops)):
        near, far = (span.at_start + (span.at_end - span.at_start) * j / steps for j in (i, i + 1))
        yield Span(Arc(a, b, bulge), near, far)


def _spiral(middle: Arc, shares: Sequence[float]) -> Segment | None:
    """The arc through three points of a side: at both ends of its middle and half way, each at its own radius."""
    centre = middle.centre
    points = (middle.start, middle.at(0.5), middle.end)
    (ax, ay), (mx, my), (bx, by) = (_toward(centre, p, share) for p, share in zip(points, shares, strict=True))
    if distance((ax, ay), (bx, by)) <= SAME_POINT_MM:
        return None
    turn = math.atan2((mx - ax) * (by - my) - (my - ay) * (bx - mx), (mx - ax) * (bx - mx) + (my - ay) * (by - my))
    bulge = math.tan(turn / 2)  # both chords turn by half the sweep into each other
    return Arc((ax, ay), (bx, by), bulge) if abs(turn) > _STRAIGHT else Line((ax, ay), (bx, by))


def _toward(centre: Point, p: Point, share: float) -> Point:
    return centre[0] + share * (p[0] - centre[0]), centre[1] + share * (p[1] - centre[1])


def _joint(a: Segment, b: Segment, corner: Point, furthest: float) -> tuple[Point, Point]:
    """Where one piece of a side ends and the next begins: at their mitre, or each at its own end."""
    if distance(a.end, b.start) <= SAME_POINT_MM:
        return a.end, a.end
    found = circle_crossings(a, b.centre, b.radius) if isinstance(b, Arc) else line_crossings(a, b.start, b.heading)
    near = [p for p in found if distance(p, corner) <= furthest]
    if not near:
        return a.end, b.start
    mitre = min(near, key=lambda p: distance(p, a.end) + distance(p, b.start))
    return mitre, mitre


def _between(piece: Segment, start: Point, end: Point) -> Segment | None:
    """A piece of a side from mitre to mitre; None where they have passed each other."""
    if distance(start, end) <= SAME_POINT_MM:
        return None
    if isinstance(piece, Line):
        forth = (end[0] - start[0]) * piece.heading[0] + (end[1] - start[1]) * piece.heading[1]
        return Line(start, end) if forth > 0 else None
    if start == piece.start and end == piece.end:
        return piece
    (cx, cy), turn = piece.centre, 1 if piece.bulge > 0 else -1
    angles = [math.atan2(p[1] - cy, p[0] - cx) for p in (start, end)]
    sweep = turn * (angles[1] - angles[0]) % (2 * math.pi)
    most = abs(piece.sweep) + math.pi / 2
    return Arc(start, end, turn * math.tan(sweep / 4)) if sweep < most else None


def _bridged(pieces: Sequence[Segment], *, closed: bool) -> Iterator[Segment]:
    """The pieces with a line wherever one doesn't end where the next begins."""
    following = [*pieces[1:], pieces[0] if closed else None]
    for piece, after in zip(pieces, following, strict=True):
        yield piece
        if after is not None and distance(piece.end, after.start) > SAME_POINT_MM:
            yield Line(piece.end, after.start)
