"""The rings of metal as loops of lines."""

import shapely

from parts.artwork.metal import Metal
from parts.geometry import Loop


def loops_of(metal: Metal) -> tuple[Loop, ...]:
    """Return every ring of metal as a loop of lines, with the metal on its left."""
    rings = shapely.get_rings(list(metal.geoms))
    return tuple(Loop.through([(x, y, 0.0) for x, y in shapely.get_coordinates(ring)[:-1].tolist()]) for ring in rings)
