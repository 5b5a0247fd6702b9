"""A ring that is a full circle, all of it.

The circle of least squares as a linear problem: I. Kåsa, "A circle fitting procedure and its error analysis", IEEE
Transactions on Instrumentation and Measurement 25 (1976).
"""

import math
from typing import NamedTuple

import numpy as np

from parts.artwork.fitting.offsets import Floats


class Round(NamedTuple):
    """A full circle; how far at most the ring is from it, and the root of the mean square of its points, in mm."""

    x: float
    y: float
    radius: float
    deviation: float
    spread: float


def whole_circle(ring: Floats, tolerance: float) -> Round | None:
    """Return the circle that a closed ring (n x 2) goes round once, nowhere further off than the tolerance."""
    low, high = ring.min(axis=0), ring.max(axis=0)
    size = (high - low) / 2
    if len(ring) < 6 or abs(size[0] - size[1]) > 2 * tolerance:
        return None
    near = ring - (low + high) / 2
    square = (near * near).sum(axis=1)
    if math.sqrt(square.max()) - size.max() > 2 * tolerance:
        return None
    left = np.column_stack([2 * near, np.ones(len(near))])
    (x, y, c), *_ = np.linalg.lstsq(left, square, rcond=None)
    radius = math.sqrt(max(c + x * x + y * y, 0.0))
    off = near - (x, y)
    ends = np.roll(off, -1, axis=0)
    (dx, dy), (ax, ay), (bx, by) = (ends - off).T, off.T, ends.T
    turned = float(np.arctan2(ax * by - ay * bx, ax * bx + ay * by).sum())
    length = np.maximum(np.hypot(dx, dy), 1e-300)
    t = np.clip(-(ax * dx + ay * dy) / length**2, 0, 1)
    nearest = np.hypot(ax + t * dx, ay + t * dy)
    deviation = max(float(np.hypot(ax, ay).max()) - radius, radius - float(nearest.min()))
    if deviation > tolerance or abs(abs(turned) - 2 * math.pi) > 1:
        return None
    centre = (low + high) / 2 + (x, y)
    spread = float(np.sqrt(np.mean((np.hypot(ax, ay) - radius) ** 2)))
    return Round(float(centre[0]), float(centre[1]), radius, deviation, spread)
