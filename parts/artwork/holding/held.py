"""Metal made to hang together: loose pieces tied by bridges."""

import math
from collections.abc import Mapping
from types import MappingProxyType

import shapely

from parts.artwork.holding.assembly import Joint, assembled
from parts.artwork.holding.openings import openings, shape_of
from parts.artwork.holding.place import Strip, strips
from parts.artwork.holding.records import Bridge, Dropped, Held, Ties
from parts.artwork.metal import Metal, pieces
from parts.geometry import Point

_TOO_SMALL = 1 / 3
"""A piece smaller than this share of a bridge's square isn't worth a bridge."""


def held(metal: Metal, ties: Ties, moved: Mapping[str, float] = MappingProxyType({})) -> Held:
    """Return metal in which every loose piece is tied by bridges of the width asked, as few as hold it.

    `moved` has the offsets of bridges that were moved by hand, by their keys.

    Raises:
        GeometryError: as for `Ties`.
    """
    parts, dropped = _without_dust(metal, ties)
    bridges: list[Bridge] = []
    joints: list[Joint] = []
    unmoved = set(moved)
    for number, opening in enumerate(openings(parts, ties.frame == "one"), start=1):
        shape, middle = shape_of(opening, parts, 4 * ties.width_mm)
        own = tuple(sorted((key.partition(".")[2], moved[key]) for key in moved if key.startswith(f"{number}.")))
        made, stays = strips(shape, ties, own)
        unmoved -= {f"{number}.{key}" for key, _ in own if key not in stays}
        bridges += [_bridge(number, strip, middle) for strip in made]
        joints.append(Joint(opening, tuple(_area(strip, middle) for strip in made)))
    if not joints and not dropped:
        return Held(metal, (), (), (), tuple(sorted(unmoved)))
    whole = _without_crumbs(assembled(parts, joints, ties.kerf_mm), ties)
    return Held(whole, tuple(bridges), _loose(whole, ties), dropped, tuple(sorted(unmoved)))


def _without_crumbs(metal: Metal, ties: Ties) -> Metal:
    """The metal without what is left loose beside bridges where nooks are closed: none drawn is so small."""
    return shapely.MultiPolygon([part for part in pieces(metal) if part.area >= _TOO_SMALL * ties.width_mm**2])


def _loose(metal: Metal, ties: Ties) -> tuple[Point, ...]:
    """The middles of pieces that still hang on nothing."""
    parts = pieces(metal)
    return tuple(
        (parts[piece].centroid.x, parts[piece].centroid.y)
        for opening in openings(parts, ties.frame == "one")
        for piece in opening.pieces[opening.holder < 0 :]
    )


def _without_dust(metal: Metal, ties: Ties) -> tuple[tuple[shapely.Polygon, ...], tuple[Dropped, ...]]:
    """The pieces without those too small to hold."""
    parts = pieces(metal)
    least = _TOO_SMALL * ties.width_mm**2
    small = [part for part in parts if part.area < least]
    if not small or len(parts) == 1:
        return parts, ()
    told = tuple(Dropped((part.centroid.x, part.centroid.y), part.area) for part in small)
    return tuple(part for part in parts if part.area >= least), told


def _bridge(number: int, strip: Strip, middle: Point) -> Bridge:
    (x0, y0), (x1, y1), (x, y) = strip.start, strip.end, middle
    key, ends = f"{number}.{strip.key}", ((x0 + x, y0 + y), (x1 + x, y1 + y))
    return Bridge(key, *ends, strip.width, strip.offset, strip.breadth)


def _area(strip: Strip, middle: Point) -> shapely.Polygon:
    """The rectangle of a bridge, with ends that reach into the metal."""
    (x0, y0), (x1, y1) = strip.start, strip.end
    long = math.dist(strip.start, strip.end)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    over, half = strip.width / 16 + 0.05, strip.width / 2
    x0, y0, x1, y1 = x0 - over * ux, y0 - over * uy, x1 + over * ux, y1 + over * uy
    corners = [(x0 + half * uy, y0 - half * ux), (x1 + half * uy, y1 - half * ux),
               (x1 - half * uy, y1 + half * ux), (x0 - half * uy, y0 + half * ux)]  # fmt: skip
    return shapely.Polygon([(x + middle[0], y + middle[1]) for x, y in corners])
