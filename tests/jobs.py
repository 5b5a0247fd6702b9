"""Jobs on the built-in bed, sheet, machine and brake, whatever numbers a person has of their own."""

from typing import Any

from parts.cutting import Bed, Cut, Job, Sheet
from parts.cutting.machine import Machine
from parts.forming.brake import brake_at
from parts.shop import built_in
from parts.shop.numbers import BUILT_IN_EDITION

_DATA = built_in()
BED = Bed(_DATA.bed.x_mm, _DATA.bed.y_mm)
SHEET = Sheet(_DATA.sheet.x_mm, _DATA.sheet.y_mm)
MACHINE = Machine(
    _DATA.machine.acceleration_mm_s2,
    _DATA.machine.top_speed_mm_s,
    _DATA.machine.corner_tolerance_mm,
    _DATA.machine.slat_pitch_mm,
    _DATA.machine.rapid_mm_s,
)
BRAKE = brake_at(BUILT_IN_EDITION, "mild-steel")


def job(cut: Cut, **changes: Any) -> Job:
    """Return the job of cutting this way here; `changes` are fields of `Job`."""
    return Job(**{"cut": cut, "bed": BED, "sheet": SHEET, "machine": MACHINE, "brake": BRAKE} | changes)
