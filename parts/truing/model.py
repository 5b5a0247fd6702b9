"""The model: where a table with errors puts a drawn point, and what a reading of it then shows.

The table puts (x, y) at ((1 + sx) x - (1 + sy) y sin e, (1 + sy) y cos e): sx and sy are the scale errors of
its axes, 90 degrees + e the angle between them. Its jet takes k more in width than was allowed for, and round
holes come out h smaller still. A drawn length d in the direction phi is then

    d sqrt(A² c² - 2 A B c s sin e + B² s²),   A = 1 + sx, B = 1 + sy, c = cos phi, s = sin phi

between centres, k less over outside faces, k more between inside faces, k - h more across a hole. Turned over
along a straightedge the piece shows its own error twice: 2 e d. A length read on a warm piece is as much longer as
the piece has grown. To first order in the errors this is the
equation of a strain rosette.
"""

import math
from typing import NamedTuple

from parts.tolerance import PARALLEL_RAD
from parts.truing.reading import Reading


class Errors(NamedTuple):
    """The errors of a table: two scales (ratios less 1), an angle in radians, two lengths in mm."""

    scale_x: float = 0.0
    scale_y: float = 0.0
    out_of_square: float = 0.0
    kerf: float = 0.0
    hole_shrinkage: float = 0.0


NAMES = Errors._fields
_WIDER = {"outside": -1.0, "inside": 1.0, "hole": 1.0}
"""How often the kerf's error is in a reading of each kind."""


def put(errors: Errors, x: float, y: float) -> tuple[float, float]:
    """Return where a table with these errors puts a drawn point, mm."""
    along = (1 + errors.scale_y) * y
    skew = along * math.sin(errors.out_of_square)
    return (1 + errors.scale_x) * x - skew, along * math.cos(errors.out_of_square)


def shown(reading: Reading, errors: Errors) -> float:
    """Return what a reading would show of a table with these errors, mm."""
    if reading.kind == "reversal":
        return 2 * errors.out_of_square * reading.nominal
    wider = _WIDER.get(reading.kind, 0.0) * errors.kerf
    smaller = errors.hole_shrinkage if reading.kind == "hole" else 0.0
    return reading.nominal * (1 + reading.growth) * _stretch(reading.direction, errors) + wider - smaller


def gradient(reading: Reading, errors: Errors) -> Errors:
    """Return the gradient of what a reading shows, mm to each error's unit."""
    if reading.kind == "reversal":
        return Errors(out_of_square=2 * reading.nominal)
    a, b, e = 1 + errors.scale_x, 1 + errors.scale_y, errors.out_of_square
    c, s = _way(reading.direction)
    per = reading.nominal * (1 + reading.growth) / _stretch(reading.direction, errors)
    return Errors(
        per * (a * c * c - b * c * s * math.sin(e)),
        per * (b * s * s - a * c * s * math.sin(e)),
        -per * a * b * c * s * math.cos(e),
        _WIDER.get(reading.kind, 0.0),
        -1.0 if reading.kind == "hole" else 0.0,
    )


def _stretch(direction: float, errors: Errors) -> float:
    """A drawn length in this direction comes out this many times as long."""
    c, s = _way(direction)
    a, b = (1 + errors.scale_x) * c, (1 + errors.scale_y) * s
    return math.sqrt(a * a - 2 * a * b * math.sin(errors.out_of_square) + b * b)


def _way(direction: float) -> tuple[float, float]:
    """The unit vector of a direction; along an axis exactly 0, so that no trace of the other axis is left."""
    c, s = math.cos(direction), math.sin(direction)
    return (0.0 if abs(c) <= PARALLEL_RAD else c), (0.0 if abs(s) <= PARALLEL_RAD else s)
