"""A tray of stainless steel bent as sharp as it is thick, and to what its die leaves."""

import math

from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile


def _flat(radius: float) -> Profile:
    return Profile((rectangle((0, 0), 120, 120),), marks=(Bend(Line((0, 60), (120, 60)), math.pi / 2, radius),))


BREAKS = _flat(3)
OBEYS = _flat(4.8)
STOCK = {"thickness": 3, "material": "stainless-steel"}
