"""A strip tapped where the plate is thinner than the thread, and with a thread that it is thick enough for."""

from parts.geometry import circle, rectangle
from parts.profile import HoleWork, Opening, Profile

STOCK = {"process": "laser"}


def _strip(drill: float, thread: str, nominal: float) -> Profile:
    work = HoleWork("tapped", thread, nominal, thread=thread)
    holes = (Opening(circle((x, 20), drill), "tapped hole", bolt=nominal, work=work) for x in (25, 75))
    return Profile((rectangle((0, 0), 100, 40, 5),), tuple(holes))


BREAKS = _strip(10.2, "M12", 12)
OBEYS = _strip(5, "M6", 6)
