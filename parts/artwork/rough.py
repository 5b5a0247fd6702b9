"""Rough outlines: the edges of areas as lines alone, coarse, to be looked at for a moment and never cut."""

import math
from collections.abc import Iterable
from functools import lru_cache

import shapely

from parts.artwork.metal import Metal, metal_from, one_wide, without_specks
from parts.geometry import Loop

_SEEN = 1500
# An edge is off by no more than such a share of the size over all: half a pixel of a screen.
_COARSE = 1 / 500
# Of an outline of many points so much of its width: two pixels of a screen.
_STEPS = 4
# So many sizes of details are told apart from one to the double: a key more seldom makes another.


@lru_cache(maxsize=32)
def coarse(shape: Metal) -> Metal:
    """Return a shape that is one wide with as few points as a sketch of it needs."""
    return one_wide(metal_from(shapely.simplify(shape, _COARSE)))


def rounded_roughly(shape: Metal, detail: float) -> Metal:
    """Return a shape that is one wide without what is narrower than a detail, roughly, and one wide again."""
    return _rounded(shape, 2 ** (round(_STEPS * math.log2(detail)) / _STEPS)) if detail > _COARSE else shape


@lru_cache(maxsize=32)
def _rounded(shape: Metal, detail: float) -> Metal:
    plain = shapely.simplify(shape, detail / 3)
    closed = shapely.buffer(shapely.buffer(plain, detail / 2, quad_segs=2), -detail, quad_segs=2)
    opened = metal_from(shapely.simplify(shapely.buffer(closed, detail / 2, quad_segs=2), _COARSE / 4))
    kept = without_specks(opened, 4 * detail**2)
    return one_wide(kept) if kept.geoms else shape


def rough_loops(areas: Iterable[shapely.Geometry], across: float) -> tuple[list[Loop], list[Loop]]:
    """Return the loops around areas, and those around what is left out of them.

    Args:
        areas: polygons, or collections of them; mm.
        across: the size over all of what they are part of, mm; 0 for what is coarse already.
    """
    outer, inner = list[Loop](), list[Loop]()
    for piece in shapely.get_parts(shapely.get_parts(shapely.simplify(list(areas), across / _SEEN))):
        if shapely.get_num_coordinates(piece) > 3:
            outer.append(_loop(piece.exterior))
            inner += [_loop(ring) for ring in piece.interiors]
    return outer, inner


def _loop(ring: shapely.LinearRing) -> Loop:
    return Loop.through([(x, y, 0.0) for x, y in shapely.get_coordinates(ring)[:-1].tolist()])
