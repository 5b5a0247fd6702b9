"""A plate with a line to scribe that runs past its edge, and one with the line on it."""

from parts.geometry import Line, rectangle
from parts.profile import Profile, Scribe


def _plate(end: float) -> Profile:
    return Profile((rectangle((0, 0), 100, 40, 5),), marks=(Scribe((Line((20, 20), (end, 20)),)),))


BREAKS = _plate(120)
OBEYS = _plate(80)
