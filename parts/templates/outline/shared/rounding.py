"""A figure without what is narrower than a detail, and where the eye goes that it hangs from."""

from functools import lru_cache

import shapely

from parts.artwork import Metal, metal_from, quarter_chords, without_specks
from parts.geometry import Point

_SPLIT_MM = 1e-3
# Rounding splits each point of a curve in two, so near to each other that the chords between look like drawn edges.
_FINE = 3000
# Coasts of more points than this are made coarser first, by what nobody sees.


def eye_at(figure: Metal, hole: float, eye: float) -> Point:
    """Return the middle of an eye's hole over the middle of the weight, a little above the metal highest there."""
    x = float(figure.centroid.x)
    _, y0, _, y1 = figure.bounds
    far = hole / 2 + eye
    below = metal_from(shapely.intersection(figure, shapely.box(x - far / 2, y0 - 1, x + far / 2, y1 + 1)))
    top = y1 if below.is_empty else float(below.bounds[3])
    return x, top + hole / 2


@lru_cache(maxsize=32)
def rounded(metal: bytes, detail: float) -> Metal:
    """Return metal, as WKB, without what is narrower than a detail, left or cut; its small openings closed."""
    shape = shapely.from_wkb(metal)
    if not detail:
        return metal_from(shape)
    half, quarter = detail / 2, quarter_chords(detail / 2)
    plain = shapely.simplify(shape, detail / 40) if shapely.get_num_coordinates(shape) > _FINE else shape
    closed = shapely.buffer(shapely.buffer(plain, half, quad_segs=quarter), -2 * half, quad_segs=quarter)
    opened = metal_from(shapely.simplify(shapely.buffer(closed, half, quad_segs=quarter), _SPLIT_MM))
    return without_specks(opened, 4 * detail**2)
