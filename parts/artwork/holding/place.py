"""The bridges of one opening: found once for a shape, wherever and however often it is cut."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from parts.artwork.holding.candidates import MANY, Candidates, best_of_pairs, candidates, is_symmetric, joined
from parts.artwork.holding.choice import chosen, weighed
from parts.artwork.holding.narrow import narrow_ones
from parts.artwork.holding.records import Ties
from parts.artwork.holding.shape import Shape, long_axis
from parts.artwork.holding.standing import Standing, breadth, flush, settled, stood_at
from parts.geometry import Point

_LEVEL = math.pi / 2
_SLANTED = tuple(math.radians(15 * k) for k in range(1, 12) if k != 6)
_FEW_SLANTED = (math.radians(45), math.radians(135))
_KEPT = 12
"""Of many pieces, how many places each way between two are kept, the best."""
_MOST_AXES = 12
"""In an opening of more pieces than this, none is looked at along its own axis."""
_UPRIGHT = math.radians(7)
_ALONG, _ACROSS = 1.9, 0.4
"""How much less a bridge costs that lies aslant with what it holds, along it or across."""
_POOR = 4.0
"""A piece whose best bridge scores more is looked at from slanted directions too."""

_PAST = 0.5
"""How far from the middle of a piece its end is, in its breadths."""

_SIDES = ("right", "top-right", "top", "top-left", "left", "bottom-left", "bottom", "bottom-right")


@dataclass(frozen=True, slots=True)
class Strip:
    """A bridge of one opening, in the frame of its shape; `key` is piece and side, the rest as in `Bridge`."""

    key: str
    start: Point
    end: Point
    width: float
    offset: float
    breadth: float


@lru_cache(maxsize=2000)
def strips(
    shape: Shape, ties: Ties, moved: tuple[tuple[str, float], ...] = ()
) -> tuple[tuple[Strip, ...], tuple[str, ...]]:
    """Return the bridges that hold the loose pieces of an opening, and the keys in `moved` that couldn't be.

    `moved` has offsets by key.
    """
    places = joined([candidates(shape, ties, 0.0), candidates(shape, ties, _LEVEL), narrow_ones(shape, ties)])
    places = joined([places, *_along_axes(shape, ties)])
    if _worst(shape, weighed(shape, places)) > _POOR:
        slanted = _SLANTED if len(shape.outlines) <= MANY else _FEW_SLANTED
        places = joined([places, *(candidates(shape, ties, turn) for turn in slanted)])
    if len(shape.outlines) > MANY:
        places = best_of_pairs(places, _KEPT)
    places = joined([places, _shortest(shape, places, ties)])
    picked = [Standing.of(places.table[k].tolist()) for k in chosen(shape, places, ties.width_mm)]
    stood = settled(shape, picked)
    named = dict(_named(shape, flush(shape, stood) if ties.style == "flush" else stood))
    stays = [key for key, offset in moved if not _move(shape, named, key, offset)]
    return tuple(_strip(shape, key, bridge) for key, bridge in named.items()), tuple(stays)


def _move(shape: Shape, named: dict[str, Standing], key: str, offset: float) -> bool:
    """Move one of the bridges, if there is such a one and room for it there: past what it holds it holds nothing."""
    if key not in named or abs(offset) > _PAST:
        return False
    left, right = breadth(shape, named[key].pieces[0], named[key].turn)
    bridge = stood_at(shape, named[key], (left + right) / 2 + offset * (right - left))
    named[key] = bridge or named[key]
    return bridge is not None


def _along_axes(shape: Shape, ties: Ties) -> Iterator[Candidates]:
    """Yield bridges along and across the axis of each long piece that lies aslant and is symmetric about it."""
    if len(shape.outlines) > _MOST_AXES:
        return
    for piece, ring in shape.outlines.items():
        axis = long_axis(ring)
        if axis is None or abs(math.sin(2 * axis)) < math.sin(2 * _UPRIGHT):
            continue
        c, s = math.cos(axis), math.sin(axis)
        if is_symmetric(ring @ np.array([s, -c]), ring @ np.array([c, s])):
            yield candidates(shape, ties, axis - _LEVEL).of_piece(piece, _ALONG)
            yield candidates(shape, ties, axis).of_piece(piece, _ACROSS)


def _worst(shape: Shape, places: Candidates) -> float:
    """The score of the best bridge of the piece that is worst off."""
    best = np.full(max(shape.outlines) + 1, np.inf)
    for ends in (places.below, places.above):
        np.minimum.at(best, ends, places.score)
    return float(best[list(shape.outlines)].max())


def _shortest(shape: Shape, places: Candidates, ties: Ties) -> Candidates:
    """Bridges along the shortest way from each piece that no other reaches to its surroundings."""
    reached = {*places.below.tolist(), *places.above.tolist()}
    lines = {piece: shapely.linestrings(ring) for piece, ring in shape.outlines.items()}
    if shape.points[0][0] == 0:
        lines[0] = shapely.linestrings(shape.points[0][1])
    made = []
    for piece in sorted(lines.keys() - reached):
        others = [(float(shapely.distance(lines[piece], line)), p) for p, line in lines.items() if p != piece]
        if others:
            other = min(others)[1]
            (x0, y0), (x1, y1) = shapely.get_coordinates(shapely.shortest_line(lines[piece], lines[other])).tolist()
            made.append(_along((x0, y0), (x1, y1), piece, other, ties.width_mm))
    return joined(made)


def _along(start: Point, end: Point, below: int, above: int, width: float) -> Candidates:
    turn = math.atan2(end[1] - start[1], end[0] - start[0]) - _LEVEL
    c, s = math.cos(turn), math.sin(turn)
    low, high = -s * start[0] + c * start[1], -s * end[0] + c * end[1]
    row = (turn, c * start[0] + s * start[1], low - width / 2, high + width / 2, below, above, width, 20.0)
    return Candidates(np.array([row], dtype=np.float64))


def _named(shape: Shape, bridges: list[Standing]) -> Iterator[tuple[str, Standing]]:
    """Yield each bridge with its key: the piece it holds and on which side; a second one there is counted."""
    taken: Counter[str] = Counter()
    for bridge in bridges:
        piece = bridge.pieces[0]
        heading = bridge.turn + (_LEVEL if piece == bridge.below else -_LEVEL)
        key = f"{piece}.{_SIDES[round(heading / (math.pi / 4)) % 8]}"
        taken[key] += 1
        yield key if taken[key] == 1 else f"{key}-{taken[key]}", bridge


def _strip(shape: Shape, key: str, bridge: Standing) -> Strip:
    left, right = breadth(shape, bridge.pieces[0], bridge.turn)
    c, s, x = math.cos(bridge.turn), math.sin(bridge.turn), bridge.x
    start, end = ((c * x - s * y, s * x + c * y) for y in (bridge.low, bridge.high))
    return Strip(key, start, end, bridge.width, (x - (left + right) / 2) / (right - left), right - left)


def reading_order(boxes: Sequence[tuple[float, float, float, float]]) -> list[int]:
    """Return indices of boxes as one reads: rows from the top, each from left to right.

    A box is in a row when its middle lies within the height of the row's first, the highest left.
    """
    waiting = sorted(range(len(boxes)), key=lambda i: (-boxes[i][3], boxes[i][0]))
    order: list[int] = []
    while waiting:
        low, high = boxes[waiting[0]][1], boxes[waiting[0]][3]
        row = [i for i in waiting if low <= (boxes[i][1] + boxes[i][3]) / 2 <= high]
        order += sorted(row, key=lambda i: boxes[i][0])
        waiting = [i for i in waiting if i not in set(row)]
    return order
