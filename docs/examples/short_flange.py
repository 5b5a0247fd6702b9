"""A tray's edge too short for the brake, and long enough."""

from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile


def _flat(flange: float) -> Profile:
    return Profile((rectangle((0, 0), 100, 50 + flange),), marks=(Bend(Line((0, 50), (100, 50))),))


BREAKS = _flat(8)
OBEYS = _flat(20)
STOCK = {"thickness": 3}
