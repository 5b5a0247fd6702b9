"""A tab that tapers from its bend, and one that runs square first."""

import math

from parts.geometry import Line, polygon
from parts.profile import Bend, Profile


def _flat(square: float) -> Profile:
    begins = 40 + square
    corners = [(0, 0), (90, 0), (90, begins), (65, begins + 40), (25, begins + 40), (0, begins)]
    return Profile((polygon(corners),), marks=(Bend(Line((0, 40), (90, 40)), math.pi / 2),))


BREAKS = _flat(4)
OBEYS = _flat(16)
STOCK = {"thickness": 3}
