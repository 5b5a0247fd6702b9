"""Shop text <-> numbers: how lengths, angles and counts are read, and how quantities are printed."""

from parts.units.gauge import Gauge
from parts.units.lengths import (
    MM_PER_IN,
    Units,
    exact_text,
    format_both,
    format_length,
    parse_angle,
    parse_count,
    parse_length,
    parse_number,
    parse_thickness,
)
from parts.units.quantities import Inches, Millimetres
from parts.units.text import echo

__all__ = [
    "MM_PER_IN",
    "Gauge",
    "Inches",
    "Millimetres",
    "Units",
    "echo",
    "exact_text",
    "format_both",
    "format_length",
    "parse_angle",
    "parse_count",
    "parse_length",
    "parse_number",
    "parse_thickness",
]
