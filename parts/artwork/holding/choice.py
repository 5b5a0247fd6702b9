"""Which bridges are made: as few as hold every piece, two for a heavy one, in line where that costs little."""

import math
from collections.abc import Sequence, Set

import numpy as np

from parts.artwork.holding.candidates import Candidates
from parts.artwork.holding.scan import Indices
from parts.artwork.holding.shape import Shape, ring_area

HEAVY = 60.0
"""A piece of more than so many squares of a bridge's width gets a second bridge (judged by eye on letters)."""

_IN_LINE = 0.8
_MOST_IN_LINE = 16
_SAME_SIDE = 1.5
_NEAREST = 2.5
_LONGEST, _SPARE = 2.0, 4.0
# Where pieces stand free, a second bridge is no longer than so many of the first and so many widths: a long bar between
# them looks worse than one bridge alone.
_BAR = 0.6
# What a bridge's length counts there for each of its widths.


def chosen(shape: Shape, places: Candidates, width: float) -> list[int]:
    """Return the indices of the places where bridges are made, each once."""
    places = weighed(shape, places)
    tree = _tree(places)
    weights = _weights(shape)
    picked = tree + _seconds(shape, places, tree, weights, width)
    return _in_line(places, picked)


def weighed(shape: Shape, places: Candidates) -> Candidates:
    """Return the places with what a long bar costs where pieces stand free."""
    if not _is_free(shape):
        return places
    dearer = places.score + _BAR * (places.high - places.low) / places.width
    return Candidates(np.column_stack([places.table[:, :-1], dearer]))


def _is_free(shape: Shape) -> bool:
    """Whether no metal lies around all pieces."""
    return shape.points[0][0] != 0


def _tree(places: Candidates) -> list[int]:
    """The places that join all pieces that can be joined, of least score (Kruskal's algorithm)."""
    parent: dict[int, int] = {}

    def root(piece: int) -> int:
        while parent.setdefault(piece, piece) != piece:
            piece = parent[piece]
        return piece

    pair = np.stack([np.minimum(places.below, places.above), np.maximum(places.below, places.above)])
    order = np.argsort(places.score, kind="stable")
    best = order[np.sort(np.unique(pair[:, order], axis=1, return_index=True)[1])] if len(order) else order
    tree = []
    for k in best.tolist():
        a, b = root(int(places.below[k])), root(int(places.above[k]))
        if a != b:
            parent[max(a, b)] = min(a, b)
            tree.append(k)
    return tree


def _weights(shape: Shape) -> dict[int, float]:
    """The area of each piece without its own openings, mm²; the metal around is beyond measure."""
    weights: dict[int, float] = {0: math.inf} if shape.points[0][0] == 0 else {}
    for piece, ring in shape.points[1:]:
        weights[piece] = weights.get(piece, 0.0) + (1 if piece not in weights else -1) * abs(ring_area(ring))
    return weights


def _seconds(
    shape: Shape, places: Candidates, tree: Sequence[int], weights: dict[int, float], width: float
) -> list[int]:
    """A second bridge for whatever is heavy and would hang on one."""
    added: list[int] = []
    whole = sum(weights.values())
    for k, weight in _hanging_weights(places, tree, weights).items():
        if min(weight, whole - weight) <= HEAVY * width**2:
            continue
        edges = [*tree, *added]
        hanging = _lighter(_beyond(places, tree, k), weights)
        if not _held_otherwise(places, edges, k, hanging):
            added += _second(shape, places, k, np.array(sorted(hanging)), edges)
    return added


def _hanging_weights(places: Candidates, tree: Sequence[int], weights: dict[int, float]) -> dict[int, float]:
    """For each edge of a tree what hangs on it, the pieces seen from the heaviest of all."""
    near: dict[int, list[tuple[int, int]]] = {}
    for k in tree:
        near.setdefault(int(places.below[k]), []).append((int(places.above[k]), k))
        near.setdefault(int(places.above[k]), []).append((int(places.below[k]), k))
    root = max(weights, key=lambda piece: weights[piece])
    order, edge_to, waiting = [], {root: -1}, [root]
    while waiting:
        order.append(piece := waiting.pop())
        for other, k in near.get(piece, []):
            if other not in edge_to:
                edge_to[other] = k
                waiting.append(other)
    hanging: dict[int, float] = dict.fromkeys(tree, 0.0)
    for piece in reversed(order[1:]):
        below = [hanging[k] for _, k in near[piece] if k != edge_to[piece]]
        hanging[edge_to[piece]] = weights[piece] + sum(below)
    return hanging


