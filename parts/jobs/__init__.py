"""What a saved job comes to: its parts drawn and checked, their sums, and their layout on sheets."""

from parts.jobs.making import made, part_of
from parts.jobs.searched import Searched
from parts.jobs.sheets import laid_out
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
    "laid_out",
    "made",
    "part_of",
    "summed_up",
    "totals",
]
