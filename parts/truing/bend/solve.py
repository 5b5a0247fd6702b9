"""K, inside radius and thickness of a test bend, by generalised least squares, with the uncertainty of each.

The observations are what each strip shows, the thickness and the inside radius as measured or by the rule for the V
opening; the covariance is diag(u²) + C C', the columns of C being what one standard uncertainty of an error that they
share makes of each: the instruments' zeros and scales and the pieces' warmth (`parts.truing.instruments`), and the
angle's zero. It is solved by Gauss-Newton steps; the covariance is that of the last one (JCGM 100:2008, GUM, 5.1 and
5.2). What K and R are is correlated: the deduction, which strips show best, is 2 tan(A/2) (R + T) - A (R + K T), so
that a larger radius goes with a larger K.

Strips scatter by their own errors alone. Their variance is what they say of themselves, which counts as some strips to
spare (GUM, G.4.2), pooled with what they show; never less than they say. Intervals take Student's factor for the
degrees of freedom by the formula of Welch and Satterthwaite (GUM, G.4.1). A strip disagrees as a reading of a table
does (`parts.truing.solve`): then the scatter counts as it is (Birge), and the interval takes in what each would be
without it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from parts.errors import GeometryError
from parts.truing.bend.model import (
    Bent,
    Shown,
    shown,
)
from parts.truing.bend.reading import BendTest, StripReading, numbers
from parts.truing.bend.solution import BendSolution
from parts.truing.instruments import Warmth, shared, warmth
from parts.truing.linear import Array
from parts.truing.reading import Reading
from parts.truing.solve import DISAGREES

_STEPS, _SETTLED = 30, 1e-9
_NO_BEND = "No bend gives these lengths: one of them, the thickness or the inside radius is far off."
_FIRST_K = 0.4
"""Where the steps begin; any K of a bend leads to the same end, since what strips show is linear in it."""


def solve_bend(test: BendTest) -> BendSolution:
    """Return what the strips of a test bend say.

    Raises:
        GeometryError: there is no strip, or numbers that no bend gives: the steps don't settle.
    """
    if not test.strips:
        raise GeometryError("There is no strip.")
    fit, off = _fit(test)
    wrong = tuple(i for i, test_of in enumerate(off) if abs(test_of) > DISAGREES)
    if not wrong:
        return fit
    worst = max(map(abs, off))
    wrong = tuple(i for i in wrong if abs(off[i]) > worst * (1 - 1e-6)) if len(test.strips) > 2 else (0, 1)
    others = tuple(_fit(_left_out(test, i))[0] for i in wrong)
    return replace(fit, disagreeing=wrong, without=others)


def _left_out(test: BendTest, i: int) -> BendTest:
    return replace(test, strips=(*test.strips[:i], *test.strips[i + 1 :]))


def angle_uncertainty(strip: StripReading) -> tuple[float, float]:
    """Return how well a strip's angle is known, radians: by itself, and for what all angles of a test share."""
    known = numbers().unmeasured if strip.angle is None else numbers().protractor
    return math.radians(known.u_deg), math.radians(known.zero_deg)


@dataclass(frozen=True)
class _Step:
    """The system at one place: slopes of shape (observations, 3), what is left of each, and the step from there.

    `own` are the variances that observations have by themselves, `effects` what they share, `inverse` that of their
    covariance.
    """

    slopes: Array
    left: Array
    own: Array
    effects: Array
    inverse: Array
    step: Array

    @property
    def rest(self) -> Array:
        """What is left of each observation after the step."""
        return np.asarray(self.left - self.slopes @ self.step)

    @property
    def gains(self) -> Array:
        """How far K, R and T move with each observation."""
        weighted = self.slopes.T @ self.inverse
        return np.asarray(np.linalg.solve(weighted @ self.slopes, weighted))

    @property
    def tests(self) -> list[float]:
        """Baarda's test of each observation, for observations that are correlated."""
        spare = self.inverse @ (np.eye(len(self.left)) - self.slopes @ self.gains)
        return [float(w / math.sqrt(s)) for w, s in zip(self.inverse @ self.rest, np.diag(spare), strict=True) if s > 0]


