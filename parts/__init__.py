"""Platewright's library: dimensions in, an exact and checked part out.

import parts
part = parts.draw("gusset-triangle", leg_a="4 in", leg_b="6 in", thickness="1/4 in")
part.findings, part.measures, part.to_dxf()
checked = parts.check(Path("theirs.dxf").read_bytes(), "theirs.dxf", thickness="1/4 in", process="laser")
checked.healed, checked.part.findings, checked.part.to_dxf()
traced = parts.trace(Path("horse.png").read_bytes(), "horse.png", width="300 mm", thickness="3 mm")
traced.said, traced.part.findings, traced.part.to_dxf()
report = parts.true_table(Path("table.toml").read_text())
report.solution.estimates, report.corrections, report.to_json()
"""

from typing import TYPE_CHECKING, Any

from parts.errors import PartsError, Problem, Refused, UnknownTemplate, Unreadable
from parts.part import Part, draw
from parts.record import VERSION
from parts.templates import templates

if TYPE_CHECKING:
    from parts.checking import Checked, check
    from parts.tracing import Traced, trace
    from parts.truing import true_table

__all__ = [
    "VERSION",
    "Checked",
    "Part",
    "PartsError",
    "Problem",
    "Refused",
    "Traced",
    "UnknownTemplate",
    "Unreadable",
    "check",
    "draw",
    "templates",
    "trace",
    "true_table",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401 - of any type
    """Load what a drawn part has no need of when it is first asked for."""
    if name in ("Checked", "check"):
        from parts import checking

        return getattr(checking, name)
    if name in ("Traced", "trace"):
        from parts import tracing

        return getattr(tracing, name)
    if name == "true_table":
        from parts.truing import true_table

        return true_table
    raise AttributeError(f"module 'parts' has no attribute {name!r}")
