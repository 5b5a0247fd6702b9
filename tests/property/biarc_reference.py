"""A curve of biarcs as a fine polyline, on complex numbers and by halving: nothing of the code under test.

The tangent's length at both ends of a biarc is halved until the tangents' ends are twice that apart; each arc is
sampled by turning its heading evenly.
"""

import cmath
import math

import shapely

from tests.property.leaf_reference import halved

STEPS = 120
"""Chords an arc: the area is off by less than 5e-4 of what the arcs bow out."""


def biarc(a, leaving, b, arriving):
    t, u = cmath.rect(1, leaving), cmath.rect(1, arriving)
    d = halved(100 * abs(b - a), 0.0, lambda d: abs(b - a - d * (t + u)) <= 2 * d)
    middle = (a + d * t + b - d * u) / 2
    return [*sampled(a, t, middle), *sampled(b, -u, middle)[-2:0:-1]]


def sampled(a, heading, b):
    """Points from a up to b on the arc that leaves a with a heading: seen from a it turns by half of what it sweeps."""
    half = cmath.phase((b - a) / heading)
    return [
        a + (b - a) * (math.sin(half * k / STEPS) / math.sin(half) if abs(half) > 1e-9 else k / STEPS)
        * cmath.rect(1, half * (k / STEPS - 1))
        for k in range(STEPS + 1)
    ]  # fmt: skip


def figure(knots):
    """The polygon through knots (x, y, heading in degrees), closed."""
    at = [(complex(x, y), math.radians(h)) for x, y, h in knots]
    flat = [p for k, (a, t) in enumerate(at) for p in biarc(a, t, *at[(k + 1) % len(at)])]
    return shapely.Polygon([(p.real, p.imag) for p in flat])


def bare(part):
    """The values of a part without what holds it."""
    return {**part.record.parameters, "hang": "none", "foot": "none"}
