"""A plate with two windows close together, and the same with room between them."""

from parts.geometry import rectangle
from parts.profile import Profile, openings


def _with_windows(apart: float) -> Profile:
    windows = [rectangle((12, 12), 30, 26), rectangle((42 + apart, 12), 30, 26)]
    return Profile((rectangle((0, 0), 84 + apart, 50),), openings(windows, "window", ""))


BREAKS = _with_windows(3)
OBEYS = _with_windows(12)
