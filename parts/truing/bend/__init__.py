"""A test bend: what strips measured before and after bending say of a press brake.

readings (`reading`, `file`) -> K, inside radius and deduction with their uncertainties (`model`, `solve`) -> what looks
like a slip (`slips`) -> the report (`report`) -> what is kept of it (`kept`).
"""

from parts.truing.bend.file import BEND, MOST_STRIPS, STRIP, bend_from_tables, is_bend, unmeasured_strips
from parts.truing.bend.kept import KeptBend, keep_as, kept_bends, without_bend
from parts.truing.bend.model import Bent
from parts.truing.bend.reading import LEGS, BendTest, StripReading
from parts.truing.bend.report import BendReport, bend_content, true_bend
from parts.truing.bend.solution import BendEstimate, BendSolution
from parts.truing.bend.solve import solve_bend
from parts.truing.bend.written import write_bend

__all__ = [
    "BEND",
    "LEGS",
    "MOST_STRIPS",
    "STRIP",
    "BendEstimate",
    "BendReport",
    "BendSolution",
    "BendTest",
    "Bent",
    "KeptBend",
    "StripReading",
    "bend_content",
    "bend_from_tables",
    "is_bend",
    "keep_as",
    "kept_bends",
    "solve_bend",
    "true_bend",
    "unmeasured_strips",
    "without_bend",
    "write_bend",
]
