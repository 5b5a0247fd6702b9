"""A plate with a hole over its edge, and the same with the hole inside."""

from parts.geometry import circle, rectangle
from parts.profile import Profile, openings

BREAKS = Profile((rectangle((0, 0), 80, 50),), openings([circle((76, 25), 16)], "hole", ""))
OBEYS = Profile((rectangle((0, 0), 80, 50),), openings([circle((60, 25), 16)], "hole", ""))
