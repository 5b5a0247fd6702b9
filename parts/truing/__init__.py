"""Truing: what a measured test piece says of the table that cut it, and what to change.

readings (`reading`, `file`, `several`) -> errors with their uncertainties (`model`, `solve`) -> what is missing
(`missing`) -> what to change (`corrections`), what it comes to (`sheet`) -> the report (`report`).
Drawings made to suit the errors: `accepted`, `compensate`. The quick check with a tape: `tape`.
"""

from parts.truing.accepted import compensation
from parts.truing.compensate import Compensation
from parts.truing.entries import LONGEST_DRAWING
from parts.truing.file import MOST_READINGS, from_tables, parsed, unmeasured
from parts.truing.instruments import METALS, usual_u
from parts.truing.machine import Table
from parts.truing.model import Errors
from parts.truing.reading import Reading
from parts.truing.report import FIELDS, Report, content, report
from parts.truing.several import true_tables
from parts.truing.sheet import OverASheet
from parts.truing.solve import COVERAGE, Estimate
from parts.truing.tape import QuickCheck, quick_check
from parts.truing.words import Words
from parts.truing.written import write
from parts.units import Units


def true_table(text: str, units: Units | None = None) -> Report:
    """Return what the readings in a TOML file's text say of a table; docs/truing.md describes the file.

    Args:
        text: the file's text.
        units: what sentences are in; those of the file unless said.

    Raises:
        DataError: the text is no TOML.
        Refused: with each entry that can't be used; or the readings settle nothing.
    """
    data = parsed(text)
    table, readings = from_tables(data)
    return report(table, readings, units or data.get("units", "mm"), unmeasured(data))


__all__ = [
    "COVERAGE",
    "FIELDS",
    "LONGEST_DRAWING",
    "METALS",
    "MOST_READINGS",
    "Compensation",
    "Errors",
    "Estimate",
    "OverASheet",
    "QuickCheck",
    "Reading",
    "Report",
    "Table",
    "Words",
    "compensation",
    "content",
    "from_tables",
    "parsed",
    "quick_check",
    "report",
    "true_tables",
    "unmeasured",
    "usual_u",
    "write",
]
