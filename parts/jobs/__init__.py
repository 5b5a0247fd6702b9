"""What a saved job comes to: its parts drawn and checked, their sums, and what a layout of it is asked for by."""

from parts.jobs.making import made, part_of
from parts.jobs.searched import Searched
from parts.jobs.summary import HEIGHT_PX, WIDTH_PX, SaidFinding, Sum, Summaries, Summary, Summed, summed_up
from parts.jobs.totals import Stock, Totals, totals

__all__ = [
    "HEIGHT_PX",
    "WIDTH_PX",
    "SaidFinding",
    "Searched",
    "Stock",
    "Sum",
    "Summaries",
    "Summary",
    "Summed",
    "Totals",
    "made",
    "part_of",
    "summed_up",
    "totals",
]
