"""A trail sign's arrow with a needle for a point, and one cut off blunt."""

from parts.geometry import polygon
from parts.profile import Profile

_TAIL = [(0, 15), (50, 15), (50, 12)]
BREAKS = Profile((polygon([*_TAIL, (110, 25), (50, 38), (50, 35), (0, 35)]),))
OBEYS = Profile((polygon([*_TAIL, (91, 21), (91, 29), (50, 38), (50, 35), (0, 35)]),))
