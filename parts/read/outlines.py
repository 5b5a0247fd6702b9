"""Outlines: strokes in drawing units -> chains of lines and arcs in mm.

chain   segments on one layer, each starting at the very point where the one before it ends; closed or open
"""

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from parts.errors import Unreadable
from parts.geometry import Arc, Circle, Line, Point, Segment, distance
from parts.read.affine import Affine, scaling, shift
from parts.read.circles import MOST_OFF, as_loop, circle_of, goes_round_once
from parts.read.curve_kinds import Bezier, EllipticArc
from parts.read.curves import fitted
from parts.read.heal.mend import Mend
from parts.read.layers import side
from parts.read.limits import LARGEST_MM, Budget
from parts.read.pieces import Piece, Spot, Stroke, anchors, placed
from parts.read.raw import Raw
from parts.tolerance import HEAL_MM, SAME_END_MM, SAME_POINT_MM
from parts.units import format_distance

FAR_MM = 10_000.0
"""A drawing further from its origin is moved near before anything is measured: tolerances hold up to 10 m."""

ROUNDED_TURN, LONGEST_ROUNDED_MM = math.radians(0.0101), 1.0
"""What an arc of a full turn may lack for its angles being written to a hundredth of a degree, and how long that is."""

_SAMPLES = 12  # on each span of a closed curve that may be a circle


@dataclass(frozen=True, slots=True)
class Chain:
    """Segments in mm on a layer, end to start."""

    segments: tuple[Segment, ...]
    closed: bool
    layer: str


@dataclass(slots=True)
class Outlines:
    """The chains and spots of a drawing, where they lay, and what became of its curves.

    `fitted` counts curves by kind and, under `arcs`, the segments that stand for them; `mends` tells of single curves
    that were taken for full circles.
    """

    moved_by: Point
    chains: list[Chain] = field(default_factory=list)
    spots: list[Spot] = field(default_factory=list)
    fitted: Counter[str] = field(default_factory=Counter)
    no_length: int = 0
    mends: list[Mend] = field(default_factory=list)


def outlines(raw: Raw, unit_mm: float, budget: Budget, tolerance: float = HEAL_MM) -> Outlines:
    """Return the chains of a drawing whose unit is `unit_mm`; `tolerance` is that of healing, mm.

    Raises:
        Unreadable: if it lies or reaches beyond anything that could be a part, or holds too much.
    """
    x0, y0 = _corner(raw, unit_mm)
    far = max(abs(x0), abs(y0)) > FAR_MM
    made = Outlines((-x0, -y0) if far else (0.0, 0.0))
    to = shift(*made.moved_by).after(scaling(unit_mm, unit_mm))
    for stroke in raw.strokes:
        _take(stroke, to, made, tolerance, budget)
    made.spots = [Spot(to.point(spot.at), spot.layer) for spot in raw.spots]
    return made


def beside(stroke: Stroke, unit_mm: float, moved_by: Point, budget: Budget) -> list[Chain]:
    """Return the chains of a stroke that isn't of the drawing as it shows, moved as the drawing was.

    Raises:
        Unreadable: if it holds too much.
    """
    made = Outlines(moved_by)
    _take(stroke, shift(*moved_by).after(scaling(unit_mm, unit_mm)), made, HEAL_MM, budget)
    return made.chains


def _corner(raw: Raw, unit_mm: float) -> Point:
    """The lower left of everything, in mm."""
    at = [p for stroke in raw.strokes for piece in stroke.pieces for p in anchors(piece)]
    at += [spot.at for spot in raw.spots]
    if not at:
        return 0.0, 0.0
    xs, ys = [p[0] * unit_mm for p in at], [p[1] * unit_mm for p in at]
    if not all(math.isfinite(v) for v in (*xs, *ys)):
        raise Unreadable("something in it lies at no place on a drawing")
    size = max(max(xs) - min(xs), max(ys) - min(ys))
    if size > LARGEST_MM:
        raise Unreadable(
            f"it is {format_distance(size)} from end to end; leave only the part in it, and mind its units"
        )
    return min(xs), min(ys)


def _take(stroke: Stroke, to: Affine, made: Outlines, tolerance: float, budget: Budget) -> None:
    pieces = [q for piece in stroke.pieces for q in placed(piece, to)]
    if side(stroke.layer) is None and (loop := _full_turn(pieces, made, tolerance)):
        made.chains.append(Chain(loop, True, stroke.layer))
        return
    curves = [piece for piece in pieces if not isinstance(piece, Line | Arc) and not _is_round(piece)]
    if stroke.closed and (loop := _round(pieces)):
        made.fitted["circles"] += 1
        made.chains.append(Chain(loop, True, stroke.layer))
        return
    segments = [segment for piece in pieces for segment in _segments(piece, made, budget)]
    if curves:
        made.fitted[stroke.kind if stroke.kind in ("spline", "ellipse") else "curve"] += 1
    kept = [segment for segment in segments if segment.length > SAME_END_MM]
    made.no_length += len(segments) - len(kept) + (not segments)
    made.chains += _stitched(kept, stroke)


