"""Search: a first layout at once, and better ones by other orders of the pieces until the time is up."""

import math
import random
import time
from collections.abc import Callable, Iterator, Sequence
from itertools import islice

from parts.errors import GeometryError
from parts.sheets import strip
from parts.sheets.check import faults
from parts.sheets.layout import Layout, Problem
from parts.sheets.pack import Ways, pack
from parts.sheets.piece import Piece
from parts.sheets.refill import refilled, score
from parts.sheets.stock import Stock

CELLS = 80_000
"""Of the largest sheet for a first layout: 6 mm on one of 1220 by 2440 mm; more take over a second with many sheets."""
_BY_CELLS, _BY_CELLS_S = 0.2, 12.0
"""Share of the time, and most of it, for other orders where there is a solver of strips to go on from the best."""
_BY_ORDERS = 0.4
"""Share of the time by cells for other orders of all pieces, before a few sheets are filled anew."""
_COARSER = 2.0
"""Size of the cells by which a few sheets are filled anew, in that of the first: many quick ones do best."""
_FINER = (0.5, 0.3)
"""Sizes of later cells in that of the first."""


def first_layout(problem: Problem) -> Layout:
    """Return a layout that is found at once, and always the same one, largest pieces first; it is checked."""
    ways = Ways(problem, first_cell(problem))
    return _checked(problem, pack(ways, largest_first(problem.loose), in_turn(problem.stock)))


def first_cell(problem: Problem) -> float:
    """Return the side of a cell for a first layout, mm."""
    return math.sqrt(max(kind.area for kind in problem.stock) / CELLS)


def largest_first(pieces: Sequence[Piece]) -> list[Piece]:
    """Return pieces by the area of their boxes, those alike together."""
    return sorted(pieces, key=lambda piece: (-_box_area(piece), piece.key))


def _box_area(piece: Piece) -> float:
    x0, y0, x1, y1 = piece.shape.bounds
    return float((x1 - x0) * (y1 - y0))


def in_turn(stock: Sequence[Stock]) -> list[Stock]:
    """Return stock in the order in which it is taken.

    Off-cuts come before sheets, small ones first; then what there are so many of before what there is enough of.
    """
    return sorted(stock, key=lambda kind: (kind.is_new, kind.count is None, 0.0 if kind.is_new else kind.area))


def lay_out(problem: Problem, seconds: float, better: Callable[[Layout], None] = lambda layout: None) -> Layout:
    """Return the best layout that is found in the time, every one checked.

    Args:
        problem: what is laid out.
        seconds: to look for better ones than the first, which is found whatever they are.
        better: told of every one that is better than those before.
    """
    end = time.monotonic() + seconds
    best = first_layout(problem)
    better(best)
    if seconds <= 0 or not best.sheets:
        return best
    by_cells = min(_BY_CELLS * seconds, _BY_CELLS_S) if strip.is_there() else seconds
    for layout in _others(problem, end - seconds + by_cells):
        if layout.cost < best.cost and not any(faults(problem, layout)):
            best = layout
            better(best)
    if strip.is_there():
        for layout in strip.shorter(problem, best, end):
            best = layout
            better(best)
    return best


def _others(problem: Problem, end: float) -> Iterator[Layout]:
    """Yield layouts while there is time: by other orders, kinds of sheet and cells, then by small changes."""
    cell, now = first_cell(problem), time.monotonic()
    orders = now + _BY_ORDERS * (end - now)
    best = _Best(largest_first(problem.loose), in_turn(problem.stock), _Trial(Ways(problem, cell), orders))
    starts = [(start, kinds) for start in _orders(problem.loose) for kinds in _kinds(best.stock)]
    for order, stock in starts:
        yield from best.tried(order, stock, best.trial)
    for share in _FINER:
        finer = _Trial(
            Ways(problem, cell * share), orders, best.trial.took * (cell / best.trial.ways.cell / share) ** 2
        )
        yield from best.tried(best.order, best.stock, finer)
    chance = random.Random(1)  # noqa: S311 - repeats
    if best.layout is not None and len(best.layout.sheets) > 1:
        yield from _refilled(Ways(problem, cell * _COARSER), best.layout, chance, end)
    best.trial.end = end
    while best.trial.has_time and best.order:
        yield from best.tried(changed(best.order, chance), best.stock, best.trial)


