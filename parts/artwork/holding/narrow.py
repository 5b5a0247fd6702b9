"""Bridges for pieces hardly broader than a bridge: as broad as the piece itself."""

import math
from collections.abc import Iterator

import numpy as np

from parts.artwork.holding.candidates import Candidates
from parts.artwork.holding.records import Ties
from parts.artwork.holding.scan import scanned
from parts.artwork.holding.shape import Shape
from parts.artwork.holding.standing import breadth
from parts.wanted import step

_BROADEST = 1.45
"""In widths of a bridge: beside a piece no broader, a bridge would leave steps too small to cut."""

_COST, _LEVEL = 0.5, 1.5
_REACH = 4
"""Lines either side of a piece's middle that it is looked at on."""


def narrow_ones(shape: Shape, ties: Ties) -> Candidates:
    """Return bridges, upright and level, for pieces no broader than one; a narrower piece is all within its bridge."""
    rows: list[tuple[float, ...]] = []
    for turn in (0.0, math.pi / 2):
        for piece in sorted(shape.outlines):
            step()
            left, right = breadth(shape, piece, turn)
            if right - left <= _BROADEST * ties.width_mm:
                rows += _rows(shape, turn, piece, ties.width_mm)
    return Candidates(np.array(rows).reshape(-1, len(Candidates.COLUMNS)))


def _rows(shape: Shape, turn: float, piece: int, width: float) -> Iterator[tuple[float, ...]]:
    """Yield each way to hold a narrow piece, as a row of `Candidates`."""
    left, right = breadth(shape, piece, turn)
    centre, broad = (left + right) / 2, right - left
    rings = [(p, ring - (centre, 0.0)) for p, ring in shape.turned(turn)]
    heights = next(ring for p, ring in rings if p == piece)[:, 1]
    scan = scanned(rings, broad / (2 * _REACH + 0.01))
    chain, at = scan.chains.T
    for one in np.unique(chain).tolist():
        k = at[(chain == one) & (np.abs(scan.line[at]) <= _REACH)]
        if len(k) <= _REACH or piece not in (ends := (int(scan.below[k[0]]), int(scan.above[k[0]]))):
            continue
        low, high = float(scan.low[k].min()), float(scan.high[k].max())
        score = (high - low) / shape.stroke + _COST + (_LEVEL if turn else 0.0)
        if broad < width:
            low = min(low, float(heights.min())) if ends[0] == piece else low
            high = max(high, float(heights.max())) if ends[1] == piece else high
        yield turn, centre, low, high, *map(float, ends), max(broad, width), score
