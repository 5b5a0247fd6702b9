"""The bend table of a part, made from the marks of its profile: what a brake operator sets and checks.

number      of the bend line, in the order of the marks; it stands beside the line on the drawing
allowance   length of the neutral line through the bend
deduction   what the flat is shorter there than the outside dimensions; none for a bend of half a turn, whose outside
            faces never meet
neutral     where its neutral line lies, and by whose word
tested      the shop's test bend that says K, if one does, and so how far off the deduction may be
V opening   of the die for the thickness and the inside radius; none for a bend that no die is narrow enough for
from end    square to the line from the end of the flat on its left, or below a level line, to set the back stop by

A bend whose angle the drawing doesn't tell has no place in the table. Where it doesn't tell the radius or K, those of
the shop's brake stand in. A K that isn't the brake's was given for the part. Lengths are mm, angles radians.
"""

import math
from dataclasses import dataclass

from parts.forming.allowance import Fold
from parts.forming.brake import Brake, sharpest
from parts.forming.lines import bend_lines
from parts.forming.neutral import NeutralLine
from parts.forming.own_bend import OwnBend
from parts.forming.sides import folded
from parts.geometry import Line, Loop
from parts.geometry.reach import envelope, extreme_at
from parts.profile import Bend, Profile
from parts.tolerance import PARALLEL_RAD


@dataclass(frozen=True, slots=True)
class BendRow:
    """One bend: its number, its line on the flat, how it is bent, by what K, and how far its line is from an end."""

    number: int
    line: Line
    fold: Fold
    neutral: NeutralLine
    v_opening: float | None
    from_end: float
    tested: OwnBend | None = None

    @property
    def degrees(self) -> float:
        """What the sheet is turned through."""
        return math.degrees(self.fold.angle)

    @property
    def way(self) -> str:
        """`up`, toward the face drawn, or `down`."""
        return "up" if self.fold.up else "down"

    @property
    def deduction(self) -> float | None:
        """The bend deduction in mm; None for half a turn and more."""
        return self.fold.deduction if self.fold.angle < math.pi - PARALLEL_RAD else None

    @property
    def deduction_margin(self) -> float | None:
        """Half of the 95 % interval of the deduction by the shop's test bend, mm; None without one."""
        return None if self.tested is None or self.deduction is None else self.tested.deduction_margin(self.fold.angle)


def bend_table(profile: Profile, thickness: float, brake: Brake) -> tuple[BendRow, ...]:
    """Return the bends of a profile in order of their numbers; the thickness is in mm."""
    rows = []
    told = [(number, bend) for number, bend in enumerate(bend_lines(profile), start=1) if bend.angle]
    edges = [_edge_around(profile, bend) for _, bend in told]
    reaches = {edge: envelope([edge]) for edge in edges}
    for (number, bend), edge in zip(told, edges, strict=True):
        fold = folded(bend, thickness, brake)
        neutral, tested = brake.neutral(thickness, fold.radius), brake.tested(thickness, fold.radius)
        if fold.k != neutral.k:
            tested, neutral = None, NeutralLine(fold.k, "given", "the part's K-factor", "yours")
        away = _left_of(bend.line)
        ux, uy = math.cos(away), math.sin(away)
        x, y = bend.line.at(0.5)
        from_end = extreme_at(reaches[edge], away).support(away) - ux * x - uy * y
        opening = brake.v_opening(thickness, fold.radius) if bend.angle <= sharpest() + PARALLEL_RAD else None
        rows.append(BendRow(number, bend.line, fold, neutral, opening, from_end, tested))
    return tuple(rows)


def _edge_around(profile: Profile, bend: Bend) -> Loop:
    """The edge of the piece that a bend line is on, of what is drawn in several; else the only one."""
    middle = bend.line.at(0.5)
    return next((loop for loop in profile.outside if loop.contains(middle)), profile.outside[0])


def _left_of(line: Line) -> float:
    """The direction square to a line that points left, or down for a level line."""
    ux, uy = line.heading
    square = math.atan2(ux, -uy)
    level = abs(math.cos(square)) <= PARALLEL_RAD
    pointing = math.sin(square) if level else math.cos(square)
    return square if pointing < 0 else square + math.pi
