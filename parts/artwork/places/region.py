"""A region: a place's outline on the plane."""

import math
from functools import lru_cache

import numpy as np
import shapely

from parts.artwork.metal import Metal, metal_from, one_wide
from parts.artwork.places.find import found
from parts.artwork.places.projection import Projection, middle, projected
from parts.artwork.places.topology import Degrees, has_outline, polygons
from parts.errors import GeometryError
from parts.geometry import Point

_SEAM = 2e-4
_WORTH = 2.5
_MERIDIAN = 179.9
# The maps cut what lies across the meridian of 180 degrees in two: gaps there are closed, so wide in radii of the earth
# (1.3 km).
_SIDE_DEG = 0.5
# How long sides may be before they are laid flat: those along a meridian or a parallel are bent there.


@lru_cache(maxsize=32)
def region(place: str, kind: Projection, reach: float = 0.3, least: float = 0.002) -> Metal:
    """Return a place's outline, north up in its middle, one wide from west to east; its lower left at the origin.

    Args:
        place: its name.
        kind: what its projection keeps.
        reach: islands are left out that lie further from the main land, and what is with it already, than so many times
            their size; what lies oceans away isn't what a person means by the place. So are those further off than two
            and a half times their own size: they would hang on a bar that is far larger than they are.
        least: islands are left out that have a smaller share of the main land's area.

    Raises:
        GeometryError: there is no place of this name, or none with an outline.
    """
    at = found(place)
    if at is None:
        raise GeometryError(f"There is no place called {place}.")
    if not has_outline(*at):
        raise GeometryError(f"{place} is only a point on the maps.")
    parts = [[_dense(ring) for ring in rings if len(ring) > 2] for rings in polygons(*at) if len(rings[0]) > 2]
    main = max(parts, key=lambda rings: _flat(rings, middle(rings[:1]), kind).area)
    shapes = [_flat(rings, middle(main[:1]), kind) for rings in parts]
    near = [parts[i] for i in _near(shapes, reach, least)]
    centre = middle([rings[0] for rings in near])
    shape = shapely.union_all([_flat(rings, centre, kind) for rings in near])
    if any(np.abs(ring[:, 0]).max() > _MERIDIAN for rings in near for ring in rings):
        closed = shapely.buffer(shape, _SEAM / 2, join_style="mitre", mitre_limit=2.0)
        shape = shapely.buffer(closed, -_SEAM / 2, join_style="mitre", mitre_limit=2.0)
    return one_wide(metal_from(shape))


def _flat(rings: list[Degrees], centre: Point, kind: Projection) -> Metal:
    outer, *holes = (projected(ring, centre, kind) for ring in rings)
    return metal_from(shapely.Polygon(outer, holes))


def _near(shapes: list[Metal], reach: float, least: float) -> list[int]:
    """The largest shape and those that lie near it or each other: the nearest next, as the whole grows."""
    first = max(range(len(shapes)), key=lambda i: shapes[i].area)
    enough = least * shapes[first].area
    kept, rest = [first], [i for i, shape in enumerate(shapes) if i != first and shape.area >= enough]
    away = {i: float(shapely.distance(shapes[first], shapes[i])) for i in rest}
    worth = {i: _WORTH * _size(shapes[i]) for i in rest}
    while rest:
        far = reach * _size(shapely.MultiPolygon([part for i in kept for part in shapes[i].geoms]))
        able = [i for i in rest if away[i] <= min(far, worth[i])]
        if not able:
            break
        nearest = min(able, key=lambda i: away[i])
        kept.append(nearest)
        rest.remove(nearest)
        for i, far in zip(rest, shapely.distance(shapes[nearest], [shapes[i] for i in rest]), strict=True):
            away[i] = min(away[i], float(far))
    return sorted(kept)


def _size(shape: shapely.Geometry) -> float:
    x0, y0, x1, y1 = shapely.bounds(shape).tolist()
    return math.hypot(x1 - x0, y1 - y0)


def _dense(ring: Degrees) -> Degrees:
    """The ring with points on its long sides; a side goes the shorter way round the earth."""
    steps = np.roll(ring, -1, axis=0) - ring
    steps[:, 0] = (steps[:, 0] + 180) % 360 - 180
    counts = np.maximum(np.ceil(np.abs(steps).max(axis=1) / _SIDE_DEG).astype(int), 1)
    if counts.max() == 1:
        return ring
    return np.concatenate([a + b * (np.arange(n) / n)[:, None] for a, b, n in zip(ring, steps, counts, strict=True)])
