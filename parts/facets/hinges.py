"""Hinges: each bend of a flat as what turns about it, in the order of bending; they hang from each other as a tree.

hinge    where a bend line runs in metal: a side that stays, a side that moves, and the metal of the bend between them
across   from where the bend begins on the side that stays, square to its line, toward the side that moves
carrier  of a piece or a hinge: the hinge by which it is moved, None where it stays

The neutral line keeps its length at every angle: a (r + K T) is the same for each angle a, so a bend that is half made
takes as much of the flat as the whole one, and its radius is larger.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from parts.errors import GeometryError
from parts.forming import BendRow, Parted, Span, stops
from parts.geometry import Point
from parts.record import Record


@dataclass(frozen=True, slots=True)
class Hinge:
    """One bend: its number on the drawing, its step in the order of bending, and its frame on the flat.

    `start` is where the bend begins on the side that stays, at the start of its line; `across` and `along` are unit
    vectors. `neutral` is the height of the neutral line above the underside of the sheet. Lengths are mm, the angle
    radians.
    """

    number: int
    step: int
    start: Point
    across: Point
    along: Point
    allowance: float
    length: float
    angle: float
    up: bool
    neutral: float
    carrier: int | None

    def at(self, across: float, along: float) -> Point:
        """Return the point of the flat so far across and along."""
        (x, y), (ax, ay), (ux, uy) = self.start, self.across, self.along
        return x + across * ax + along * ux, y + across * ay + along * uy

    def angle_at(self, made: float) -> float:
        """Return what it is turned through once so many bends are made; of 1.5, the second is half made."""
        return self.angle * min(max(made - (self.step - 1), 0.0), 1.0)


def hinged(record: Record, rows: Sequence[BendRow], flat: Parted) -> tuple[tuple[Hinge, ...], Mapping[int, int | None]]:
    """Return the hinges of a part, each after its carrier, and the carrier of each piece; the largest pieces stay.

    Raises:
        GeometryError: a bend doesn't part the flat.
    """
    steps = _steps(record, rows)
    moved: dict[int, int | None] = {}
    made: list[Hinge] = []
    waiting = dict.fromkeys(range(len(flat.spans)))
    for root in sorted(range(len(flat.pieces)), key=lambda i: -flat.pieces[i].area):
        if root in moved:
            continue
        moved[root] = None
        while (at := next((i for i in waiting if moved.keys() & set(flat.beside[i])), None)) is not None:
            waiting.pop(at)
            left, right = flat.beside[at]
            row = rows[flat.spans[at].bend]
            if left == right:
                raise GeometryError(f"bend {row.number} doesn't part the flat")
            stays, other = (left, right) if left in moved else (right, left)
            made.append(_hinge(flat.spans[at], row, steps[row.number], stays == left, moved[stays]))
            moved.setdefault(other, len(made) - 1)
    return tuple(made), moved


def _hinge(span: Span, row: BendRow, step: int, left_stays: bool, carrier: int | None) -> Hinge:
    fold, (ux, uy) = row.fold, row.line.heading
    side = 1.0 if left_stays else -1.0
    return Hinge(
        number=row.number,
        step=step,
        start=span.corners(left=left_stays)[0],
        across=(side * uy, -side * ux),
        along=(ux, uy),
        allowance=2 * span.half,
        length=span.end - span.start,
        angle=fold.angle,
        up=fold.up,
        neutral=fold.thickness * (1 - fold.k if fold.up else fold.k),
        carrier=carrier,
    )


def _steps(record: Record, rows: Sequence[BendRow]) -> Mapping[int, int]:
    """The step of each bend by its number: in the order of bending as it is told, else by the numbers."""
    order = [stop.bend.number for stop in stops(record.profile, rows)]
    order += [row.number for row in rows if row.number not in order]
    return {number: step for step, number in enumerate(order, start=1)}
