"""A job: what a rule is told besides the profile, namely how the part is cut and where."""

from dataclasses import dataclass

from parts.cutting.machine import Machine
from parts.cutting.process import Cut
from parts.cutting.stock import Bed, Sheet
from parts.forming import Brake
from parts.units import Units, format_apart, format_length, read_alike, reckoned_number, with_unit

ROUGHLY_FROM_MM = 50
"""A length from here on is told to a tenth of a mm; under it bridges, gaps and holes are, which are held to limits."""


@dataclass(frozen=True, slots=True)
class Job:
    """The cut (process at this material and thickness), bed, sheet, machine and brake, and the units spoken in."""

    cut: Cut
    bed: Bed
    sheet: Sheet
    machine: Machine
    brake: Brake
    units: Units = "mm"

    def say(self, mm: float, beside: float = 0.0) -> str:
        """Return a length as it is said in this job's units, as exactly as a shop reads it.

        One that would print as another that it is told `beside`, or as nothing, has the decimals that tell them apart.
        """
        if abs(mm - beside) < ROUGHLY_FROM_MM and read_alike(self._plain(mm), self._plain(beside)):
            return format_apart(mm, beside, self.units)[0]
        return self._plain(mm)

    def say_apart(self, one: float, other: float) -> tuple[str, str]:
        """Return two lengths that are compared, as each is said beside the other."""
        return self.say(one, other), self.say(other, one)

    def _plain(self, mm: float) -> str:
        if abs(mm) < ROUGHLY_FROM_MM:
            return format_length(mm, self.units)
        return with_unit(reckoned_number(mm, self.units), self.units)
