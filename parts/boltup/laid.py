"""Laid: how much all holes must grow for parts to take all bolts, laid as well as can be.

The second part may be shifted by (x, y) and turned by a small angle. Each bolt asks that what its two holes are off
one another, once laid, is in the room of the pair: a disk, or of a slot a parallelogram with a disk round it. The
least over all layings of the worst of them is that of a convex function of three numbers; it is found by the method
of ellipsoids with deep cuts, for every trial at once, and held between bounds that it brings itself.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
CLOSE_MM = 1e-3
"""How close the bounds are brought: a hundredth of what a hole is measured to."""
_MOST_STEPS = 600
_TRIM = 6
_TINY = 1e-12
# Keeps a division from 0 by 0; below any length in mm.


class Slots(NamedTuple):
    """The two half travels of each pair's slots, mm, as arrays of x and y of each: of n pairs."""

    ux: Array
    uy: Array
    vx: Array
    vy: Array


class Trials(NamedTuple):
    """Trials: off (x and y, n by trials), room (n by trials); pairs' places about their middle (x and y), slots."""

    off_x: Array
    off_y: Array
    room: Array
    x: Array
    y: Array
    slots: Slots | None

    def only(self, kept: NDArray[np.intp] | NDArray[np.bool_]) -> "Trials":
        """Return some of the trials."""
        return self._replace(off_x=self.off_x[:, kept], off_y=self.off_y[:, kept], room=self.room[:, kept])

    def without(self, pair: int) -> "Trials":
        """Return the trials without one pair."""
        left = np.arange(len(self.x)) != pair
        x, y = self.x[left], self.y[left]
        slots = Slots(*(each[left] for each in self.slots)) if self.slots else None
        return Trials(self.off_x[left], self.off_y[left], self.room[left], x - x.mean(), y - y.mean(), slots)


def growth(trials: Trials, wanted: float = 0.0, *, held: bool) -> Array:
    """Return by how much the room of all pairs must grow in each trial, mm; less than 0 where some is left over.

    Whether it is over 0 is sure of each, and so is the value that a share of `wanted` of the trials stays within;
    the others are only on their side of both.
    """
    if held or len(trials.x) == 1:
        x, y = (trials.off_x, trials.off_y) if held else (0 * trials.off_x, 0 * trials.off_y)
        px, py = _beyond(x, y, trials.slots)
        return np.asarray((np.hypot(px, py) - trials.room).max(axis=0))
    return _least(trials, wanted)


def _least(trials: Trials, wanted: float) -> Array:
    """The least over all layings, trial by trial; those that are settled are taken out on the way."""
    high, low = np.full((2, trials.room.shape[1]), np.inf)
    low[:] = -np.inf
    there = np.arange(len(high))
    radius = float(np.sqrt(np.mean(trials.x**2 + trials.y**2))) or 1.0
    across, up = -trials.y / radius, trials.x / radius  # per unit of the turn, in mm at the mean radius
    at, p, best = _begin(trials, across, up)
    least = low.copy()
    for step in range(_MOST_STEPS):
        value, g = _worst(trials, at, across, up)
        best = np.minimum(best, value)
        at, p, reach = _cut(at, p, g, value - best)
        least = np.maximum(least, value - reach)
        if step % _TRIM == 0:
            high[there], low[there] = best, least
            left = ~_settled(high, low, wanted)[there]
            there, at, p, best, least = there[left], at[:, left], p[:, :, left], best[left], least[left]
            trials = trials.only(left)
            if not len(there):
                break
    high[there] = best
    return high


def _settled(high: Array, low: Array, wanted: float) -> NDArray[np.bool_]:
    """Which trials need no closer bounds: those on one side of 0, and of what a share of all stays within."""
    sided = (high <= 0) | (low > 0)
    if wanted:
        sided &= (high < np.quantile(low, wanted, method="lower")) | (low > np.quantile(high, wanted, method="higher"))
    return sided | (high - low <= CLOSE_MM)


