"""A bracket with a notch in its edge too narrow to cut, and the same with one that is wide enough."""

from parts.geometry import polygon
from parts.profile import Profile


def _with_notch(width: float) -> Profile:
    left, right = 45 - width / 2, 45 + width / 2
    corners = [(0, 0), (90, 0), (90, 50), (right, 50), (right, 15), (left, 15), (left, 50), (0, 50)]
    return Profile((polygon(corners),))


BREAKS = _with_notch(4)
OBEYS = _with_notch(10)
