"""A step bent twice with too little between for the die, and with enough."""

import math

from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile


def _flat(between: float) -> Profile:
    lines = (Line((0, 40), (100, 40)), Line((0, 40 + between), (100, 40 + between)))
    marks = tuple(Bend(line, math.pi / 2, up=up) for line, up in zip(lines, (True, False), strict=True))
    return Profile((rectangle((0, 0), 100, 80 + between),), marks=marks)


BREAKS = _flat(12)
OBEYS = _flat(25)
STOCK = {"thickness": 3}
