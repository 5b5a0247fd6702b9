"""The shape of a symbol, as metal."""

from functools import lru_cache

import numpy as np

from parts.artwork.glyphs import path_contours
from parts.artwork.metal import Metal, metal_from, one_wide
from parts.artwork.symbols.find import drawings
from parts.geometry.area import filled_rings

_FLAT_FOR_MM = 1024.0
# Curves are flattened as for a symbol so large.
_SQUARE = 256.0


@lru_cache(maxsize=64)
def symbol(name: str) -> Metal:
    """Return what a symbol fills, one wide from left to right; its lower left at the origin.

    Raises:
        KeyError: there is no symbol of this name.
    """
    scale = _FLAT_FOR_MM / _SQUARE
    rings = [np.array(ring) * (1, -1) for ring in path_contours(drawings()[name]["path"], scale)]
    return one_wide(metal_from(filled_rings(rings, "nonzero")))
