"""A bracket with a slot too narrow to cut, and the same with one that is wide enough."""

from parts.geometry import rectangle, slot
from parts.profile import Profile, openings


def _with_slot(width: float) -> Profile:
    return Profile((rectangle((0, 0), 90, 50, 8),), openings([slot((45, 25), 50, width)], "slot", ""))


BREAKS = _with_slot(4)
OBEYS = _with_slot(10)
