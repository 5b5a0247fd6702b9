"""A cleat beside a plate that is still to be cut, where it can tip up between the slats, and one that can't."""

from parts.geometry import rectangle
from parts.profile import Profile

_PLATE = rectangle((0, 0), 180, 120)
BREAKS = Profile((rectangle((200, 0), 50, 40), _PLATE))
OBEYS = Profile((rectangle((200, 0), 90, 40), _PLATE))
