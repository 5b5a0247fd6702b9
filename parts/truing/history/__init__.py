"""What was measured of each table over time, append only; as CSV and back."""

from parts.truing.history.csv_text import HEAD as CSV_HEAD
from parts.truing.history.csv_text import LARGEST as LARGEST_CSV
from parts.truing.history.csv_text import read as read_csv
from parts.truing.history.csv_text import write as write_csv
from parts.truing.history.entry import LONGEST_TEXT, Entry, accepted, compensation_by, in_force
from parts.truing.history.place import VARIABLE
from parts.truing.history.store import accept, entries, keep, kept_at, take_in

__all__ = [
    "CSV_HEAD",
    "LARGEST_CSV",
    "LONGEST_TEXT",
    "VARIABLE",
    "Entry",
    "accept",
    "accepted",
    "compensation_by",
    "entries",
    "in_force",
    "keep",
    "kept_at",
    "read_csv",
    "take_in",
    "write_csv",
]
