"""A deep, narrow U that doesn't clear the punch, and a lower one that does."""

import math

from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile


def _flat(leg: float) -> Profile:
    lines = (Line((0, leg), (80, leg)), Line((0, leg + 50), (80, leg + 50)))
    return Profile((rectangle((0, 0), 80, 2 * leg + 50),), marks=tuple(Bend(line, math.pi / 2) for line in lines))


BREAKS = _flat(70)
OBEYS = _flat(30)
STOCK = {"thickness": 3}
