"""How a part is cut: stock, process, machine and job, the pace of the torch, and what the cut leaves."""

from parts.cutting.as_cut import AsCut, as_cut
from parts.cutting.current import current_of
from parts.cutting.expected import Expected, expected, outside, tolerance_class
from parts.cutting.expected import limit as iso9013_limit
from parts.cutting.job import Job
from parts.cutting.machine import machine
from parts.cutting.measures import UNMEASURED, Measures, lead_in_length, measure
from parts.cutting.origin import Origin
from parts.cutting.pace import lap
from parts.cutting.process import PROCESSES, Between, Cut, between, cut_for
from parts.cutting.slowing import SLOW, SlowRun, laps, pace_round, runs
from parts.cutting.small_holes import SMALL_HOLES, with_small_holes
from parts.cutting.stock import Bed, Sheet, bed, mass_kg, materials, sheet
from parts.cutting.titles import title_of_choice
from parts.cutting.travel import lead_in_time, order, travel_time

__all__ = [
    "PROCESSES",
    "SLOW",
    "SMALL_HOLES",
    "UNMEASURED",
    "AsCut",
    "Bed",
    "Between",
    "Cut",
    "Expected",
    "Job",
    "Measures",
    "Origin",
    "Sheet",
    "SlowRun",
    "as_cut",
    "bed",
    "between",
    "current_of",
    "cut_for",
    "expected",
    "iso9013_limit",
    "lap",
    "laps",
    "lead_in_length",
    "lead_in_time",
    "machine",
    "mass_kg",
    "materials",
    "measure",
    "order",
    "outside",
    "pace_round",
    "runs",
    "sheet",
    "title_of_choice",
    "tolerance_class",
    "travel_time",
    "with_small_holes",
]