def _lighter(hanging: Set[int], weights: dict[int, float]) -> Set[int]:
    """The pieces that hang, or all others if these are lighter."""
    rest = weights.keys() - hanging
    lighter = sum(weights[piece] for piece in rest) < sum(weights[piece] for piece in hanging)
    return rest if lighter else hanging


def _held_otherwise(places: Candidates, edges: Sequence[int], without: int, hanging: Set[int]) -> bool:
    """Whether another edge holds them too."""
    others = [k for k in edges if k != without]
    return any((int(places.below[k]) in hanging) != (int(places.above[k]) in hanging) for k in others)


def _beyond(places: Candidates, edges: Sequence[int], without: int) -> frozenset[int]:
    """The pieces that hang together with the upper end of an edge when that is taken away."""
    near: dict[int, list[int]] = {}
    for k in edges:
        if k != without:
            near.setdefault(int(places.below[k]), []).append(int(places.above[k]))
            near.setdefault(int(places.above[k]), []).append(int(places.below[k]))
    found, waiting = set[int](), [int(places.above[without])]
    while waiting:
        piece = waiting.pop()
        if piece not in found:
            found.add(piece)
            waiting += near.get(piece, [])
    return frozenset(found)


def _second(shape: Shape, places: Candidates, first: int, hanging: Indices, edges: Sequence[int]) -> list[int]:
    """The best place, on another side, that holds the hanging pieces besides the first; none if there is none."""
    middles = places.middles
    at = np.flatnonzero(np.isin(places.below, hanging) != np.isin(places.above, hanging))
    for k in edges:
        at = at[np.hypot(*(middles[at] - middles[k]).T) > _NEAREST * places.width[k]]
    if _is_free(shape):
        lengths = places.high - places.low
        at = at[lengths[at] <= _LONGEST * lengths[first] + _SPARE * places.width[first]]
    if not len(at):
        return []
    rings = [shape.outlines[p] for p in hanging.tolist() if p > 0]
    centre = np.mean([(ring.min(axis=0) + ring.max(axis=0)) / 2 for ring in rings], axis=0)
    one, other = middles[first] - centre, middles[at] - centre
    cosine = other @ one / np.maximum(np.hypot(*other.T) * math.hypot(*one), 1e-9)
    return [int(at[np.argmin(places.score[at] + _SAME_SIDE * (1 + cosine))])]


def _in_line(places: Candidates, picked: list[int]) -> list[int]:
    """Move bridges that stand the same way onto one line where that costs little."""
    for turn in sorted({float(places.turn[k]) for k in picked}):
        group = [k for k in picked if places.turn[k] == turn]
        if 2 <= len(group) <= _MOST_IN_LINE:
            moved = dict(zip(group, _one_line(places, group), strict=True))
            picked = [moved.get(k, k) for k in picked]
    return picked


def _one_line(places: Candidates, group: list[int]) -> list[int]:
    """The same bridges, as many on one line as lowers the sum of scores; a bridge off the line counts for more.

    Two that would come to stand in one place would be one: the second stays.
    """
    xs, column = np.unique(np.round(places.x, 6), return_inverse=True)
    moves = np.full((len(group), len(xs)), np.inf)
    for row, k in enumerate(group):
        same = (places.turn == places.turn[k]) & (places.below == places.below[k]) & (places.above == places.above[k])
        reach = places.high[k] - places.low[k]
        same &= np.abs(places.low + places.high - places.low[k] - places.high[k]) / 2 < reach
        np.minimum.at(moves[row], column[same], places.score[same])
    stays = places.score[group][:, None] + _IN_LINE
    on = moves <= stays
    cost = np.where(on.sum(axis=0) > 1, np.minimum(moves, stays).sum(axis=0), np.inf)
    if not np.isfinite(cost).any():
        return group
    best = int(np.argmin(np.round(cost, 6)))
    line = np.flatnonzero(column == best)
    there = [_there(places, k, line, float(moves[i, best])) if on[i, best] else k for i, k in enumerate(group)]
    return [k if there.index(to) < i else to for i, (k, to) in enumerate(zip(group, there, strict=True))]


def _there(places: Candidates, k: int, line: Indices, score: float) -> int:
    """The place on a line that bridge `k` moves to, known by its score."""
    same = (places.turn[line] == places.turn[k]) & (places.score[line] == score)
    same &= (places.below[line] == places.below[k]) & (places.above[line] == places.above[k])
    return int(line[np.argmax(same)])
