"""A pennant with a window that ends in a needle's point, and the same with the point blunted."""

from parts.geometry import fillet, polygon, rectangle
from parts.profile import Profile, openings


def _pennant(radius: float) -> Profile:
    window = polygon([fillet(20, 18, 3), fillet(90, 30, radius), fillet(20, 42, 3)])
    return Profile((rectangle((0, 0), 110, 60, 6),), openings([window], "window", ""))


BREAKS = _pennant(0)
OBEYS = _pennant(3)
