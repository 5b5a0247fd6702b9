"""The order of cutting, and where in a part its number stands."""

from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from parts.geometry import Point
from parts.sheets.layout import Laid, Placement
from parts.sheets.piece import Piece


def cutting_order(laid: Laid) -> list[Placement]:
    """Return what lies on a sheet as it is cut: what lies in an opening of another before that, then along the sheet.

    Once the part around it is cut free, what lies in it may move.
    """
    shapes = [each.shape for each in laid.placements]
    filled = np.array([shapely.union_all(_filled(shape)) for shape in shapes], dtype=object)
    within, around = shapely.STRtree(filled).query(shapes, predicate="within")
    depth = np.bincount(within[within != around], minlength=len(shapes))
    axis = 0 if laid.stock.width >= laid.stock.height else 1
    starts = [(shape.bounds[axis], shape.bounds[1 - axis]) for shape in shapes]
    order = sorted(range(len(shapes)), key=lambda i: (-depth[i], *starts[i]))
    return [laid.placements[i] for i in order]


def _filled(shape: BaseGeometry) -> list[shapely.Polygon]:
    return [shapely.Polygon(part.exterior) for part in shapely.get_parts(shape)]


def number_places(pieces: Iterable[Piece]) -> dict[Piece, tuple[Point, float]]:
    """Return for each piece, in its own coordinates, a point of its metal and the room around it, mm."""
    places = {}
    for piece in set(pieces):
        largest = max(shapely.get_parts(piece.shape), key=lambda part: part.area)
        circle = shapely.maximum_inscribed_circle(largest, tolerance=max(largest.length / 500, 0.01))
        (x, y), _ = shapely.get_coordinates(circle).tolist()
        places[piece] = (x, y), float(circle.length)
    return places
