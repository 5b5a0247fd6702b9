"""By seeds: a search whose layout hangs on its seed and on no clock, so that any machine comes to the same."""

import random
from dataclasses import dataclass

from parts.sheets.check import faults
from parts.sheets.layout import Laid, Layout, Placement, Problem, Unplaced
from parts.sheets.pack import Ways, pack
from parts.sheets.refill import refilled, score
from parts.sheets.search import changed, first_cell, first_layout, in_turn, largest_first

MOVES = 60
"""Changes that a seed tries."""
_COARSER = 2.0


def of_seed(problem: Problem, seed: int) -> Layout:
    """Return the best layout that a seed leads to; it is checked, and seed 0 is the first layout.

    Raises:
        GeometryError: the first layout doesn't hold.
    """
    best = first_layout(problem)
    if seed == 0 or not best.sheets:
        return best
    chance = random.Random(seed)  # noqa: S311 - repeats
    coarse, fine = (Ways(problem, first_cell(problem) * share) for share in (_COARSER, 1.0))
    order, stock = largest_first(problem.loose), in_turn(problem.stock)
    for _ in range(MOVES):
        if sum(not laid.is_begun for laid in best.sheets) > 1:
            found = refilled(coarse, best, chance)
        elif order:
            order = changed(order, chance)
            found = pack(fine, order, stock)
        else:
            break
        if score(found) <= score(best) and not any(faults(problem, found)):
            best = found
    return best


@dataclass(frozen=True, slots=True)
class Told:
    """A layout as it goes between processes: of each sheet its stock's place, and what lies by the keys of pieces."""

    cost: tuple[float, ...]
    sheets: tuple[tuple[int, tuple[tuple[int, float, float, float, bool, bool], ...]], ...]
    unplaced: tuple[tuple[int, str], ...]


def told(problem: Problem, layout: Layout) -> Told:
    """Return a layout to be sent."""
    kinds = {id(kind): at for at, kind in enumerate(problem.stock)}
    sheets = tuple(
        (
            kinds[id(laid.stock)],
            tuple((p.piece.key, p.x, p.y, p.turn_deg, p.mirrored, p.is_pinned) for p in laid.placements),
        )
        for laid in layout.sheets
    )
    return Told(layout.cost, sheets, tuple((each.piece.key, each.why) for each in layout.unplaced))


def untold(problem: Problem, sent: Told) -> Layout:
    """Return the layout that was sent, of the pieces of a problem."""
    pieces = {piece.key: piece for piece in problem.pieces}
    sheets = tuple(
        Laid(problem.stock[kind], tuple(Placement(pieces[p[0]], *p[1:]) for p in lying)) for kind, lying in sent.sheets
    )
    return Layout(sheets, tuple(Unplaced(pieces[key], why) for key, why in sent.unplaced))
