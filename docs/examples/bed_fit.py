"""A rail longer than the table travels, and one that fits along it."""

from parts.geometry import rectangle
from parts.profile import Profile

BREAKS = Profile((rectangle((0, 0), 2600, 400),))
OBEYS = Profile((rectangle((0, 0), 400, 2400),))
