"""The rings of metal as loops of lines."""

from functools import lru_cache

import shapely

from parts.artwork.metal import Metal
from parts.geometry import Loop


@lru_cache(maxsize=4)  # of metal that stays as it is both gaps and necks are looked for
def loops_of(metal: Metal) -> tuple[Loop, ...]:
    """Return every ring of metal as a loop of lines, with the metal on its left."""
    rings = shapely.get_rings(list(metal.geoms))
    return tuple(Loop.through([(x, y, 0.0) for x, y in shapely.get_coordinates(ring)[:-1].tolist()]) for ring in rings)
