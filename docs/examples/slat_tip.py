"""A frame with a window whose drop-out can tip between the slats, and one with a window of small panes."""

from parts.geometry import rectangle
from parts.profile import Profile, openings

_FRAME = rectangle((0, 0), 180, 120)
BREAKS = Profile((_FRAME,), openings([rectangle((40, 30), 100, 60, 6)], "window", ""))
OBEYS = Profile(
    (_FRAME,),
    openings([rectangle((38 + 38 * i, 32 + 30 * j), 28, 26, 6) for i in range(3) for j in range(2)], "window", ""),
)
