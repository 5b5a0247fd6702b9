"""The machine: how fast it goes and turns, and the slats that carry the plate. Lengths mm, times s."""

from dataclasses import dataclass
from functools import lru_cache

from parts import shop


@dataclass(frozen=True, slots=True)
class Machine:
    """What a machine can do: acceleration, top speed, how far it may round a corner; how far apart slats are.

    `rapid` is the speed of travel between cuts.
    """

    acceleration: float
    top_speed: float
    corner_tolerance: float
    slat_pitch: float
    rapid: float


def machine() -> Machine:
    """Return this shop's machine; remembered, so asking again costs microseconds.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return _machine(shop.edition())


@lru_cache(maxsize=4)
def _machine(at: shop.Edition) -> Machine:
    data = shop.load(at).machine
    return Machine(
        data.acceleration_mm_s2, data.top_speed_mm_s, data.corner_tolerance_mm, data.slat_pitch_mm, data.rapid_mm_s
    )
