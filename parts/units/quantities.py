"""Masses, areas, speeds, times, angles -> text: nothing else in the project prints one."""

import math

from parts.units.factors import KG_PER_LB, LITRES_PER_FT3, LITRES_PER_GAL, MM_PER_IN, Units
from parts.units.printing import to_figures


def format_mass(kg: float, units: Units = "mm") -> str:
    """Return a mass in kg and in pounds, that of the working units first, to three figures: `0.283 kg (0.624 lb)`."""
    first, second = (format_mass_in(kg, each) for each in (units, "in" if units == "mm" else "mm"))
    return f"{first} ({second})"


def format_mass_in(kg: float, units: Units) -> str:
    """Return a mass in the unit that goes with the working units, to three figures or whole: `0.283 kg`, `0.624 lb`."""
    return f"{_three(kg)} kg" if units == "mm" else f"{_three(kg / KG_PER_LB)} lb"


def format_change(before: str, after: str) -> str:
    """Return two quantities as they are said, with an only unit they share said once: `155 → 149 mm`."""
    number, _, unit = before.rpartition(" ")
    shares = number and " " not in number and after.endswith(f" {unit}") and after.count(" ") == 1
    return f"{number if shares else before} → {after}"


def format_area(mm2: float, units: Units) -> str:
    """Return a small area, to the hundredth of a square millimetre or the ten thousandth of a square inch."""
    return f"{mm2:.2f} mm\u00b2" if units == "mm" else f"{mm2 / MM_PER_IN**2:.4f} in\u00b2"


def format_speed(mm_s: float, units: Units) -> str:
    """Return a speed a minute, to three figures or whole: `2540 mm/min`, `98.4 in/min`."""
    return f"{_three(speed_per_minute(mm_s, units))} {units}/min"


def speed_per_minute(mm_s: float, units: Units) -> float:
    """Return a speed in mm or inches a minute."""
    return mm_s * 60 / (1.0 if units == "mm" else MM_PER_IN)


def format_time(seconds: float) -> str:
    """Return how long something takes, to the second: `45 s`, `1 min 23 s`."""
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"


def format_short_time(seconds: float) -> str:
    """Return how long a part of something takes, to a tenth under ten seconds: `4.2 s`, `45 s`, `1 min 23 s`."""
    return f"{seconds:.1f} s" if seconds < 9.95 else format_time(seconds)


def format_seconds(seconds: float) -> str:
    """Return a short time as it was set: `0.5 s`."""
    return f"{to_figures(seconds)} s"


def format_hours(hours: float) -> str:
    """Return a long time in hours, to three figures: `1.5 h`."""
    return f"{to_figures(hours, 3)} h"


def format_minutes(minutes: float) -> str:
    """Return minutes as they were set: `5 min`."""
    return f"{to_figures(minutes)} min"


def format_current(amperes: float) -> str:
    """Return a current: `45 A`."""
    return f"{to_figures(amperes)} A"


def format_gas(litres: float, units: Units) -> str:
    """Return a volume of gas at the pressure of the air, to three figures: `85.3 l`, `1.2 m³`, `3 ft³`."""
    if units == "in":
        return f"{_three(litres / LITRES_PER_FT3)} ft\u00b3"
    return f"{_three(litres)} l" if litres < 999.5 else f"{_three(litres / 1000)} m\u00b3"


def format_liquid(litres: float, units: Units) -> str:
    """Return a volume of water, to three figures: `12.5 l`, `3.3 gal` (of the United States)."""
    return f"{_three(litres)} l" if units == "mm" else f"{_three(litres / LITRES_PER_GAL)} gal"


def format_money(amount: float, currency: str) -> str:
    """Return a sum to the hundredth, with the name of its money as the shop wrote it, if it did: `12.40 EUR`."""
    return f"{amount:,.2f} {currency}".rstrip()


def per_minute(amount: str) -> str:
    """Return what is used in a minute: `190 l/min`."""
    return f"{amount}/min"


def format_angle(degrees: float, figures: int = 6) -> str:
    """Return an angle to so many figures: `22.5\u00b0`."""
    return f"{to_figures(degrees, figures)}\u00b0"


def format_angle_error(degrees: float, places: int = 4, *, signed: bool = False) -> str:
    """Return a measured angle to so many decimals, noughts kept: `0.0120\u00b0`; `signed`, with its + or -."""
    return f"{degrees:{'+' if signed else ''}.{places}f}\u00b0"


def format_angle_error_ascii(degrees: float) -> str:
    """Return the same for a file that has no sign for degrees, with its + or -: `+0.01200 deg`."""
    return f"{degrees:+.5f} deg"


def format_temperature(celsius: float) -> str:
    """Return a difference in temperature: `20 \u00b0C`."""
    return f"{to_figures(celsius)} \u00b0C"


def format_size_name(size: str, units: Units) -> str:
    """Return the name of a standard size, of an inch one with its unit: `M10`, `1/2 in`."""
    return f"{size} in" if units == "in" else size


def _three(number: float) -> str:
    """The number to three figures, or whole where those are more."""
    return f"{number:.0f}" if 999.5 <= number < math.inf else to_figures(number, 3)
