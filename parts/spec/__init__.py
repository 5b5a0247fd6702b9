"""How a template declares itself: parameters, where they apply, places to measure, advice on what is refused."""

from parts.spec.advice import hurried, is_wordless, own_way, trying
from parts.spec.assembly import ACROSS, BACK, UP, Companion, Frame, Standing
from parts.spec.bend_strips import BendStrips
from parts.spec.condition import Condition, When, applies, where
from parts.spec.declared import checked
from parts.spec.defaults import default_of
from parts.spec.faults import loop_faults
from parts.spec.given import reading_of
from parts.spec.kinds import angle, bolt, choice, count, fit, flag, length, number, text, thickness
from parts.spec.outline import drawn, seated_outline, sound
from parts.spec.parameter import (
    BY_DIAMETER,
    Moves,
    ReadingContext,
    Spec,
    Value,
    bolt_mm,
    hole_diameter,
    say_least,
    say_most,
)
from parts.spec.parameters import FILE, STOCK, Parameters
from parts.spec.places import MeasuringPlace
from parts.spec.preset import Preset
from parts.spec.template import Kind, Template
from parts.spec.understood import taken_for

__all__ = [
    "ACROSS",
    "BACK",
    "BY_DIAMETER",
    "FILE",
    "STOCK",
    "UP",
    "BendStrips",
    "Companion",
    "Condition",
    "Frame",
    "Kind",
    "MeasuringPlace",
    "Moves",
    "Parameters",
    "Preset",
    "ReadingContext",
    "Spec",
    "Standing",
    "Template",
    "Value",
    "When",
    "angle",
    "applies",
    "bolt",
    "bolt_mm",
    "checked",
    "choice",
    "count",
    "default_of",
    "drawn",
    "fit",
    "flag",
    "hole_diameter",
    "hurried",
    "is_wordless",
    "length",
    "loop_faults",
    "number",
    "own_way",
    "reading_of",
    "say_least",
    "say_most",
    "seated_outline",
    "sound",
    "taken_for",
    "text",
    "thickness",
    "trying",
    "where",
]
