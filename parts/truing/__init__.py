"""Truing: what a measured test piece says of the table that cut it, and what to change.

readings (`reading`, `file`, `several`) -> errors with their uncertainties (`model`, `solve`) -> what is missing
(`missing`) -> what to change (`corrections`), what it comes to (`sheet`) -> the report (`report`).
Drawings made to suit the errors: `accepted`, `compensate`. The quick check with a tape: `tape`.
"""

from parts.truing.file import from_tables, parsed, unmeasured
from parts.truing.report import Report, report
from parts.units.lengths import Units


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
