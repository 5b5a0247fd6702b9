"""Patches: the pieces of the flat with arcs as chords, and each bend in strips that stay flat as it is made."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.facets.hinges import Hinge, hinged
from parts.forming import Edge, FlatPiece, bend_table, parted
from parts.geometry import Line, Point
from parts.record import Record

STRIP_RAD = math.radians(7.5)
"""What a strip turns through at most."""
CHORD_SHARE, LEAST_CHORD_MM = 1 / 4000, 0.01
"""Chord error of arcs: of the part's longer side, and at least."""
TURN_SHARE = 1 - math.cos(math.radians(6))
"""The most of a chord error in radii: that of chords that turn by 12 degrees from one to the next."""


@dataclass(frozen=True, slots=True)
class Ring:
    """The corners around metal, or around an opening in it, metal on the left; `cut` says of each side if it is cut.

    What isn't cut goes on in a bend, or in its next strip. Side i runs from corner i to the next.
    """

    corners: tuple[Point, ...]
    cut: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Patch:
    """Metal within the first ring and outside the others, and the hinge that moves it.

    Of a strip `place` is its number in the bend, from 0; its first side is where it begins, its third where it ends.
    """

    rings: tuple[Ring, ...]
    hinge: int | None
    place: int | None = None
    is_last: bool = False


def patches(record: Record) -> tuple[tuple[Hinge, ...], tuple[Patch, ...]]:
    """Return a part's hinges and patches.

    Raises:
        GeometryError: something runs into a bend, or a bend doesn't part the flat.
    """
    thickness, brake = record.job.cut.thickness_mm, record.job.brake
    rows = bend_table(record.profile, thickness, brake) if record.is_folded else ()
    flat = parted(record.profile, list(zip(record.bends, (row.fold for row in rows), strict=False)))
    hinges, moved = hinged(record, rows, flat)
    x0, y0, x1, y1 = record.profile.box
    chord = max(CHORD_SHARE * max(x1 - x0, y1 - y0), LEAST_CHORD_MM)
    pieces = [Patch(tuple(_rings(piece, chord)), moved[i]) for i, piece in enumerate(flat.pieces)]
    return hinges, (*pieces, *(strip for i, hinge in enumerate(hinges) for strip in _strips(i, hinge)))


def _rings(piece: FlatPiece, chord: float) -> Iterator[Ring]:
    for chain in (piece.outside, *piece.inside):
        points = [(p, edge.seam is None) for edge in chain for p in _points(edge, chord)]
        yield Ring(tuple(p for p, _ in points), tuple(cut for _, cut in points))


def _points(edge: Edge, chord: float) -> Sequence[Point]:
    """The start of a segment, and points along an arc, its end left out."""
    segment = edge.segment
    if isinstance(segment, Line):
        return (segment.start,)
    error = min(chord / segment.radius, TURN_SHARE)
    turn = 2 * math.acos(1 - error)
    return segment.points(max(math.ceil(abs(segment.sweep) / turn), 1))[:-1]


def _strips(number: int, hinge: Hinge) -> Iterator[Patch]:
    """Yield the strips of a bend, from the side that stays on."""
    count = max(math.ceil(hinge.angle / STRIP_RAD), 1)
    wide, length = hinge.allowance / count, hinge.length
    turns = hinge.across[0] * hinge.along[1] - hinge.across[1] * hinge.along[0]
    for i in range(count):
        low, high = wide * i, wide * (i + 1)
        ends = [(low, length), (low, 0.0), (high, 0.0), (high, length)]
        if turns < 0:
            ends = [(low, 0.0), (low, length), (high, length), (high, 0.0)]
        ring = Ring(tuple(hinge.at(*end) for end in ends), (False, True, False, True))
        yield Patch((ring,), number, i, is_last=i == count - 1)
