r"""Bolted truss plate: rows of bolts along a chord and along one or two diagonals that meet it at a work point.

          .--.                  .--.
         / o  \                / o  \     slope of each diagonal from the chord
         \  o  \______________/  o  /     setback: work point to the first bolt of a diagonal
          \  o                  o  /      pitch along every row, gauge between double rows
          |   o       +        o   |
          (  o    o   o   o   o    )      + work point, on the middle of the chord's rows
           `----------------------'       edge: from every outermost bolt to the edge

The outline keeps one distance from all outermost bolts, straight between them and round about them, so no bolt is
nearer the edge. With `edge` 0 it is the least of AISC 360 tables J3.4 and J3.4M for the bolt.
"""

import math
from collections.abc import Iterator
from itertools import combinations

from parts.errors import Problem
from parts.fasteners import least_edge_mm
from parts.geometry import Point, around, convex_hull, distance, toward
from parts.profile import Dimension, Profile
from parts.spec import BY_DIAMETER, Preset, Template, angle, bolt, bolt_mm, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.tolerance import LIMIT_SLACK_MM

_ONE, _TWO = "one", "two"
_DIAGONALS = "Diagonals"


class GussetTruss(BoltHoles):
    """The work point is at the origin, the chord along x, the diagonals above it."""

    bolt: str = bolt("Bolt", default="M16", diameter="hole")
    edge: float = length(
        "Edge distance",
        default=32,
        minimum=0,
        maximum=300,
        help="Centre to edge; 0: the least of AISC 360.",
        moves="free",
    )
    pitch: float = length("Bolt pitch", default=50, minimum=8, maximum=500, group="Holes", help="3 diameters or more.")
    gauge: float = length(
        "Between double rows",
        default=50,
        minimum=8,
        maximum=500,
        group="Holes",
        when=[("chord_rows", "2"), ("diagonal_rows", "2")],
    )
    chord_bolts: int = count("Bolts in a row of the chord", default=4, minimum=2, maximum=20)
    chord_rows: int = count("Rows along the chord", default=1, minimum=1, maximum=2)
    diagonals: str = choice("Diagonals", default=_TWO, choices=(_ONE, _TWO), group=_DIAGONALS)
    slope: float = angle("Slope of the right diagonal", default=50, minimum=20, maximum=90, group=_DIAGONALS)
    other_slope: float = angle(
        "Slope of the left diagonal", default=50, minimum=20, maximum=90, group=_DIAGONALS, when=("diagonals", _TWO)
    )
    setback: float = length(
        "Work point to first bolt", default=90, minimum=10, maximum=1500, group=_DIAGONALS, moves="care"
    )
    diagonal_bolts: int = count("Bolts in a row of a diagonal", default=3, minimum=1, maximum=20)
    diagonal_rows: int = count("Rows along a diagonal", default=1, minimum=1, maximum=2)

    @property
    def edge_distance(self) -> float:
        """From the centre of each outermost bolt to the edge."""
        size = bolt_mm(self.bolt)
        return self.edge or least_edge_mm(size, self.hole_size)

    def rows(self, count: int) -> list[float]:
        """Return how far from their middle this many rows lie."""
        return [(i - (count - 1) / 2) * self.gauge for i in range(count)]

    @property
    def chord(self) -> list[Point]:
        """Centres along the chord, the work point in their middle, from the lower left."""
        start = -(self.chord_bolts - 1) / 2 * self.pitch
        return [(start + i * self.pitch, y) for y in self.rows(self.chord_rows) for i in range(self.chord_bolts)]

    def diagonal(self, degrees: float) -> list[Point]:
        """Return the centres along a diagonal that leaves the work point at an angle from the x axis."""
        c, s = (math.cos(math.radians(degrees)), math.sin(math.radians(degrees))) if degrees != 90 else (0.0, 1.0)
        out = [self.setback + i * self.pitch for i in range(self.diagonal_bolts)]
        return [(c * a - s * b, s * a + c * b) for b in self.rows(self.diagonal_rows) for a in out]

    @property
    def right(self) -> list[Point]:
        """Centres along the right diagonal."""
        return self.diagonal(self.slope)

    @property
    def left(self) -> list[Point]:
        """Centres along the left diagonal, where there is one: the mirror image of a right one."""
        if self.diagonals == _ONE:
            return []
        return [(-x, y) for x, y in self.diagonal(self.other_slope)]

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where no bolt tells the edge distance, or the holes of two rows meet."""
        if self.bolt == BY_DIAMETER and not self.edge:
            yield self.problem("edge", "must be given where no bolt is chosen that tells it.")
            return
        hole = self.hole_size
        yield from self.over("pitch", hole, "to keep metal between the holes")
        if max(self.chord_rows, self.diagonal_rows) > 1:
            yield from self.over("gauge", hole, "to keep metal between the rows")
        if self.edge:
            yield from self.over("edge", hole / 2, "to keep metal beside the holes")
        near = min(distance(a, b) for one, other in combinations(self.groups, 2) for a in one for b in other)
        if near <= hole + LIMIT_SLACK_MM:
            yield self.tight("setback", "for the holes of the diagonals to clear the chord's and each other")

    @property
    def groups(self) -> list[list[Point]]:
        """The centres of each member's bolts."""
        return [group for group in (self.chord, self.right, self.left) if group]


