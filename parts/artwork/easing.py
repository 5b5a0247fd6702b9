"""Corners of areas made round, as a jet leaves them; and what that does to the chords of curves undone."""

from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.artwork.metal import FLAT_MM, MOST_TURN, Metal, metal_from, quarter_chords

_CORNER, _SPECK, _JOIN, _CLEAR = 10.0, 500.0, 1e-5, 2e-3
# How much is lost at a corner at most, and by rounding the inverse, in squares of its radius; what nobody sees of an
# outline, and how far what is put together laps over, mm.
_SHARE = 0.5
# Of FLAT_MM, how far a point of a curve moves at most where it is put back.

Floats: TypeAlias = NDArray[np.float64]


def eased(area: Metal, radius: float) -> Metal:
    """Return an area with its corners round, as a jet leaves what it cuts out; narrower strokes stay as they are.

    What is lost at a corner touches the rest in one place, and is no larger than at a point of some 10 degrees; what
    is lost of a stroke touches it at both ends, or is more.
    """
    chords = quarter_chords(radius)
    eroded = shapely.buffer(area, -radius, quad_segs=chords)
    opened = shapely.buffer(eroded, radius, quad_segs=chords)
    strokes = _strokes(area, shapely.buffer(eroded, radius + _CLEAR, quad_segs=chords), radius)
    whole = shapely.union_all([opened, *strokes]) if strokes else opened
    return restored(metal_from(shapely.simplify(whole, 10 * _JOIN)))


def _strokes(area: Metal, reached: shapely.Geometry, radius: float) -> list[shapely.Geometry]:
    """What of an area is out of a disc's reach and isn't a corner, with what joins it to the rest.

    What is reached is a little more than the disc fills, or all along the edges there would be slivers of rounding.
    """
    lost = shapely.get_parts(shapely.difference(area, reached))
    lost = shapely.buffer(lost[shapely.area(lost) > radius**2 / _SPECK], 2 * _CLEAR, quad_segs=2)
    strokes = lost[(shapely.area(lost) > _CORNER * radius**2) | (_contacts(lost, reached) != 1)]
    return [shapely.intersection(area, shapely.buffer(part, _CLEAR)) for part in strokes]


def _contacts(parts: NDArray[np.object_], area: shapely.Geometry) -> NDArray[np.int64]:
    """In how many places each part meets an area: how many runs of the chords of its boundary it meets."""
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_parts(shapely.boundary(shapely.get_parts(area)))]
    if not rings:
        return np.zeros(len(parts), dtype=np.int64)
    chords = np.concatenate([np.stack([ring[:-1], ring[1:]], axis=1) for ring in rings])
    before = np.arange(len(chords)) - 1
    ends = np.cumsum([len(ring) - 1 for ring in rings])
    before[np.concatenate([[0], ends[:-1]])] = ends - 1
    lines: NDArray[np.object_] = np.asarray(shapely.linestrings(chords))
    part, chord = shapely.STRtree(lines).query(parts, "intersects")
    begins = ~np.isin(part * len(chords) + before[chord], part * len(chords) + chord)
    return np.bincount(part[begins], minlength=len(parts))


def eased_around(metal: Metal, radius: float) -> Metal:
    """Return metal with the corners of what is cut out of it, and from around it, round."""
    near, far = (shapely.box(*shapely.buffer(shapely.box(*metal.bounds), by * radius).bounds) for by in (1, 6))
    return metal_from(shapely.difference(near, eased(metal_from(shapely.difference(far, metal)), radius)))


def restored(metal: Metal) -> Metal:
    """Return metal with the chords of its curves as they were before it shrank and grew: a point where two are now.

    A round join stands there for each point of a curve, an edge that turns as little at both of its ends. What is left
    turns by no more than MOST_TURN there, and no place is further from where it was than a share of FLAT_MM.
    """
    kind, points, (rings, polygons, *rest) = shapely.to_ragged_array([metal])
    kept, moved = _met(points, rings.astype(np.int64))
    counts = np.concatenate([[0], np.cumsum(kept)])
    fewer = shapely.from_ragged_array(kind, moved[kept], (counts[rings], polygons, *rest))[0]
    return fewer if fewer.is_valid else metal


def _met(points: Floats, rings: NDArray[np.int64]) -> tuple[NDArray[np.bool_], Floats]:
    """Which points of closed rings are kept, and where: of a short edge's ends the first, where its neighbours meet."""
    number = np.arange(len(points))
    last = np.repeat(rings[1:] - 1, np.diff(rings))  # the first point again
    first = np.repeat(rings[:-1], np.diff(rings))
    follows = np.where(number + 1 >= last, first, number + 1)
    before = np.where(number == first, last - 1, number - 1)
    edge = points[follows] - points
    length = np.hypot(*edge.T)
    turn = np.arctan2(*_products(edge[before], edge))
    other = turn[follows]
    both = np.abs(turn + other)
    along = length * np.abs(np.sin(other)) / np.maximum(np.sin(both), 1e-9)
    short = (length < length[before]) & (length <= length[follows]) & (number != last) & (turn * other > 0)
    short &= (both < MOST_TURN) & (along * np.abs(np.sin(turn)) < _SHARE * FLAT_MM)
    short &= ~np.isin(number, np.concatenate([rings[:-1], rings[1:] - 2]))  # a ring begins where it began
    moved = points.copy()
    ahead = edge[before][short] / length[before][short][:, None]
    moved[short] += along[short][:, None] * ahead
    kept = np.ones(len(points), dtype=bool)
    kept[follows[short]] = False
    return kept, moved


def _products(a: Floats, b: Floats) -> tuple[Floats, Floats]:
    """The sine and the cosine between vectors, times their lengths."""
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], a[:, 0] * b[:, 0] + a[:, 1] * b[:, 1]