def _step(test: BendTest, bent: Bent) -> _Step:
    """The step from a place; raises LinAlgError where there is none."""
    strips = [shown(test, strip, bent, math.hypot(*angle_uncertainty(strip))) for strip in test.strips]
    slopes = np.array([*(of.gradient for of in strips), Bent(0, 0, 1), Bent(0, 1, 0)], dtype=float)
    left = [*(of.read - of.model for of in strips), test.thickness - bent.thickness, test.radius - bent.radius]
    own, effects = _own(test, strips), _shared(test, strips)
    inverse = np.asarray(np.linalg.inv(np.diag(own) + effects @ effects.T))
    weighted = slopes.T @ inverse
    return _Step(
        slopes, np.array(left), own, effects, inverse, np.linalg.solve(weighted @ slopes, weighted @ np.array(left))
    )


def _settled(test: BendTest) -> tuple[Bent, _Step]:
    """Where Gauss-Newton steps converge, and the last of them."""
    bent = Bent(_FIRST_K, test.radius, test.thickness)
    try:
        for _ in range(_STEPS):
            last = _step(test, bent)
            bent = Bent(*(float(value) for value in np.asarray(bent) + last.step))
            if not all(map(math.isfinite, bent)) or min(bent.radius, bent.thickness) <= 0:
                break
            if np.all(np.abs(last.step) <= _SETTLED * (1 + np.abs(np.asarray(bent)))):
                return bent, last
    except np.linalg.LinAlgError:
        pass
    raise GeometryError(_NO_BEND)


def _fit(test: BendTest) -> tuple[BendSolution, list[float]]:
    """The least squares, and how far each strip is off the others in that difference's own standard uncertainty."""
    (bent, last), count = _settled(test), len(test.strips)
    gains, rest, deviations = last.gains, last.rest, np.sqrt(last.own)
    by_strips, by_stock = gains[:, :count] * deviations[:count], gains[:, count:] * deviations[count:]
    shared_by_all = gains @ last.effects
    solution = BendSolution(
        test,
        bent,
        by_strips @ by_strips.T,
        by_stock @ by_stock.T + shared_by_all @ shared_by_all.T,
        tuple(map(float, rest[:count] / deviations[:count])),
        float(rest @ last.inverse @ rest) if count > 1 else 0.0,
        count - 1,
    )
    return solution, last.tests[:count] if count > 1 else [0.0]


def _own(test: BendTest, strips: Sequence[Shown]) -> Array:
    """The variance that each observation has by itself, mm²."""
    variances = []
    for strip, of in zip(test.strips, strips, strict=True):
        lengths = strip.u * math.sqrt(1 + 2 * of.per_leg**2)
        variances.append(math.hypot(lengths, of.by_angle * angle_uncertainty(strip)[0]) ** 2)
    return np.array([*variances, test.thickness_u**2, test.radius_u**2])


def _shared(test: BendTest, strips: Sequence[Shown]) -> Array:
    """What one standard uncertainty of each shared error makes of each observation, mm; of shape (these, errors)."""
    readings = [reading for strip in test.strips for reading in _lengths(test, strip)]
    readings.append(_length(test, test.thickness, "before", test.thickness_tool))
    columns = []
    for effect in shared(readings):
        triples = zip(effect[0:-1:3], effect[1:-1:3], effect[2:-1:3], strict=True)
        made = [of.per_leg * (a + b) - flat for of, (flat, a, b) in zip(strips, triples, strict=True)]
        columns.append([*made, effect[-1], 0.0])
    for measured in (True, False):
        alike = [(strip.angle is not None) == measured for strip in test.strips]
        zeros = [of.by_angle * angle_uncertainty(strip)[1] for strip, of in zip(test.strips, strips, strict=True)]
        columns.append([*(zero if same else 0.0 for zero, same in zip(zeros, alike, strict=True)), 0.0, 0.0])
    return np.array(columns).T


def _lengths(test: BendTest, strip: StripReading) -> list[Reading]:
    """The flat, cold before it was bent, and both legs, which may be as warm as another day."""
    flat = _length(test, strip.flat, "before", test.tool)
    return [flat, *(_length(test, leg, "after", test.tool) for leg in (strip.leg_a, strip.leg_b))]


def _length(test: BendTest, mm: float, piece: str, tool: str) -> Reading:
    warm: Warmth = warmth(test.metal)
    return Reading("outside", 0.0, mm, mm, 1.0, tool=tool, piece=piece, warmth_u=warm.u)
