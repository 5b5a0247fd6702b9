"""The openings of metal that have loose pieces in them, each by itself."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from parts.artwork.holding.place import reading_order
from parts.artwork.holding.scan import Floats
from parts.artwork.holding.shape import BEYOND, Shape
from parts.geometry import Point

_SEARCH_MM = 0.02
"""Places are looked for on outlines simplified by so much: a tenth of what shows on a cut edge."""
_GRID_DECIMALS = 5
"""Shapes that differ by less are one: where a letter stands changes its coordinates by rounding."""


@dataclass(frozen=True)
class Opening:
    """Loose pieces, by their index, in opening `hole` of piece `holder`; -1 where they lie side by side on nothing."""

    holder: int
    hole: int
    pieces: tuple[int, ...]


def openings(parts: Sequence[shapely.Polygon], side_by_side: bool) -> list[Opening]:
    """Return the openings that have loose pieces, as one reads; with what lies side by side if that is to be held."""
    holes = [(i, j) for i, part in enumerate(parts) for j in range(len(part.interiors))]
    filled = np.array([shapely.Polygon(parts[i].interiors[j]) for i, j in holes], dtype=object)
    held: dict[int, list[int]] = {}
    for piece, hole in _innermost(parts, filled).items():
        held.setdefault(hole, []).append(piece)
    order = reading_order([filled[hole].bounds for hole in sorted(held)])
    numbers = [sorted(held)[k] for k in order]
    found = [Opening(*holes[hole], _read([*held[hole]], parts)) for hole in numbers]
    outermost = sorted(set(range(len(parts))) - {piece for within in held.values() for piece in within})
    if side_by_side and len(outermost) > 1:
        found.append(Opening(-1, -1, _read(outermost, parts)))
    return found


def _innermost(parts: Sequence[shapely.Polygon], filled: np.ndarray) -> dict[int, int]:
    """For each piece in an opening the opening right around it."""
    if not len(filled):
        return {}
    areas = shapely.area(filled)
    inside: dict[int, int] = {}
    tree = shapely.STRtree(filled)
    for piece, hole in tree.query(
        shapely.point_on_surface(np.array(parts, dtype=object)), predicate="within"
    ).T.tolist():
        if piece not in inside or areas[hole] < areas[inside[piece]]:
            inside[piece] = hole
    return inside


def _read(pieces: list[int], parts: Sequence[shapely.Polygon]) -> tuple[int, ...]:
    return tuple(pieces[k] for k in reading_order([parts[piece].bounds for piece in pieces]))


def shape_of(opening: Opening, parts: Sequence[shapely.Polygon], margin: float) -> tuple[Shape, Point]:
    """Return an opening's shape, and where its middle lies."""
    loose = [parts[piece] for piece in opening.pieces]
    if opening.holder < 0:
        x0, y0, x1, y1 = shapely.total_bounds(np.array(loose, dtype=object)).tolist()
        around = shapely.box(x0 - margin, y0 - margin, x1 + margin, y1 + margin).exterior
    else:
        around = parts[opening.holder].interiors[opening.hole]
    x0, y0, x1, y1 = around.bounds
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    rings = [(BEYOND if opening.holder < 0 else 0, around)]
    for number, part in enumerate(loose, start=1):
        rings += [(number, part.exterior), *((number, ring) for ring in part.interiors)]
    return Shape(tuple((number, _local(ring, middle)) for number, ring in rings)), middle


def _local(ring: shapely.LinearRing, middle: Point) -> bytes:
    simple = shapely.simplify(ring, _SEARCH_MM, preserve_topology=False)
    simple = ring if len(simple.coords) < 5 else simple
    points: Floats = np.round(shapely.get_coordinates(simple) - middle, _GRID_DECIMALS) + 0.0
    return points.tobytes()
