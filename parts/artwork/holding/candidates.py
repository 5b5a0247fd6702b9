"""Where a bridge could stand, and how well: the lower its score, the shorter and the less ugly.

The weights were found by looking at letters of five faces and at patterns; they are judgements, not measurements.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from parts.artwork.holding.records import Ties
from parts.artwork.holding.scan import Floats, Indices, Scan, scanned
from parts.artwork.holding.shape import Shape
from parts.cached import cached_property

MANY = 40
"""Of more pieces in one opening not all is looked at, so that it takes no time without bounds."""
STEPS = 8
"""Lines to the width of a bridge."""

_SLOPE, _STEEP, _STEEP_FROM = 0.7, 4.0, 0.8
_NARROWING, _SIDES, _LANDING, _STEM = 2.0, 3.5, 1.5, 1.5
_OFF_CENTRE, _OFF_AXIS = 1.3, 4.0
_LEVEL, _SLANTED = 1.5, 2.5
_SYMMETRIC = 0.06
_FLUSH = -0.8


class Candidates:
    """Places for bridges, a row each; in a frame turned by `turn`, where a bridge stands upright at `x`.

    `low` and `high` are its ends, where it has passed what is cut over its whole breadth; pieces as in `Scan`.
    """

    COLUMNS = ("turn", "x", "low", "high", "below", "above", "width", "score")

    def __init__(self, table: Floats) -> None:
        self.table = table
        self.turn, self.x, self.low, self.high, below, above, self.width, self.score = table.T
        self.below: Indices = below.astype(np.int64)
        self.above: Indices = above.astype(np.int64)

    def __len__(self) -> int:
        return len(self.table)

    def of_piece(self, piece: int, less: float) -> "Candidates":
        """Return those at one piece, their scores less so much."""
        table = self.table[(self.below == piece) | (self.above == piece)]
        table[:, -1] -= less
        return Candidates(table)

    @cached_property
    def middles(self) -> Floats:
        """The middle of each (n x 2), turned back."""
        c, s, y = np.cos(self.turn), np.sin(self.turn), (self.low + self.high) / 2
        middles: Floats = np.stack([c * self.x - s * y, s * self.x + c * y], axis=1)
        return middles


def joined(several: Sequence[Candidates]) -> Candidates:
    """Return all candidates in one."""
    return Candidates(np.concatenate([np.empty((0, len(Candidates.COLUMNS))), *(one.table for one in several)]))


def best_of_pairs(places: Candidates, most: int) -> Candidates:
    """Return no more than so many candidates, the best, between any two pieces each way."""
    order = np.lexsort((places.score, places.turn, places.above, places.below))
    table = places.table[order]
    fresh = np.any(np.diff(table[:, [0, 4, 5]], axis=0) != 0, axis=1)
    start = np.concatenate([[0], np.flatnonzero(fresh) + 1])
    rank = np.arange(len(table)) - np.repeat(start, np.diff(np.append(start, len(table))))
    return Candidates(table[rank < most])


def candidates(shape: Shape, ties: Ties, turn: float) -> Candidates:
    """Return the places for bridges that stand upright when the shape is turned clockwise by `turn` radians."""
    rings = shape.turned(turn)
    low = min(float(ring[:, 0].min()) for _, ring in rings)
    shift = (low + max(float(ring[:, 0].max()) for _, ring in rings)) / 2
    rings = tuple((piece, ring - (shift, 0.0)) for piece, ring in rings)
    step = ties.width_mm / STEPS
    scan = scanned(rings, step)
    windows = _windows(scan)
    line = windows.line + STEPS // 2
    axis = _mirror_difference(scan.line, scan.low, scan.high) < _SYMMETRIC
    x: Floats = np.asarray(line * step, dtype=np.float64)
    score = _form(scan, windows, ties.width_mm, shape.stroke) + _leaning(turn, axis)
    score += _surroundings(scan, windows, ties) + _off_centre(shape, rings, windows, x, axis)
    ones = np.ones(len(line))
    columns = (turn * ones, x + shift, windows.low, windows.high, windows.below, windows.above, ties.width_mm * ones)
    return Candidates(np.stack([*columns, score], axis=1))


@dataclass(frozen=True)
class _Windows:
    """As many lines side by side in one chain as a bridge is wide: the first line, and the intervals (n x lines)."""

    line: Indices
    rows: Indices
    first: Indices
    chain: Indices
    below: Indices
    above: Indices
    low: Floats
    high: Floats


def _windows(scan: Scan) -> _Windows:
    chain, at = scan.chains.T
    if len(chain) <= STEPS:
        none, some = np.empty(0, dtype=np.int64), np.empty(0)
        return _Windows(none, np.empty((0, STEPS + 1), dtype=np.int64), none, chain, none, none, some, some)
    first = np.flatnonzero(chain[STEPS:] == chain[:-STEPS])
    rows = sliding_window_view(at, STEPS + 1)[first]
    low, high = scan.low[rows].min(axis=1), scan.high[rows].max(axis=1)
    start = rows[:, 0]
    return _Windows(scan.line[start], rows, first, chain, scan.below[start], scan.above[start], low, high)


def _form(scan: Scan, windows: _Windows, width: float, stroke: float) -> Floats:
    """What length and sloping ends cost."""
    low, high = scan.low[windows.rows], scan.high[windows.rows]
    slopes = np.abs(np.stack([low[:, -1] - low[:, 0], high[:, -1] - high[:, 0]])) / width
    jumps = np.maximum(np.abs(np.diff(low)).max(axis=1, initial=0), np.abs(np.diff(high)).max(axis=1, initial=0))
    steep = (slopes.max(axis=0, initial=0) > _STEEP_FROM) | (jumps > 0.7 * width)
    form: Floats = (windows.high - windows.low) / stroke + _SLOPE * slopes.sum(axis=0) + _STEEP * steep
    return form


def _surroundings(scan: Scan, windows: _Windows, ties: Ties) -> Floats:
    """What it costs that the jet has little room beside a bridge, that metal is missing, or that a stem is hugged."""
    beyond = max(math.ceil(ties.kerf_mm / scan.step), 1)
    low, high, left = windows.low, windows.high, windows.line
    right, middle, depth = left + STEPS, (windows.low + windows.high) / 2, 0.7 * ties.width_mm
    beside = np.stack([left - 1, left - beyond, right + 1, right + beyond])
    under = np.stack([left, left + STEPS // 2, right])
    lows = np.stack([low] * 4 + [low - depth] * 3 + [high] * 3)
    highs = np.stack([high] * 4 + [low] * 3 + [high + depth] * 3)
    shares = scan.share_cut(np.concatenate([beside, under, under]), lows, highs)
    closed = 1 - np.minimum(shares[0] + shares[1], shares[2] + shares[3]) / 2
    missing = np.maximum(shares[4:7], shares[7:]).mean(axis=0)
    stem = (scan.length_at(beside[1::2], np.stack([middle] * 2)) > 2.5 * (high - low)).any(axis=0)
    cost: Floats = _SIDES * closed + _STEM * stem + _LANDING * missing + _NARROWING * _narrowing(scan, windows, beyond)
    return cost


def _narrowing(scan: Scan, windows: _Windows, beyond: int) -> Floats:
    """By which share the cut is narrower beside a bridge than where it stands."""
    chain, at = scan.chains.T
    lengths = scan.high - scan.low
    middle = lengths[windows.rows[:, STEPS // 2]] if len(windows.rows) else np.empty(0)
    least = middle
    for k in (windows.first - beyond, windows.first + STEPS + beyond):
        there = np.clip(k, 0, max(len(chain) - 1, 0))
        same = (there == k) & (chain[there] == chain[windows.first]) if len(chain) else np.empty(0, dtype=bool)
        least = np.where(same, np.minimum(least, lengths[at[there]] if len(at) else 0.0), least)
    narrowing: Floats = 1 - least / np.maximum(middle, 1e-9)
    return narrowing


def _mirror_difference(line: Indices, low: Floats, high: Floats) -> float:
    """How much of what is cut of each line, and where, differs from that of the line as far to the other side."""
    reach = int(np.abs(line).max()) if len(line) else 0
    length = np.bincount(line + reach, high - low, 2 * reach + 1)
    moment = np.bincount(line + reach, (high - low) * (high + low - high.max() - low.min()) / 2, 2 * reach + 1)
    height = float(high.max() - low.min()) / 2
    off = np.abs(length - length[::-1]).sum() + np.abs(moment - moment[::-1]).sum() / height
    return float(off / length.sum()) / 2


def _off_centre(
    shape: Shape, rings: tuple[tuple[int, Floats], ...], windows: _Windows, x: Floats, axis: bool
) -> Floats:
    """What it costs to stand off the middle of the piece, or off the axis of what is symmetric."""
    outlines = {piece: ring for piece, ring in reversed(rings) if piece > 0}
    count = max(outlines) + 1
    centre, half, weight = np.zeros(count + 1), np.full(count + 1, np.inf), np.zeros(count + 1)
    for piece, ring in outlines.items():
        low, high = float(ring[:, 0].min()), float(ring[:, 0].max())
        centre[piece], half[piece] = (low + high) / 2, max((high - low) / 2, 1e-9)
        alike = axis or (count <= MANY and is_symmetric(*ring.T))
        weight[piece] = _OFF_AXIS if alike else _OFF_CENTRE
    target = np.where(axis & (np.abs(centre) < half / 2), 0.0, centre)
    cost = np.zeros(len(x))
    for own, other in ((windows.below, windows.above), (windows.above, windows.below)):
        smaller = half[other] >= half[own]  # the metal around, piece 0, and what is beyond, the last, are without end
        cost = np.maximum(cost, np.where(smaller, weight[own] * np.abs(x - target[own]) / half[own], 0.0))
    return cost


def is_symmetric(across: Floats, along: Floats) -> bool:
    """Return whether a closed ring, by its coordinates, looks the same from either side across."""
    across = across - (across.min() + across.max()) / 2
    scan = scanned([(1, np.stack([across, along], axis=1))], float(across.max()) / 16)
    return _mirror_difference(scan.line, scan.low, scan.high) < _SYMMETRIC


def _leaning(turn: float, axis: bool) -> float:
    if abs(math.sin(turn)) < 1e-9:
        return 0.0
    return _LEVEL * (2 if axis else 1) if abs(math.cos(turn)) < 1e-9 else _SLANTED
