"""An angle bracket with a hole pulled oval by the bend, and with the hole clear of it."""

from parts.geometry import Line, circle, circles, rectangle
from parts.profile import Bend, Profile, openings


def _flat(off: float) -> Profile:
    holes = [*circles([(20, 45 + off), (60, 45 + off)], 9), circle((40, 20), 9)]
    return Profile((rectangle((0, 0), 80, 90, 5),), openings(holes, "hole", ""), (Bend(Line((0, 45), (80, 45))),))


BREAKS = _flat(10)
OBEYS = _flat(20)
STOCK = {"thickness": 3}