def _refilled(ways: Ways, layout: Layout, chance: random.Random, end: float) -> Iterator[Layout]:
    """Yield layouts as a few sheets are filled anew again and again, while there is time."""
    while time.monotonic() < end:
        found = refilled(ways, layout, chance)
        if score(found) <= score(layout):
            layout = found
            yield layout


class _Best:
    """The order, kinds of sheet and cells that have done best so far."""

    def __init__(self, order: list[Piece], stock: list[Stock], trial: "_Trial") -> None:
        self.order, self.stock, self.trial = order, stock, trial
        self.cost: tuple[float, ...] = (math.inf,)
        self.layout: Layout | None = None

    def tried(self, order: list[Piece], stock: list[Stock], trial: "_Trial") -> Iterator[Layout]:
        """Yield the layout of an order, nothing where there is no time; what is as good as the best is gone on from."""
        layout = trial.pack(order, stock)
        if layout is None:
            return
        yield layout
        if layout.cost <= self.cost:
            self.order, self.stock, self.trial, self.cost = order, stock, trial, layout.cost
            self.layout = layout


class _Trial:
    """Packs as long as there is time for another go, reckoned by the last."""

    def __init__(self, ways: Ways, end: float, took: float = 0.0) -> None:
        self.ways, self.end, self.took = ways, end, took

    @property
    def has_time(self) -> bool:
        """Whether there is time for another."""
        return time.monotonic() + self.took <= self.end

    def pack(self, order: Sequence[Piece], stock: Sequence[Stock]) -> Layout | None:
        """Return the layout, or None where there is no time for one."""
        if not self.has_time:
            return None
        start = time.monotonic()
        layout = pack(self.ways, order, stock)
        self.took = time.monotonic() - start
        return layout


def _orders(pieces: Sequence[Piece]) -> Iterator[list[Piece]]:
    """Yield orders that often do well: by the longest side, by the metal, by the shorter side."""

    def sides(piece: Piece) -> tuple[float, float]:
        x0, y0, x1, y1 = piece.shape.bounds
        return max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)

    yield sorted(pieces, key=lambda piece: (-sides(piece)[0], piece.key))
    yield sorted(pieces, key=lambda piece: (-piece.area, piece.key))
    yield sorted(pieces, key=lambda piece: (-sides(piece)[1], piece.key))
    yield sorted(pieces, key=lambda piece: (-sum(sides(piece)), piece.key))


def _kinds(stock: Sequence[Stock]) -> Iterator[list[Stock]]:
    """Yield orders of the kinds of sheet: as they are, then each of which there is enough before the others."""
    yield list(stock)
    endless = [kind for kind in stock if kind.count is None]
    for first in islice(endless, 1, None):
        yield sorted(stock, key=lambda kind: (kind.is_new, kind.count is None, kind is not first))


def changed(order: Sequence[Piece], chance: random.Random) -> list[Piece]:
    """Return the order with a piece put elsewhere, or two exchanged; once or several times."""
    other = list(order)
    for _ in range(chance.choice((1, 1, 2, 3))):
        i, j = chance.randrange(len(other)), chance.randrange(len(other))
        if chance.random() < 0.5:
            other.insert(j, other.pop(i))
        else:
            other[i], other[j] = other[j], other[i]
    return other


def _checked(problem: Problem, layout: Layout) -> Layout:
    """The layout; one that can't be cut is never handed on.

    Raises:
        GeometryError: it isn't right.
    """
    if wrong := list(faults(problem, layout)):
        raise GeometryError(f"No layout was found that holds: {'; '.join(wrong)}.")
    return layout
