"""Tangency of circles, with their centres on paths, to segments: of many paths and segments at once.

Paths are lines and arcs; the i-th path and the k-th segment are looked at together, for all of two index arrays.
"""

from collections.abc import Iterator

import numpy as np

from parts.geometry.search.grid import Floats, Indices
from parts.geometry.segments import Mask, Points, Segments, cross, dot
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM


def may_touch(path: Segments, of: Segments, radius: Floats, i: Indices, k: Indices) -> Mask:
    """Whether a circle with its centre on the path may have some of the segment inside; told of lines alone."""
    start, heading, room = path.start[i], path.heading[i], radius[i] - SAME_POINT_MM
    ends = of.start[k] - start, of.end[k] - start
    across, along = (np.sort(np.stack([by(heading, end) for end in ends]), axis=0) for by in (cross, dot))
    apart = (across[0] >= room) | (across[1] <= -room) | (along[1] <= -room) | (along[0] >= path.length[i] + room)
    may: Mask = (path.bulge[i] != 0) | (of.bulge[k] != 0) | ~apart
    return may


def touches(path: Segments, of: Segments, radius: Floats, i: Indices, k: Indices) -> Iterator[tuple[Indices, Points]]:
    """Yield the points of whole paths, beside the paths' indices, at `radius` from an end, the line or the circle."""
    for end in (of.start, of.end):
        yield from _on_circle(path, i, end[k], radius[i])
    bent = of.bulge[k] != 0
    line, arc = k[~bent], k[bent]
    for side in (-1, 1):
        off = side * radius[i[~bent]] * (1j * of.heading[line])
        yield from _on_line(path, i[~bent], of.start[line] + off, of.heading[line])
        r = np.abs(of.radius[arc] + side * radius[i[bent]])
        wide = r > SAME_POINT_MM
        yield from _on_circle(path, i[bent][wide], of.centre[arc][wide], r[wide])


def _on_line(path: Segments, i: Indices, through: Points, heading: Points) -> Iterator[tuple[Indices, Points]]:
    """The intersections of whole paths with lines."""
    bent = path.bulge[i] != 0
    arc, start, u, v = i[bent], path.start[i], path.heading[i], heading
    yield from _line_circle(arc, through[bent], heading[bent], path.centre[arc], path.radius[arc])
    sine = cross(u, v)
    crosses = ~bent & (np.abs(sine) > PARALLEL_RAD)
    start, u, v, sine = start[crosses], u[crosses], v[crosses], sine[crosses]
    yield i[crosses], start + cross(through[crosses] - start, v) / sine * u


def _on_circle(path: Segments, i: Indices, centre: Points, radius: Floats) -> Iterator[tuple[Indices, Points]]:
    """The intersections of whole paths with circles."""
    bent = path.bulge[i] != 0
    line, arc = i[~bent], i[bent]
    yield from _line_circle(line, path.start[line], path.heading[line], centre[~bent], radius[~bent])
    yield from _two_circles(arc, path.centre[arc], path.radius[arc], centre[bent], radius[bent])


def _line_circle(
    i: Indices, through: Points, heading: Points, centre: Points, radius: Floats
) -> Iterator[tuple[Indices, Points]]:
    if not len(i):
        return
    foot = through + dot(centre - through, heading) * heading
    off = np.abs(centre - foot)
    met = off <= radius + SAME_POINT_MM
    half = np.sqrt(np.maximum(radius[met] ** 2 - off[met] ** 2, 0.0))
    for side in (-1, 1):
        yield i[met], foot[met] + side * half * heading[met]


def _two_circles(
    i: Indices, centre: Points, radius: Floats, other: Points, other_radius: Floats
) -> Iterator[tuple[Indices, Points]]:
    """The intersections of the circles about `centre` with the others; none where they are concentric."""
    if not len(i):
        return
    apart = np.abs(other - centre)
    met = (apart <= radius + other_radius + SAME_POINT_MM) & (apart > SAME_POINT_MM)
    met &= apart >= np.abs(radius - other_radius) - SAME_POINT_MM
    apart, r, s, centre = apart[met], radius[met], other_radius[met], centre[met]
    along = (apart**2 + r**2 - s**2) / (2 * apart)
    half = np.sqrt(np.maximum(r**2 - along**2, 0.0))
    u = (other[met] - centre) / apart
    for side in (-1, 1):
        yield i[met], centre + along * u + side * half * (1j * u)
