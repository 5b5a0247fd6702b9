"""Test bends made by number: strips of a known K and radius, bent and measured with instruments that err as they say.

The geometry is its own, by points in the plane and not by the model's formulas: the neutral line is rolled up, the
corners of the bent strip are placed, and a caliper closes on what reaches furthest.
"""

import math
import random
from dataclasses import dataclass, replace

from parts.truing.bend import BendTest, StripReading
from parts.truing.bend.reading import numbers
from parts.truing.instruments import table, warmth

CALIPER = table().instruments["caliper"]


@dataclass(frozen=True)
class Truth:
    """What the strips are really of; lengths in mm."""

    k: float
    radius: float
    thickness: float

    def legs(self, flat, flange, angle):
        """What a caliper shows of both legs: one jaw flat on a leg's outside face, the other on the far end."""
        rest = flat - flange - angle * (self.radius + self.k * self.thickness)
        return self._reach(flange, angle), self._reach(rest, angle)

    def outside(self, flat, angle):
        """Both legs from the mould point: where the outside faces, as straight lines, meet."""
        bend = angle * (self.radius + self.k * self.thickness)
        setback = (self.radius + self.thickness) * math.tan(angle / 2)
        return flat - bend + 2 * setback

    def _reach(self, straight, angle):
        """How far a leg's end is from the outside face of the other, which lies on y = 0 below the bend's middle."""
        outer = self.radius + self.thickness
        ends = []
        for r in (self.radius, outer):  # inside and outside corner of the end
            x, y = r * math.sin(angle), outer - r * math.cos(angle)
            ends.append((x + straight * math.cos(angle), y + straight * math.sin(angle)))
        return max(y for _, y in ends)


@dataclass(frozen=True)
class Faults:
    """What is off beyond what the instruments say; 0 for none."""

    scale: float = 0.0
    radius_gauge: float = 0.0
    angle_deg: float = 0.0


def drawn_truth(rng):
    thickness = rng.uniform(1.0, 6.0)
    return Truth(rng.uniform(0.30, 0.50), rng.uniform(0.8, 2.5) * thickness, thickness)


def made(number, faults=Faults()):
    """Return the truth and the readings of the test bend of this number.

    One to three strips; the radius gauged or left to the rule for the V, the angle measured or not.
    """
    rng = random.Random(number)
    truth, known = drawn_truth(rng), numbers()
    rule = truth.radius  # by the V; what the brake leaves is about it
    gauged, protractor, count = rng.random() < 0.5, rng.random() < 0.7, rng.choice((1, 2, 3))
    if not gauged:
        truth = replace(truth, radius=rule * (1 + rng.gauss(0, known.by_v.share)))
    angle_of = known.protractor if protractor else known.unmeasured
    zero, scale = rng.gauss(0, CALIPER.zero_mm), rng.gauss(0, CALIPER.scale) + faults.scale
    cold, later = (rng.gauss(0, warmth("steel").u) for _ in range(2))
    angle_zero = math.radians(rng.gauss(0, angle_of.zero_deg) + faults.angle_deg)

    def read(length, warm):
        return length * (1 + scale + warm) + zero + rng.gauss(0, CALIPER.u_mm)

    thickness, strips = read(truth.thickness, cold), []
    for i in range(count):
        own = angle_zero + math.radians(rng.gauss(0, angle_of.u_deg))
        if protractor:
            angle = math.radians(90 + rng.uniform(-1.5, 1.5))
            seen = angle + own
        else:
            angle, seen = math.pi / 2 + own, None
        flat, flange = rng.uniform(120, 200), rng.uniform(40, 60)
        a, b = truth.legs(flat, flange, angle)
        strips.append(StripReading(read(flat, cold), read(a, later), read(b, later), seen, CALIPER.u_mm, "", i + 1))
    if gauged:
        radius = truth.radius + rng.gauss(0, known.radius_gauge.u(truth.radius)) + faults.radius_gauge
        radius_u = known.radius_gauge.u(radius)
    else:
        radius, radius_u = rule, known.by_v.u(rule)
    test = BendTest(
        material="mild-steel", metal="steel", stock=round(truth.thickness, 1), thickness=thickness,
        thickness_u=CALIPER.u_mm, v_opening=8 * truth.thickness, angle=math.pi / 2, radius=radius, radius_u=radius_u,
        radius_measured=gauged, strips=tuple(strips),
    )  # fmt: skip
    return truth, test


def truths(truth, angle=math.pi / 2):
    """What the results should be, by the sums of a bent strip: flat, legs and the neutral line."""
    allowance = angle * (truth.radius + truth.k * truth.thickness)
    return {
        "k": truth.k,
        "inside_radius": truth.radius,
        "thickness": truth.thickness,
        "deduction": truth.outside(100.0, angle) - 100.0,
        "allowance": allowance,
    }
