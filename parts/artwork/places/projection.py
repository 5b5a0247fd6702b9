"""Projections of the sphere onto a plane about a point: areas kept, or angles.

Source: J. P. Snyder, "Map Projections: A Working Manual", USGS Professional Paper 1395 (1987), p. 154 (stereographic)
and p. 182 (Lambert azimuthal equal-area), on the sphere; from memory, held against pyproj.
"""

from typing import Literal, TypeAlias, get_args

import numpy as np
from numpy.typing import NDArray

from parts.geometry import Point

Projection: TypeAlias = Literal["equal-area", "conformal"]
PROJECTIONS: tuple[Projection, ...] = get_args(Projection)

_Floats: TypeAlias = NDArray[np.float64]


def projected(degrees: _Floats, centre: Point, kind: Projection) -> _Floats:
    """Return points (n x 2) on the plane, in radii of the earth, of longitudes and latitudes; north is up there.

    The point opposite the centre has no place there: what is nearly so is very far off.
    """
    longitude, latitude = np.radians(degrees).T
    east, north = np.radians(centre)
    sin, cos = np.sin(latitude), np.cos(latitude)
    turn = longitude - east
    away = np.sin(north) * sin + np.cos(north) * cos * np.cos(turn)  # the cosine of the distance from the centre
    rest = np.maximum(1 + away, 1e-12)
    scale = np.sqrt(2 / rest) if kind == "equal-area" else 2 / rest
    return np.column_stack(
        (scale * cos * np.sin(turn), scale * (np.cos(north) * sin - np.sin(north) * cos * np.cos(turn)))
    )


def middle(rings: list[_Floats]) -> Point:
    """Return longitude and latitude of the middle of rings: of their sides on the sphere, each by its length."""
    total = np.zeros(3)
    for ring in rings:
        longitude, latitude = np.radians(ring).T
        cos = np.cos(latitude)
        at = np.column_stack((cos * np.cos(longitude), cos * np.sin(longitude), np.sin(latitude)))
        sides = np.linalg.norm(np.roll(at, -1, axis=0) - at, axis=1)
        total += ((np.roll(at, -1, axis=0) + at) / 2 * sides[:, None]).sum(axis=0)
    x, y, z = total
    return float(np.degrees(np.arctan2(y, x))), float(np.degrees(np.arctan2(z, np.hypot(x, y))))
