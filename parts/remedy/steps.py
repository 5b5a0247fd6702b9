"""Values a shop would say: whole steps of a rule or a tape, coarse before fine.

grid   the multiples of one step; a point of it is known by its index, the number of steps from 0
"""

import math
from collections.abc import Mapping
from fractions import Fraction

from parts.spec import Spec
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units

MM_STEPS = (Fraction(1, 2), Fraction(1, 10), Fraction(1, 100))
INCH_STEPS = (Fraction(254, 320), Fraction(254, 640), Fraction(254, 10000))
"""1/32 in, 1/64 in and 1 thou, in mm."""
LENGTH_STEPS: Mapping[Units, tuple[Fraction, ...]] = {"mm": MM_STEPS, "in": INCH_STEPS}
PLAIN_STEPS = MM_STEPS
"""Of an angle in degrees, and of a number without a unit."""


def steps(spec: Spec, units: Units) -> tuple[Fraction, ...]:
    """Return the steps in which a length, an angle or a number is said, coarsest first."""
    return LENGTH_STEPS[units] if spec.kind == "length" else PLAIN_STEPS


def beyond(value: float, step: Fraction, direction: int) -> int:
    """Return the index of the first point of a grid at `value` or past it in a direction, +1 or -1."""
    at = Fraction(value) / step
    near = round(at)
    if abs(float(at - near)) * float(step) < LIMIT_SLACK_MM:
        return near
    return math.ceil(at) if direction > 0 else math.floor(at)


def point(index: int, step: Fraction) -> float:
    """Return the value at an index of a grid."""
    return float(index * step)
