"""A strip with its end hole drilled next to nothing, and with metal beside it."""

from parts.geometry import rectangle
from parts.profile import Drill, Profile


def _strip(end: float) -> Profile:
    return Profile((rectangle((0, 0), 100, 40, 5),), marks=(Drill((end, 20), 10), Drill((70, 20), 10)))


BREAKS = _strip(7)
OBEYS = _strip(18)
