"""A tray bent as sharp as its plate is thick, and to the radius that the metal stands."""

import math

from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile


def _flat(radius: float) -> Profile:
    return Profile((rectangle((0, 0), 120, 120),), marks=(Bend(Line((0, 60), (120, 60)), math.pi / 2, radius),))


BREAKS = _flat(4)
OBEYS = _flat(8)
