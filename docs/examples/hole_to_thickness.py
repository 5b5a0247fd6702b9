"""A plate with a hole too small for it, and the same with one that is large enough."""

from parts.geometry import circle, rectangle
from parts.profile import Profile, openings

BREAKS = Profile((rectangle((0, 0), 80, 50),), openings([circle((40, 25), 5)], "hole", ""))
OBEYS = Profile((rectangle((0, 0), 80, 50),), openings([circle((40, 25), 12)], "hole", ""))
