"""A job: what a rule is told besides the profile, namely how the part is cut and where."""

from dataclasses import dataclass

from parts.machine import Machine
from parts.process import Cut
from parts.stock import Bed
from parts.units import Units, format_length


@dataclass(frozen=True, slots=True)
class Job:
    """The cut (process at this material and thickness), bed and machine, and the units it is spoken of in."""

    cut: Cut
    bed: Bed
    machine: Machine
    units: Units = "mm"

    def say(self, mm: float) -> str:
        """Return a length as it is said in this job's units."""
        return format_length(mm, self.units)
