"""How far at most a fitted loop and the ring that it stands for are apart, never told less than it is."""

import numpy as np
import shapely

from parts.artwork.fitting.offsets import Floats
from parts.geometry import Arc, Loop

_STEP = 32


def deviation(loop: Loop, ring: Floats) -> float:
    """Return the Hausdorff distance between a loop and a closed ring of points (n x 2), in mm."""
    points: list[tuple[float, float]] = []
    bow = 0.0
    for segment in loop.segments:
        if isinstance(segment, Arc):
            points += segment.points(_STEP)[:-1]
            bow = max(bow, 2 * segment.radius * np.sin(abs(segment.sweep) / _STEP / 4) ** 2)
        else:
            points.append(segment.start)
    line = shapely.LinearRing(points)
    other = shapely.LinearRing(ring)
    there = float(shapely.distance(other, shapely.points(points)).max())
    back = float(shapely.distance(line, shapely.points(ring)).max())
    return max(there, back) + bow
