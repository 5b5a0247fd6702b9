"""Hinges: each bend of a flat as what turns about it, in the order of bending; they hang from each other as a tree.

hinge    one bend: the side that stays, the side that moves, and the metal of the bend between them
across   from where the bend begins on the side that stays, square to its line, toward the side that moves
carrier  of a piece or a hinge: the hinge by which it is moved, None where it stays

The neutral line keeps its length at every angle: a (r + K T) is the same for each angle a, so a bend that is half made
takes as much of the flat as the whole one, and its radius is larger.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from parts.errors import GeometryError
from parts.forming import BendRow, bend_table, stops
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
        """The point of the flat so far across and along."""
        (x, y), (ax, ay), (ux, uy) = self.start, self.across, self.along
        return x + across * ax + along * ux, y + across * ay + along * uy

    def angle_at(self, made: float) -> float:
        """What it is turned through once so many bends are made; of 1.5, the second is half made."""
        return self.angle * min(max(made - (self.step - 1), 0.0), 1.0)


def hinged(
    record: Record, rows: Sequence[BendRow], sides: Sequence[tuple[int, int]], stay: Sequence[int]
) -> tuple[tuple[Hinge, ...], Mapping[int, int | None]]:
    """Return the hinges of a part, each after its carrier, and the carrier of each piece.

    Args:
        record: the part.
        rows: its bend table.
        sides: the pieces left and right of each bend line.
        stay: the pieces that stay where they are.

    Raises:
        GeometryError: a bend doesn't part the flat.
    """
    steps = _steps(record, rows)
    moved: dict[int, int | None] = dict.fromkeys(stay)
    made: list[Hinge] = []
    waiting = list(range(len(rows)))
    while waiting:
        at = next((i for i in waiting if (sides[i][0] in moved) != (sides[i][1] in moved)), None)
        if at is None:
            raise GeometryError(f"Bend {rows[waiting[0]].number} doesn't part the flat, so it can't be shown bent.")
        waiting.remove(at)
        left, right = sides[at]
        stays, other = (left, right) if left in moved else (right, left)
        made.append(_hinge(rows[at], steps[rows[at].number], stays == left, moved[stays]))
        moved[other] = len(made) - 1
    return tuple(made), moved


def _hinge(row: BendRow, step: int, left_stays: bool, carrier: int | None) -> Hinge:
    fold, (x, y), (ux, uy) = row.fold, row.line.start, row.line.heading
    side, half = (1.0 if left_stays else -1.0), row.fold.allowance / 2
    across = (side * uy, -side * ux)
    return Hinge(
        number=row.number,
        step=step,
        start=(x - half * across[0], y - half * across[1]),
        across=across,
        along=(ux, uy),
        allowance=fold.allowance,
        length=row.line.length,
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


def rows_of(record: Record) -> tuple[BendRow, ...]:
    """Return the bends that a part is shown with; none of a shape rolled or tried out, nor of a flat."""
    return bend_table(record.profile, record.job.cut.thickness_mm, record.job.brake) if record.is_folded else ()
