"""A plate with a sharp-cornered window, and the same with its corners rounded."""

from parts.geometry import rectangle
from parts.profile import Profile, openings


def _with_corners(radius: float) -> Profile:
    return Profile((rectangle((0, 0), 90, 60, 6),), openings([rectangle((25, 18), 40, 24, radius)], "window", ""))


BREAKS = _with_corners(0)
OBEYS = _with_corners(4)
