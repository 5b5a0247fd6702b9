"""A tab bent up from a wider plate, torn at its corners, and parted from it by two slots."""

import math

from parts.geometry import Line, polygon
from parts.profile import Bend, Profile

BEND = Bend(Line((30, 60), (90, 60)), math.pi / 2)


def _flat(deep: float) -> Profile:
    left, right = [(30, 62), (30, 62 - deep), (26, 62 - deep), (26, 62)], [(94, 62), (94, 62 - deep), (90, 62 - deep)]
    ends = [*right, (90, 62)] if deep else [(90, 62)]
    return Profile(
        (polygon([(0, 0), (120, 0), (120, 62), *ends, (90, 95), (30, 95), *(left if deep else left[:1]), (0, 62)]),),
        marks=(BEND,),
    )


BREAKS = _flat(0)
OBEYS = _flat(10)
STOCK = {"thickness": 3}