def _cut(at: Array, p: Array, g: Array, over: Array) -> tuple[Array, Array, Array]:
    """The ellipsoid about what a gradient leaves of another, where its middle is `over` the best known; its reach."""
    pg = np.einsum("ijt,jt->it", p, g)
    reach = np.sqrt(np.maximum(np.einsum("it,it->t", g, pg), _TINY))
    depth = np.clip(over / reach, 0.0, 0.999)
    pg /= reach
    shrunk = p - (1 + 3 * depth) / (2 * (1 + depth)) * pg[:, None] * pg[None]
    return at - (1 + 3 * depth) / 4 * pg, 9 / 8 * (1 - depth**2) * shrunk, reach


def _begin(trials: Trials, across: Array, up: Array) -> tuple[Array, Array, Array]:
    """The laying by least squares, and a ball about it that holds the best one."""
    n = len(across)
    turn = (across @ trials.off_x + up @ trials.off_y) / n
    at = np.stack([trials.off_x.mean(axis=0), trials.off_y.mean(axis=0), turn])
    rx, ry = _rest(trials, at, across, up)
    px, py = _beyond(rx, ry, trials.slots)
    value = (np.hypot(px, py) - trials.room).max(axis=0)
    far = (value + trials.room + np.hypot(rx, ry)).max(axis=0)
    if trials.slots:
        s = trials.slots
        far = far + (np.hypot(s.ux, s.uy) + np.hypot(s.vx, s.vy)).max()
    ball = np.zeros((3, 3, trials.room.shape[1]))
    for axis in range(3):
        ball[axis, axis] = np.maximum(far, CLOSE_MM) ** 2
    return at, ball, value


def _rest(trials: Trials, at: Array, across: Array, up: Array) -> tuple[Array, Array]:
    """What the holes are off one another once laid."""
    x, y, turn = at
    return trials.off_x - x - across[:, None] * turn, trials.off_y - y - up[:, None] * turn


def _worst(trials: Trials, at: Array, across: Array, up: Array) -> tuple[Array, Array]:
    """By how much the worst pair is off beyond its room, and the gradient of that."""
    px, py = _beyond(*_rest(trials, at, across, up), trials.slots)
    far = np.hypot(px, py)
    over = far - trials.room
    worst = over.argmax(axis=0)
    trial = np.arange(over.shape[1])
    size = np.maximum(far[worst, trial], _TINY)
    gx, gy = px[worst, trial] / size, py[worst, trial] / size
    return over[worst, trial], -np.stack([gx, gy, across[worst] * gx + up[worst] * gy])


def _beyond(x: Array, y: Array, slots: Slots | None) -> tuple[Array, Array]:
    """What is left of a vector once slots have let the bolt travel: from the nearest point of their parallelogram."""
    if slots is None:
        return x, y
    ux, uy, vx, vy = (each[:, None] for each in slots)
    best_x, best_y = _inside(x, y, slots)
    best = np.hypot(best_x, best_y)
    for sign in (-1.0, 1.0):
        for (ax, ay), (bx, by) in (((ux, uy), (vx, vy)), ((vx, vy), (ux, uy))):
            rx, ry = x - sign * bx, y - sign * by
            along = np.clip((rx * ax + ry * ay) / np.maximum(ax * ax + ay * ay, _TINY), -1.0, 1.0)
            rx, ry = rx - along * ax, ry - along * ay
            far = np.hypot(rx, ry)
            nearer = far < best
            best_x, best_y, best = np.where(nearer, rx, best_x), np.where(nearer, ry, best_y), np.minimum(far, best)
    return best_x, best_y


def _inside(x: Array, y: Array, slots: Slots) -> tuple[Array, Array]:
    """Nothing for a vector that is in the parallelogram; else the vector, from its middle."""
    ux, uy, vx, vy = (each[:, None] for each in slots)
    area = ux * vy - uy * vx
    flat = np.abs(area) <= _TINY
    safe = np.where(flat, 1.0, area)
    s, t = (x * vy - y * vx) / safe, (ux * y - uy * x) / safe
    within = ~flat & (np.abs(s) <= 1) & (np.abs(t) <= 1)
    return np.where(within, 0.0, x), np.where(within, 0.0, y)
