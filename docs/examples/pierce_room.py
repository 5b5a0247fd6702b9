"""A plate with a slot in which a pierce would touch the edge, and the same with one that is wide enough."""

from parts.geometry import rectangle, slot
from parts.profile import Profile, openings


def _with_slot(width: float) -> Profile:
    return Profile((rectangle((0, 0), 80, 48, 6),), openings([slot((40, 24), 40, width)], "slot", ""))


BREAKS = _with_slot(6.5)
OBEYS = _with_slot(10)
