"""The model of a test bend: what a strip's readings show, by K, the inside radius R and the thickness T.

The flat is shorter than both legs by the bend deduction, 2 tan(A / 2) (R + T) - A (R + K T) (`parts.forming`). A leg
that is read over the other one shows L sin A, and where the bend isn't quite square, T cos A more: the far corner of
its end then reaches beyond. Of an angle that is known to s only, that corner's reach is taken on average, since it is
0 on one side of square:

    E max(0, m + s Z) = m Phi(m / s) + s phi(m / s),   m = cos A, Z normal

The sum of both readings over sin A, less the flat, is what a strip *shows*.
"""

import math
from dataclasses import dataclass
from typing import NamedTuple

from parts.forming import Fold
from parts.truing.bend.reading import BendTest, StripReading


class Bent(NamedTuple):
    """What the strips have in common: K, a ratio; the inside radius and the thickness, mm."""

    k: float
    radius: float
    thickness: float


NAMES = Bent._fields


@dataclass(frozen=True, slots=True)
class Shown:
    """What a strip shows, mm: as read, by the model, the model's gradient, and how both part with the angle.

    `by_angle` is d(read - model) / dA, mm to the radian; `per_leg` what a mm on a leg's reading makes.
    """

    read: float
    model: float
    gradient: Bent
    by_angle: float
    per_leg: float


def deduction(bent: Bent, angle: float) -> float:
    """Return the bend deduction at an angle in radians, mm."""
    return Fold(angle, bent.radius, bent.thickness, bent.k).deduction


def deduction_gradient(bent: Bent, angle: float) -> Bent:
    """Return its gradient by K, R and T."""
    twice = 2 * math.tan(angle / 2)
    return Bent(-angle * bent.thickness, twice - angle, twice - angle * bent.k)


def allowance(bent: Bent, angle: float) -> float:
    """Return the bend allowance at an angle in radians, mm."""
    return Fold(angle, bent.radius, bent.thickness, bent.k).allowance


def allowance_gradient(bent: Bent, angle: float) -> Bent:
    """Return its gradient by K, R and T."""
    return Bent(angle * bent.thickness, angle, angle * bent.k)


def shown(test: BendTest, strip: StripReading, bent: Bent, angle_u: float) -> Shown:
    """Return what a strip shows beside what it would show of `bent`; `angle_u` is how well its angle is known."""
    angle = test.angle if strip.angle is None else strip.angle
    by_angle = bent.radius + bent.k * bent.thickness - (bent.radius + bent.thickness) / math.cos(angle / 2) ** 2
    legs, gradient = strip.leg_a + strip.leg_b, deduction_gradient(bent, angle)
    if test.legs == "mould":
        return Shown(legs - strip.flat, deduction(bent, angle), gradient, by_angle, 1.0)
    sine, cosine = math.sin(angle), math.cos(angle)
    reach, sloping = _past_square(cosine, angle_u)
    corner = 2 * reach / sine
    by_angle += -legs * cosine / sine**2 + 2 * bent.thickness * sloping
    return Shown(
        legs / sine - strip.flat,
        deduction(bent, angle) + corner * bent.thickness,
        gradient._replace(thickness=gradient.thickness + corner),
        by_angle,
        1 / sine,
    )


def _past_square(m: float, s: float) -> tuple[float, float]:
    """The mean of max(0, m + s Z), and its slope by m."""
    if s <= 0:
        return max(0.0, m), float(m > 0)
    z = m / s
    below = (1 + math.erf(z / math.sqrt(2))) / 2
    return m * below + s * math.exp(-z * z / 2) / math.sqrt(2 * math.pi), below
