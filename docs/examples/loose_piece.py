"""A sign's letter O: its middle held by nothing, and by two bridges."""

import math

from parts.geometry import Loop, circle, rectangle
from parts.profile import Opening, Profile

_PLATE = rectangle((0, 0), 120, 100)
_BRIDGE = 6.0  # half the width of a bridge
_OUTER, _INNER = 36.0, 20.0


def _half(side: int) -> Loop:
    """Half of a ring around the plate's middle, its ends cut straight by the bridges."""
    turns = {r: 4 * math.atan(1) - 2 * math.asin(_BRIDGE / r) for r in (_OUTER, _INNER)}
    high_out, high_in = math.sqrt(_OUTER**2 - _BRIDGE**2), math.sqrt(_INNER**2 - _BRIDGE**2)
    x = side * _BRIDGE
    bulge_out, bulge_in = (math.tan(turns[r] / 4) * side for r in (_OUTER, _INNER))
    return Loop.through(
        [
            (60 + x, 50 - high_out, bulge_out),
            (60 + x, 50 + high_out, 0.0),
            (60 + x, 50 + high_in, -bulge_in),
            (60 + x, 50 - high_in, 0.0),
        ]
    )


BREAKS = Profile((_PLATE, circle((60, 50), 2 * _INNER)), (Opening(circle((60, 50), 2 * _OUTER), "letter"),))
OBEYS = Profile((_PLATE,), (Opening(_half(-1), "letter"), Opening(_half(1), "letter")))
