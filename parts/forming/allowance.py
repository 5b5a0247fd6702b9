"""Bending: from outside dimensions to the flat, and where its bend lines lie.

bend angle      what the sheet is turned through, radians: 0 is flat, pi / 2 a square corner
inside radius   R, of the face on the inside of the bend; T is the thickness
K-factor        where the neutral line lies, which keeps its length: K T from the inside face
bend allowance  length of the neutral line through the bend: A (R + K T)
setback         from the mould point, where the outside faces would meet, to the bend: tan(A / 2) (R + T)
bend deduction  what the flat is shorter than the sum of the outside dimensions: 2 setbacks less the allowance

The formulas are those of Machinery's Handbook (lengths of bends), Groover's Fundamentals of Modern
Manufacturing (eq. 20.9) and FAA-H-8083-31. Lengths are mm.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from parts.errors import GeometryError
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import format_figures


@dataclass(frozen=True, slots=True)
class Fold:
    """One bend: its angle in radians, inside radius, thickness and K-factor; `up` is toward the face drawn."""

    angle: float
    radius: float
    thickness: float
    k: float
    up: bool = True

    @property
    def allowance(self) -> float:
        """Length of the bend on the flat, mm."""
        return self.angle * (self.radius + self.k * self.thickness)

    @property
    def setback(self) -> float:
        """From the mould point to where the bend begins, mm."""
        return math.tan(self.angle / 2) * (self.radius + self.thickness)

    @property
    def deduction(self) -> float:
        """What the flat is shorter than the two outside dimensions, mm."""
        return 2 * self.setback - self.allowance

    @property
    def relief(self) -> float:
        """How far beyond its line a relief beside the bend reaches, mm: R + T, common practice."""
        return self.radius + self.thickness


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip bent along parallel lines: straight pieces with a bend between each two, in order."""

    straights: tuple[float, ...]
    folds: tuple[Fold, ...]

    @property
    def length(self) -> float:
        """Length of the flat, mm."""
        return math.fsum((*self.straights, *(fold.allowance for fold in self.folds)))

    @property
    def spans(self) -> tuple[tuple[float, float], ...]:
        """From where to where along the flat each straight piece runs, mm."""
        allowances = [fold.allowance for fold in self.folds]
        starts = [math.fsum((*self.straights[:i], *allowances[:i])) for i in range(len(self.straights))]
        return tuple((start, start + straight) for start, straight in zip(starts, self.straights, strict=True))

    @property
    def lines(self) -> tuple[float, ...]:
        """How far along the flat the middle of each bend lies, mm."""
        pieces = [s + f.allowance for s, f in zip(self.straights, self.folds, strict=False)]
        return tuple(end - fold.allowance / 2 for end, fold in zip(accumulate(pieces), self.folds, strict=True))


def strip(outside: Sequence[float], folds: Sequence[Fold]) -> Strip:
    """Return the strip whose pieces have these outside dimensions, from mould point to mould point.

    A piece between bends that turn opposite ways is measured over all, between its outside faces: each of
    its mould points lies on the outside of its own bend.

    Raises:
        GeometryError: if a piece is shorter than its bends take.
    """
    if len(folds) != len(outside) - 1:
        raise GeometryError(f"{len(outside)} pieces need {len(outside) - 1} bends, not {len(folds)}.")
    setbacks = [0.0, *(fold.setback for fold in folds), 0.0]
    straights = []
    for i, piece in enumerate(outside):
        taken = setbacks[i] + setbacks[i + 1]
        if piece <= taken + LIMIT_SLACK_MM:
            raise GeometryError(
                f"A piece of {format_figures(piece)} outside is all taken by its bends, {format_figures(taken)}."
            )
        straights.append(piece - taken)
    return Strip(tuple(straights), tuple(folds))
