"""What a remedy costs: weight, time, pierces and size of the part before and after."""

from dataclasses import dataclass

from parts.cutting import Measures
from parts.units import Units, format_change, format_mass_in, format_size, format_time


@dataclass(frozen=True, slots=True)
class CostItem:
    """One quantity by its name, as it is said before and after."""

    name: str
    before: str
    after: str

    @property
    def said(self) -> str:
        """The quantity, with a unit they share said once: `weight 1.2 → 1.3 kg`."""
        return f"{self.name} {format_change(self.before, self.after)}"


@dataclass(frozen=True, slots=True)
class Cost:
    """The measures of a part before and after a change, said in some working units."""

    before: Measures
    after: Measures
    units: Units

    @property
    def items(self) -> tuple[CostItem, ...]:
        """Weight, time, pierces, drill centres and size, in this order."""
        said = (_said(measures, self.units) for measures in (self.before, self.after))
        return tuple(CostItem(name, old, new) for (name, old), (_, new) in zip(*said, strict=True))

    @property
    def sentence(self) -> str:
        """What changes: `weight 1.2 → 1.3 kg, pierces 5 → 4`, or that nothing does."""
        changed = [item.said for item in self.items if item.before != item.after]
        return ", ".join(changed) or "weight, time, pierces and size stay"


def _said(of: Measures, units: Units) -> list[tuple[str, str]]:
    return [
        ("weight", format_mass_in(of.mass_kg, units)),
        ("time", format_time(of.cut_time_s)),
        ("pierces", str(of.pierces)),
        ("drill centres", str(of.drill_centres)),
        ("size", format_size(of.width_mm, of.height_mm, units)),
    ]
