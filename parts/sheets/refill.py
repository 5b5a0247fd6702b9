"""Refilling: a layout with its emptiest sheet and a few others taken apart, and their pieces put down anew.

What stays on a sheet may get more; what comes of it is taken where the emptiest sheets get emptier: the sum of the
squares of how full sheets are grows (Falkenauer 1996), until one is empty. By a seed it is the same every time.
"""

import random
from collections.abc import Sequence
from dataclasses import replace

from parts.sheets.layout import Laid, Layout
from parts.sheets.pack import Ways, pack_on
from parts.sheets.piece import Piece

_EJECTED = (1, 1, 2, 2, 3)
"""How many others are taken apart with the emptiest, by turns of chance."""
_BIAS = 0.35
"""How far the order by size is disturbed, as a share of size."""


def refilled(ways: Ways, layout: Layout, chance: random.Random) -> Layout:
    """Return a layout with some of the sheets taken apart and filled anew."""
    free = [laid for laid in layout.sheets if not laid.is_begun]
    if not free:
        return layout
    emptiest = min(free, key=lambda laid: laid.share)
    others = [laid for laid in free if laid is not emptiest]
    apart = [emptiest, *chance.sample(others, min(chance.choice(_EJECTED), len(others)))]
    stays = [laid for laid in layout.sheets if not any(laid is each for each in apart)]
    loose = [each.piece for laid in apart for each in laid.placements]
    loose += [each.piece for each in layout.unplaced]
    chance.shuffle(apart)
    found = pack_on(ways, stays, _order(loose, chance), [laid.stock for laid in apart])
    return replace(found, sheets=tuple(sorted(found.sheets, key=_in_turn)))


def _in_turn(laid: Laid) -> tuple[bool, bool, float]:
    """What is pinned first, then off-cuts, the emptiest last."""
    return not laid.is_begun, laid.stock.is_new, -laid.share


def score(layout: Layout) -> tuple[float, ...]:
    """Return what a layout is taken by: the less the better."""
    left, new, old, used = layout.cost
    return left, new, old, -sum(laid.share**2 for laid in layout.sheets), used


def _order(pieces: Sequence[Piece], chance: random.Random) -> list[Piece]:
    def size(piece: Piece) -> float:
        x0, y0, x1, y1 = piece.shape.bounds
        return float((x1 - x0) * (y1 - y0)) * (1 + _BIAS * chance.uniform(-1, 1))

    return [piece for _, _, piece in sorted((-size(piece), i, piece) for i, piece in enumerate(pieces))]


def search(ways: Ways, layout: Layout, moves: int, chance: random.Random) -> Layout:
    """Return the best that so many moves lead to."""
    best = layout
    for _ in range(moves):
        found = refilled(ways, best, chance)
        if score(found) <= score(best):
            best = found
    return best
