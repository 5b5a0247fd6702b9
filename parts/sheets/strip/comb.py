r"""Combs: the sheets of one kind as one strip, parted by walls.

     __ __________ __ __________ __
    |  |          |  |          |  |
    |  |  sheet   |  |  sheet   |  |    open end
    |__|__________|__|__________|__|___________
     wall           all of it one item

The walls are one item, joined by a bar too thin to matter, and thick enough that no solver lays a piece across one. The
strip is what lies between its walls and beyond them at both ends, so as it gets shorter, the ends get emptier: pieces
at both ends together come to one sheet, or to two.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from parts.cached import cached_property
from parts.geometry import Point
from parts.sheets.layout import Problem
from parts.sheets.stock import Stock
from parts.sheets.strip.asking import Item, Strip
from parts.sheets.strip.carrier import Carrier

_BAR_MM, _BAR_SPARE_MM = 0.05, 0.02
_MITRE = 1.5
"""How far off the corner of a grown outline may be, in what it grows by: one corner stays one, or is cut off there."""
_COARSE_MM, _MANY = 0.1, 40
"""What an outline of many corners is let out by, so that it needs fewer."""


@dataclass(frozen=True, eq=False)
class Comb:
    """What lies on sheets of one kind, to be laid on fewer or shorter ones.

    There are so many walls, each `thick` lengths of a sheet; `slack` is what outlines grow by beyond half the gap, for
    what the solver rounds, mm.
    """

    problem: Problem
    stock: Stock
    carriers: Sequence[Carrier]
    walls: int
    thick: float
    slack: float

    @property
    def is_along(self) -> bool:
        """Whether the strip runs as the sheet's x does; else as its y."""
        width, height = self.problem.room(self.stock)
        return width >= height

    @property
    def grown(self) -> float:
        """What outlines grow by."""
        return self.problem.grown + self.slack

    @property
    def spare(self) -> float:
        """How far grown outlines may reach beyond where pieces may lie."""
        return self.grown - self.slack - self.problem.error

    @property
    def sheet(self) -> tuple[float, float]:
        """Length of the part of the strip that is a sheet, and the strip's height."""
        length, height = sorted(self.problem.room(self.stock), reverse=True)
        return length + 2 * self.spare, height + 2 * self.spare

    @property
    def pitch(self) -> float:
        """From a wall to the next."""
        return self.sheet[0] * (1 + self.thick)

    @cached_property
    def groups(self) -> list[list[Carrier]]:
        """Carriers by what is alike of them: an item of the strip each."""
        alike: dict[tuple[object, ...], list[Carrier]] = defaultdict(list)
        for each in self.carriers:
            alike[each.kind].append(each)
        return list(alike.values())

    @cached_property
    def outlines(self) -> list[BaseGeometry]:
        """The outline of each item, grown."""
        return [_grown(group[0].outline, self.grown) for group in self.groups]

    def turns_of(self, item: int) -> tuple[float, ...]:
        """Return the degrees at which an item may lie on the strip."""
        quarter = 0.0 if self.is_along else 90.0
        return tuple((turn - quarter) % 360 for turn in self.groups[item][0].turns)

    def strip(self, seed: int) -> Strip:
        """Return the strip that is asked for."""
        items = [
            Item(_ring(outline), len(self.groups[number]), self.turns_of(number))
            for number, outline in enumerate(self.outlines)
        ]
        if self.walls:
            items.append(Item(self._frame(), 1, (0.0,)))
        return Strip(tuple(items), self.sheet[1], seed)

    def _frame(self) -> tuple[Point, ...]:
        """The walls and their bar, counter-clockwise."""
        length, height = self.sheet
        corners: list[Point] = [(0.0, 0.0), ((self.walls - 1) * self.pitch + self.thick * length, 0.0)]
        for number in reversed(range(self.walls)):
            left = number * self.pitch
            corners += [(left + self.thick * length, height - _BAR_SPARE_MM), (left, height - _BAR_SPARE_MM)]
            if number:
                corners += [(left, _BAR_MM), (left - length, _BAR_MM)]
        return tuple(corners)


def _grown(shape: BaseGeometry, by: float) -> BaseGeometry:
    """A shape grown by so much or a little more, by few corners."""
    more = _COARSE_MM if shapely.get_num_coordinates(shape) > _MANY else 0.0
    grown = shape.buffer(by + more, join_style="mitre", mitre_limit=_MITRE)
    return grown.simplify(more) if more else grown


def _ring(shape: BaseGeometry) -> tuple[Point, ...]:
    corners: list[list[float]] = shapely.get_coordinates(shapely.get_exterior_ring(shape))[:-1].tolist()
    return tuple((x, y) for x, y in corners)
