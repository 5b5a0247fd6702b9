"""A bracket with a tapered finger that ends too narrow, and the same ended where there is metal enough."""

from parts.geometry import polygon
from parts.profile import Profile


def _with_finger(end: float) -> Profile:
    low, high = 30 - end / 2, 30 + end / 2
    return Profile((polygon([(0, 0), (30, 0), (30, 22), (95, low), (95, high), (30, 38), (30, 60), (0, 60)]),))


BREAKS = _with_finger(3)
OBEYS = _with_finger(8)