def _full_turn(pieces: Sequence[Piece], made: Outlines, tolerance: float) -> tuple[Segment, ...] | None:
    """The circle that one arc or ellipse is but for the tolerance, as two arcs; None where it is one exactly, or none.

    Half the sum of the half axes is the radius, half their difference how far it is off.
    """
    if len(pieces) != 1 or not isinstance(curve := pieces[0], EllipticArc):
        return None
    long, short = curve.half_axes
    radius, off = (long + short) / 2, (long - short) / 2
    lacks = max(2 * math.pi - abs(curve.sweep), 0.0)
    gap = radius * lacks
    is_rounded = lacks <= ROUNDED_TURN and gap <= LONGEST_ROUNDED_MM
    if max(off, 0.0 if is_rounded else gap) > tolerance + SAME_END_MM or gap > radius or off > radius * MOST_OFF:
        return None
    if gap > SAME_END_MM:
        made.mends.append(Mend("gap", gap, curve.at(0.0)))
    elif curve.is_round:
        return None
    if not curve.is_round:
        made.mends.append(Mend("circle", off, curve.centre))
    return as_loop(Circle(curve.centre, 2 * radius)).segments


def _is_round(piece: Piece) -> bool:
    return isinstance(piece, EllipticArc) and piece.is_round


def _segments(piece: Piece, made: Outlines, budget: Budget) -> Iterator[Segment]:
    if isinstance(piece, Line | Arc):
        yield piece
    elif isinstance(piece, EllipticArc) and piece.is_round:
        yield from piece.arcs()
    else:
        for segment in fitted(piece, budget):
            made.fitted["arcs"] += 1
            yield segment


def _round(pieces: Sequence[Piece]) -> tuple[Segment, ...] | None:
    """The circle that closed curves draw, as two arcs; its size from where the spans join, which lie on it."""
    if len(pieces) < 2 or not all(isinstance(piece, Bezier) for piece in pieces):
        return None
    joints = [piece.points[0] for piece in pieces if isinstance(piece, Bezier)]
    along = [piece.at(i / _SAMPLES) for piece in pieces if isinstance(piece, Bezier) for i in range(1, _SAMPLES)]
    around = [*joints, *along]
    circle = circle_of(joints if len(joints) > 2 else around, around)
    in_order = [piece.at(i / _SAMPLES) for piece in pieces if isinstance(piece, Bezier) for i in range(_SAMPLES)]
    if circle is None or not goes_round_once(in_order, circle.centre):
        return None
    return as_loop(circle).segments


def _stitched(segments: Sequence[Segment], stroke: Stroke) -> Iterator[Chain]:
    """The chains of a stroke, ends that are one point made exactly one; a real gap starts a new chain."""
    runs: list[list[Segment]] = []
    for segment in segments:
        before = runs[-1][-1] if runs else None
        if before is None or distance(before.end, segment.start) > SAME_END_MM:
            runs.append([segment])
        elif (joined := with_ends(segment, before.end, segment.end)) is not None:
            runs[-1].append(joined)
    closed = stroke.closed and len(runs) == 1 and len(runs[0]) > 1
    if closed and distance(runs[0][-1].end, runs[0][0].start) <= SAME_END_MM:
        last = with_ends(runs[0][-1], runs[0][-1].start, runs[0][0].start)
        if last is not None and encloses([*runs[0][:-1], last]):
            yield Chain((*runs[0][:-1], last), True, stroke.layer)
            return
    for run in runs:
        yield Chain(tuple(_halved(run)), False, stroke.layer)


def encloses(segments: Sequence[Segment]) -> bool:
    """Whether a closed chain has an inside: it isn't a line out and the same line back."""
    area = abs(math.fsum(segment.swept_area for segment in segments))
    return area > SAME_END_MM * math.fsum(segment.length for segment in segments)


def _halved(segments: Iterable[Segment]) -> Iterator[Segment]:
    """Arcs of more than half a turn as two, so that the ends of one may be joined to each other."""
    for segment in segments:
        if isinstance(segment, Arc) and abs(segment.bulge) > 1:
            yield from split(segment, segment.at(0.5), 0.5)
        else:
            yield segment


def split(segment: Segment, at: Point, fraction: float) -> tuple[Segment, ...]:
    """Return a segment as two that meet at a point of it, `fraction` of its length along."""
    if isinstance(segment, Line):
        return Line(segment.start, at), Line(at, segment.end)
    quarter = segment.sweep / 4
    bulges = math.tan(quarter * fraction), math.tan(quarter * (1 - fraction))
    ends = (segment.start, at), (at, segment.end)
    return tuple(
        Arc(a, b, bulge) if abs(bulge) * distance(a, b) > SAME_POINT_MM else Line(a, b)
        for (a, b), bulge in zip(ends, bulges, strict=True)
    )


def with_ends(segment: Segment, start: Point, end: Point) -> Segment | None:
    """Return a segment with its ends moved a little; None where nothing is left of it."""
    if distance(start, end) <= SAME_POINT_MM:
        return None
    return Line(start, end) if isinstance(segment, Line) else Arc(start, end, segment.bulge)
