"""A splice plate with its bolts too near each other, and with room between them."""

from parts.geometry import circles, grid, rectangle
from parts.profile import Profile, openings


def _plate(pitch: float) -> Profile:
    centres = grid((22, 25), (pitch, 40), 3, 2)
    return Profile((rectangle((0, 0), 44 + 2 * pitch, 90, 6),), openings(circles(centres, 13.5), "hole", "", 12))


BREAKS = _plate(25)
OBEYS = _plate(40)
