"""Platewright's library: dimensions in, an exact and checked part out.

import parts
part = parts.draw("gusset-triangle", leg_a="4 in", leg_b="6 in", thickness="1/4 in")
part.findings, part.measures, part.to_dxf()
checked = parts.check(Path("theirs.dxf").read_bytes(), "theirs.dxf", thickness="1/4 in", process="laser")
checked.healed, checked.part.findings, checked.part.to_dxf()
report = parts.true_table(Path("table.toml").read_text())
report.solution.estimates, report.corrections, report.to_json()
"""

from parts.checking import Checked, check
from parts.errors import PartsError, Problem, Refused, UnknownTemplate, Unreadable
from parts.part import Part, draw
from parts.record import VERSION
from parts.templates import templates
from parts.truing import true_table

__all__ = [
    "VERSION",
    "Checked",
    "Part",
    "PartsError",
    "Problem",
    "Refused",
    "UnknownTemplate",
    "Unreadable",
    "check",
    "draw",
    "templates",
    "true_table",
]
