"""A hanging strip with fine teeth in thin sheet, where the torch never gets up to speed, and with coarse ones."""

from parts.geometry import polygon
from parts.profile import Profile

STOCK = {"thickness": "1 mm", "process": "laser"}


def _strip(teeth: int, tooth: float) -> Profile:
    step = 96 / teeth
    corners = [(0.0, 0.0), (96.0, 0.0)]
    for i in range(teeth, 0, -1):
        right, left = i * step, (i - 1) * step
        corners += [(right, 20.0), (right - step / 2, 20 + tooth), (left, 20.0)]
    corners = [at for at, before in zip(corners, [None, *corners], strict=False) if at != before]
    return Profile((polygon(corners),))


BREAKS = _strip(16, 4)
OBEYS = _strip(4, 16)
