"""What is left of a sheet: the strip at its end, and the piece that goes back on the rack with its outline."""

from typing import TypeAlias

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from parts.profile import Profile
from parts.sheets.layout import Laid
from parts.sheets.piece import piece_of
from parts.sheets.stock import Stock

Outline: TypeAlias = shapely.Polygon
"""What an off-cut is: lines alone, which leave out no more than flattening does."""
NARROWEST_MM = 60.0
"""What is narrower is no off-cut but scrap: common practice."""
SMALLEST_MM2 = 40_000.0
"""An off-cut of 200 by 200 mm: what is smaller is scrap, common practice."""
_COARSE_MM = 1.0
"""How much further from parts the outline of an off-cut stays, so that it needs few corners."""
_MITRE = 2.0


def left_over(laid: Laid) -> tuple[float, float]:
    """Return width and height of the strip at the end of a sheet that no part reaches into, mm."""
    boxes = [each.shape.bounds for each in laid.placements]
    if laid.stock.width >= laid.stock.height:
        return laid.stock.width - max(box[2] for box in boxes), laid.stock.height
    return laid.stock.width, laid.stock.height - max(box[3] for box in boxes)


def remnant(laid: Laid, gap: float) -> tuple[shapely.Polygon, tuple[float, float]] | None:
    """Return the largest piece that is left of a sheet once its parts are cut out, None where that is scrap.

    It keeps the gap from every part, in whose openings nothing counts as left, and is nowhere narrower than
    NARROWEST_MM. Its lower left is at the origin; with it is told where on the sheet that was.
    """
    sheet = laid.stock.outline or shapely.box(0.0, 0.0, laid.stock.width, laid.stock.height)
    taken = shapely.union_all([_grown(each.shape, gap) for each in laid.placements])
    free = shapely.difference(sheet, taken)
    half = NARROWEST_MM / 2
    wide = free.buffer(-half, join_style="mitre", mitre_limit=_MITRE).buffer(
        half, join_style="mitre", mitre_limit=_MITRE
    )
    pieces = [each for each in shapely.get_parts(shapely.intersection(wide, free)) if each.geom_type == "Polygon"]
    largest = max(pieces, key=lambda piece: piece.area, default=None)
    if largest is None or largest.area < SMALLEST_MM2:
        return None
    x, y, *_ = largest.bounds
    moved = affinity.translate(largest, -x, -y)
    return shapely.set_precision(moved, 0.001), (x, y)


def off_cut(outline: shapely.Polygon, number: int) -> Stock:
    """Return an off-cut as stock, of which there is one; its outline's lower left is at the origin."""
    _, _, width, height = outline.bounds
    return Stock(width, height, 1, outline, number)


def outline_of(rings: "tuple[tuple[tuple[float, float], ...], ...]") -> shapely.Polygon:
    """Return the outline that rings say, the outer one first; of none an empty one."""
    return shapely.Polygon(rings[0], rings[1:]) if rings else shapely.Polygon()


def rings_of(outline: shapely.Polygon | None) -> "tuple[tuple[tuple[float, float], ...], ...]":
    """Return the rings of an outline, the outer one first, each without its last corner, which is its first."""
    if outline is None:
        return ()
    rings = (outline.exterior, *outline.interiors)
    return tuple(tuple((x, y) for x, y in shapely.get_coordinates(ring)[:-1].tolist()) for ring in rings)


def flattened(profile: Profile) -> list[Outline]:
    """Return the metal of a profile as polygons of lines, each with its box's lower left at the origin.

    Where an arc bulges outwards the lines lie within it; into an opening's arc they reach by ERROR_MM at the most.
    """
    found = []
    for part in shapely.get_parts(piece_of(0, profile).shape):
        x, y, *_ = part.bounds
        found.append(affinity.translate(part, -x, -y))
    return found


def _grown(shape: BaseGeometry, gap: float) -> BaseGeometry:
    filled = shapely.union_all([shapely.Polygon(part.exterior) for part in shapely.get_parts(shape)])
    return filled.buffer(gap + _COARSE_MM, join_style="mitre", mitre_limit=_MITRE).simplify(_COARSE_MM)
