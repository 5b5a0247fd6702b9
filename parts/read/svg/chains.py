"""Chains of lines and arcs, as shapes of an SVG are drawn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.geometry import Arc, Line, Loop, Segment, distance
from parts.read.affine import Affine
from parts.read.curve_kinds import EllipticArc
from parts.read.curves import fitted
from parts.read.limits import Budget
from parts.read.outlines import with_ends
from parts.read.pieces import Piece, line, placed
from parts.tolerance import SAME_END_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Chain:
    """Lines and arcs in mm, each starting where the one before it ends, and whether they come back to the start."""

    segments: tuple[Segment, ...]
    closed: bool

    def as_loop(self) -> Loop | None:
        """Return the loop that it is when it is filled; None where there is nothing to fill."""
        first, last = self.segments[0].start, self.segments[-1].end
        back = line(last, first) if distance(first, last) > SAME_POINT_MM else ()
        segments = [*self.segments, *(piece for piece in back if isinstance(piece, Line))]
        if not back and (ended := with_ends(segments[-1], segments[-1].start, first)):
            segments[-1] = ended
        return Loop(tuple(segments)) if len(segments) > 1 else None


def chain(pieces: Sequence[Piece], closed: bool, to: Affine, budget: Budget) -> Chain | None:
    """Return pieces drawn end to end as lines and arcs, placed in mm; None where nothing has any length.

    Raises:
        Unreadable: if there are too many.
    """
    made: list[Segment] = []
    for piece in pieces:
        for segment in (each for part in placed(piece, to) for each in _straight_or_round(part, budget)):
            if segment.length <= SAME_END_MM:
                continue
            start = made[-1].end if made else segment.start
            if (joined := with_ends(segment, start, segment.end)) is not None:
                made.append(joined)
    if not made:
        return None
    if closed and 0 < distance(made[-1].end, made[0].start) <= SAME_END_MM:
        made[-1] = with_ends(made[-1], made[-1].start, made[0].start) or made[-1]
    if closed and made[-1].end != made[0].start:
        made += [each for each in line(made[-1].end, made[0].start) if isinstance(each, Line)]
    return Chain(tuple(made), closed)


def _straight_or_round(piece: Piece, budget: Budget) -> Iterator[Segment]:
    budget.segments()
    if isinstance(piece, EllipticArc) and piece.is_round:
        yield from piece.arcs()
    elif isinstance(piece, Line | Arc):
        yield piece
    else:
        yield from fitted(piece, budget)
