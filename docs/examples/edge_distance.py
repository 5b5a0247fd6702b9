"""A bench bracket with its bolts too near the end, and with metal behind them."""

from parts.geometry import circles, rectangle
from parts.profile import Profile, openings


def _plate(back: float) -> Profile:
    centres = [(back, 25), (back, 55), (90, 40)]
    return Profile((rectangle((0, 0), 120, 80, 6),), openings(circles(centres, 13.5), "hole", "", 12))


BREAKS = _plate(13)
OBEYS = _plate(20)
