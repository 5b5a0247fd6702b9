"""Tables as other programs write them, CSV or XLSX, to names and rows of text; it knows nothing of what they mean."""

from parts.tables.reading import read_table
from parts.tables.series import SERIES_KINDS, is_series, series
from parts.tables.table import MOST_ROWS, Cell, Fault, Row, Table

__all__ = ["MOST_ROWS", "SERIES_KINDS", "Cell", "Fault", "Row", "Table", "is_series", "read_table", "series"]
