"""What all lines of a job come to, in words."""

from parts.jobs import Totals
from parts.units import Units, format_both, format_mass, format_money, format_rough, format_time


def sums(of: Totals, units: Units) -> list[tuple[str, str]]:
    """Return what all lines come to, each with its name."""
    if of.cost is None:
        cost = "no rates are set"
    else:
        without = f", without {', '.join(of.missing)}" if of.missing else ""
        cost = f"{format_money(of.cost, of.currency)}{without}"
    return [
        ("Parts", f"{of.parts:,}"),
        ("Weight", format_mass(of.mass_kg, units)),
        ("Cut length", format_rough(of.cut_length_mm, units)),
        ("Pierces", f"{of.pierces:,}"),
        ("Time", format_time(of.time_s)),
        ("Cost", cost),
    ]


def stock(of: Totals, units: Units) -> list[tuple[str, str, str]]:
    """Return what is cut from each material and thickness: what it is, how many parts, what they weigh."""
    return [
        (f"{each.material}, {format_both(each.thickness_mm)}", f"{each.parts:,}", format_mass(each.mass_kg, units))
        for each in of.stock
    ]
