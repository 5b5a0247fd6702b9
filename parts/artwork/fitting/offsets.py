"""How far points are from a line or an arc: the right offset, exact on shallow arcs too.

right offset    how far a point is to the right of a path, in mm, negative to the left: along the ray from an arc's
                centre, or square to a line
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def right_offsets(points: Floats, start: Floats, normal: Floats, curvature: Floats) -> Floats:
    """Return the right offsets of points (n x 2) from lines and arcs: start, left normal there, curvature.

    With w from the start to the point and n the normal, the power of the point over the radius is k w² - 2 w·n; and
    the distance from the centre, over the radius, |k w - n|. Nothing is lost where the centre is far away.
    """
    wx, wy = points[:, 0] - start[..., 0], points[:, 1] - start[..., 1]
    nx, ny = normal[..., 0], normal[..., 1]
    away = np.hypot(curvature * wx - nx, curvature * wy - ny)
    return np.asarray((curvature * (wx * wx + wy * wy) - 2 * (wx * nx + wy * ny)) / (away + 1))


def edge_feet(starts: Floats, ends: Floats, start: Floats, normal: Floats, curvature: Floats) -> Floats:
    """Return for each edge (n x 2 each) the point of it nearest to the centre of its arc; its start, for a line."""
    dx, dy = (ends - starts).T
    wx, wy = (starts - start).T
    nx, ny = normal[..., 0], normal[..., 1]
    down = (nx - curvature * wx) * dx + (ny - curvature * wy) * dy
    square = curvature * (dx * dx + dy * dy)
    t = np.clip(np.divide(down, square, out=np.zeros_like(down), where=square != 0), 0, 1)
    return np.asarray(starts + t[:, None] * (ends - starts))
