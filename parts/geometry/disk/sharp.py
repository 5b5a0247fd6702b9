"""Discs tangent to both straight flanks of a sharp corner, of many loops at once.

The disc is in the void, on the right of the loops, and touches the lines before and after a corner that turns right
by the angle t at r tan(t/2) from it. What else a disc may rest on, `parts.geometry.disk.pocket` tries one by one.
"""

from collections import defaultdict
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from parts.geometry.loop import Loop
from parts.geometry.narrow.candidates import followers
from parts.geometry.search.grid import near_between
from parts.geometry.segment import Point
from parts.geometry.segments import Mask, Points, Segments, cross, dot
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_NECK_MM


class Rest(NamedTuple):
    """A disc at rest in the corner at the start of segment k of a loop: its centre, and where it touches the flanks."""

    k: int
    centre: Point
    before: Point
    after: Point


class Sharp(NamedTuple):
    """The discs at rest by the loops' indices, and the indices of the loops where there may be others."""

    rests: dict[int, list[Rest]]
    others: frozenset[int]


def sharp_corners(loops: Sequence[Loop], radius: float, least_turn: float) -> Sharp:
    """Return where discs of `radius` mm rest in sharp corners that turn right by `least_turn` radians or more."""
    of = Segments.of([segment for loop in loops for segment in loop.segments])
    sizes = np.array([len(loop.segments) for loop in loops], dtype=np.int64)
    owner = np.repeat(np.arange(len(loops)), sizes)
    before = np.empty_like(owner)
    before[followers(sizes)] = np.arange(len(owner))
    into, out = of.heading_at(before, of.end[before]), of.heading_at(np.arange(len(owner)), of.start)
    turn = np.arctan2(cross(into, out), dot(into, out))
    turns = (turn < -PARALLEL_RAD) | (np.pi - turn <= PARALLEL_RAD)  # straight back is to the right
    plain = (of.bulge == 0) & (of.bulge[before] == 0) & (turn <= PARALLEL_RAD - least_turn)
    reach = radius * np.tan(np.where(plain, -turn / 2, 0.0))
    plain &= (reach >= 2 * SAME_NECK_MM) & (reach <= np.minimum(of.length, of.length[before]) - 2 * SAME_NECK_MM)
    k = np.flatnonzero(plain)
    touched = of.start[k] - reach[k] * into[k], of.start[k] + reach[k] * out[k]
    centre = touched[0] - radius * (1j * into[k])
    free = _is_free(of, centre, radius)
    k, first = k[free], np.cumsum(sizes) - sizes
    turns |= (of.bulge < 0) & (of.radius < radius - LIMIT_SLACK_MM)
    turns[k] = False
    rests: dict[int, list[Rest]] = defaultdict(list)
    columns = ([(p.real, p.imag) for p in points[free].tolist()] for points in (centre, *touched))
    for loop, *rest in zip(owner[k].tolist(), (k - first[owner[k]]).tolist(), *columns, strict=True):
        rests[loop].append(Rest(*rest))
    return Sharp(rests, frozenset(owner[turns].tolist()))


def _is_free(of: Segments, centre: Points, radius: float) -> Mask:
    """Whether the discs have no boundary inside."""
    x, y = centre.real, centre.imag
    i, k = near_between(np.stack([x - radius, y - radius, x + radius, y + radius], axis=1), of.boxes())
    inside = np.abs(centre[i] - of.nearest(k, centre[i])) < radius - SAME_NECK_MM
    free: Mask = np.bincount(i[inside], minlength=len(centre)) == 0
    return free
