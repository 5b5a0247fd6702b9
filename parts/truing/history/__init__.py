"""What was measured of each table over time, append only; as CSV and back."""

from parts.truing.history.csv_text import LARGEST as LARGEST_CSV
from parts.truing.history.csv_text import read as read_csv
from parts.truing.history.csv_text import write as write_csv
from parts.truing.history.store import (
    Entry,
    accept,
    accepted,
    compensation_by,
    entries,
    in_force,
    keep,
    place,
    take_in,
)

__all__ = [
    "LARGEST_CSV",
    "Entry",
    "accept",
    "accepted",
    "compensation_by",
    "entries",
    "in_force",
    "keep",
    "place",
    "read_csv",
    "take_in",
    "write_csv",
]
