"""A panel with two long slots that leave a thin slat between them, and one with a slat that stays straight."""

from parts.geometry import rectangle, slot
from parts.profile import Profile, openings


def _with_slots(apart: float) -> Profile:
    slots = [slot((220, 60 + side * (apart / 2 + 6)), 380, 12) for side in (-1, 1)]
    return Profile((rectangle((0, 0), 440, 120),), openings(slots, "slot", ""))


BREAKS = _with_slots(14)
OBEYS = _with_slots(36)
