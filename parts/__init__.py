"""Platewright's library: dimensions in, an exact and checked part out.

import parts
part = parts.draw("gusset-triangle", leg_a="4 in", leg_b="6 in", thickness="1/4 in")
part.findings, part.measures, part.to_dxf()
"""

from parts.errors import PartsError, Problem, Refused, UnknownTemplate
from parts.part import Part, draw
from parts.record import VERSION
from parts.templates import templates

__all__ = ["VERSION", "Part", "PartsError", "Problem", "Refused", "UnknownTemplate", "draw", "templates"]
