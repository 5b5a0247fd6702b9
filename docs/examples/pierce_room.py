"""A plate with a three-cornered window too small to pierce in, and the same with one that is large enough."""

import math

from parts.geometry import fillet, polygon, rectangle
from parts.profile import Profile, openings


def _with_window(reach: float) -> Profile:
    turns = [math.pi / 2 + i * 2 * math.pi / 3 for i in range(3)]
    window = polygon(fillet(32 + reach * math.cos(turn), 22 + reach * math.sin(turn), 1.5) for turn in turns)
    return Profile((rectangle((0, 0), 64, 48, 6),), openings([window], "window", ""))


BREAKS = _with_window(5)
OBEYS = _with_window(16)