def outline(p: GussetTruss) -> Profile:
    """Draw the plate around its bolts."""
    inside = (
        *p.holes_at(p.chord, "bolt hole in the chord", "pitch"),
        *p.holes_at(p.right, "bolt hole in the right diagonal", "setback"),
        *p.holes_at(p.left, "bolt hole in the left diagonal", "setback"),
    )
    every = [at for group in p.groups for at in group]
    return Profile((around(every, p.edge_distance),), inside, dimensions=tuple(dimensions(p, every)))


def dimensions(p: GussetTruss, every: list[Point]) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    chord, right = p.chord, p.right
    yield Dimension("pitch", chord[0], chord[1], "below")
    if p.chord_rows > 1:
        yield Dimension("gauge", chord[0], chord[p.chord_bolts], "left")
    elif p.diagonal_rows > 1:
        yield Dimension("gauge", right[0], right[p.diagonal_bolts], "along")
    first = right[:: p.diagonal_bolts]
    middle = (first[0][0] + first[-1][0]) / 2, (first[0][1] + first[-1][1]) / 2
    yield Dimension("setback", (0.0, 0.0), middle, "along")
    lowest = min(convex_hull(every), key=lambda at: (at[1], -at[0]))
    yield Dimension("edge", (lowest[0], lowest[1] - p.edge_distance), lowest, "right")
    at = chord[-1]
    if p.bolt == BY_DIAMETER:
        out = toward(at, (at[0] + 1, at[1] + 1), p.hole / 2)
        yield Dimension("hole", at, out, "diameter")


TEMPLATE = Template(
    "gusset-truss",
    "Bolted truss plate",
    GussetTruss,
    outline,
    summary="Joins diagonals to a chord with rows of bolts: one edge distance all round, by AISC 360 if wanted.",
    cautions=(
        "A truss joint carries load: have members, bolts and plate settled by a qualified engineer under the local "
        "code; the edge distances and spacings here are the least for detailing, not a design.",
    ),
    sizes=(),
    words=("node plate", "joint", "bolted gusset", "brace", "chord", "diagonal", "roof truss", "connection plate"),
    presets=(
        Preset("Shelter roof, rafter foot", "diagonals=one slope=35 setback=110 chord_bolts=3 bolt=M12 pitch=40"),
        Preset(
            "Footbridge side, double rows, least edge by AISC 360",
            "edge=0 bolt=M20 pitch=65 gauge=65 chord_rows=2 chord_bolts=5 setback=150 thickness=10",
        ),
        Preset("Trailer side, 3/8 in bolts", "bolt=3/8 edge=3/4in pitch=1-1/4in setback=2-1/2in diagonal_bolts=2"),
        Preset("Sign gantry, post and one diagonal", "slope=45 other_slope=90 setback=85 bolt=M12 edge=25 pitch=40"),
    ),
)
