"""How deep under a tip its material becomes wide, taken along both flanks; of the tips of many loops at once."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.narrow.tips import Tip
from parts.geometry.search.grid import Floats, Indices

_GROWTH = 1.25
_HALVINGS = 60
# From metres to the last bit.
_SAME_MM = 1e-12


def depths(found: Sequence[tuple[Loop, Sequence[Tip]]], width: float, within: float) -> list[list[float]]:
    """Return how deep under each tip of each loop its material becomes `width` mm wide.

    The width is taken between points as far along one flank as along the other, the depth from the middle of
    the tip to the middle between them. An outline is followed `within` mm either way, or half way round.
    """
    some = [(loop, tips) for loop, tips in found if tips]
    every = [tip for _, tips in some for tip in tips]
    if not every:
        return [[] for _ in found]
    owner = np.repeat(np.arange(len(some)), [len(tips) for _, tips in some])
    paths = _Paths([loop for loop, _ in some])
    first = paths.vertex[owner] + np.array([tip.first for tip in every])
    last = paths.vertex[owner] + np.array([tip.last for tip in every])
    far = _ways(paths, first, last, width, np.minimum(within, paths.around[owner] / 2))
    deep = (paths.at(first, -far) + paths.at(last, far)) / 2
    depth = np.hypot(*(deep - np.array([tip.middle for tip in every])).T).tolist()
    known = iter(depth)
    return [[next(known) for _ in tips] for _, tips in found]


def _ways(paths: "_Paths", first: Indices, last: Indices, width: float, whole: Floats) -> Floats:
    """How far along both flanks it is from each tip to where they are a width apart, or the whole of what is looked at.

    By steps that grow, then by halving.
    """

    def is_narrow(way: Floats) -> NDArray[np.bool_]:
        narrow: NDArray[np.bool_] = np.hypot(*(paths.at(last, way) - paths.at(first, -way)).T) < width
        return narrow

    near, far = np.zeros(len(whole)), np.minimum(width / 2, whole)
    while (growing := (far < whole) & is_narrow(far)).any():
        near = np.where(growing, far, near)
        far = np.where(growing, np.minimum(_GROWTH * far, whole), far)
    reached = ~is_narrow(far)
    for _ in range(_HALVINGS):
        if (far - near)[reached].max(initial=0.0) <= _SAME_MM:
            break
        middle = (near + far) / 2
        narrow = is_narrow(middle)
        near, far = np.where(narrow, middle, near), np.where(reached & ~narrow, middle, far)
    return far


class _Paths:
    """Closed chains as arrays, each three times round, so that nothing has to wrap, and one after the other.

    `vertex` is the place of the first of each in its second round, `around` how long it is once round.
    """

    def __init__(self, loops: Sequence[Loop]) -> None:
        counts = np.array([len(loop.unsplit) for loop in loops])
        segments = [segment for loop in loops for segment in loop.unsplit]
        lengths = np.array([segment.length for segment in segments])
        self._start = np.array([segment.start for segment in segments])
        self._chord = np.array([segment.end for segment in segments]) - self._start
        self._half = np.array([getattr(segment, "sweep", 0.0) for segment in segments]) / 2
        self._sine = np.where(self._half == 0, 1.0, np.sin(self._half))
        base = np.cumsum(counts) - counts
        number = [b + np.tile(np.arange(n), 3) for b, n in zip(base.tolist(), counts.tolist(), strict=True)]
        self._segment = np.concatenate(number)
        self._way = np.concatenate([[0.0], np.cumsum(lengths[self._segment])])
        self.vertex = 3 * base + counts
        self.around = np.add.reduceat(lengths, base)

    def at(self, vertex: Indices, way: Floats) -> Floats:
        """Return the points (n x 2) `way` mm on from a vertex, back where it is negative; less than once round.

        On an arc as `Arc.at` has it: from the start, by a chord of 2 r sin of half the sweep so far.
        """
        at = self._way[vertex] + way
        k = (np.searchsorted(self._way, at, side="right") - 1).clip(0, len(self._segment) - 1)
        part = (at - self._way[k]) / (self._way[k + 1] - self._way[k])
        k = self._segment[k]
        half = self._half[k]
        scale = np.where(half == 0, part, np.sin(part * half) / self._sine[k])
        turn_by = (part - 1) * half
        c, s, (x, y) = scale * np.cos(turn_by), scale * np.sin(turn_by), self._chord[k].T
        points: Floats = self._start[k] + np.stack([c * x - s * y, s * x + c * y], axis=1)
        return points
