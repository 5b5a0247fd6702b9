"""Affine: the placing of a drawn thing: scaled, turned, mirrored, sheared, shifted."""

import math
from dataclasses import dataclass

from parts.geometry import Point
from parts.read.limits import FARTHEST

# Lengths along two directions that differ by less than this part are one scale: rounding of a turn written
# with seven digits. On a radius of 1 m it is a tenth of a micrometre.
_SAME_SCALE = 1e-7


@dataclass(frozen=True, slots=True)
class Affine:
    """x, y -> a x + c y + e, b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def point(self, p: Point) -> Point:
        """Return where a point goes."""
        x, y = p
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def vector(self, v: Point) -> Point:
        """Return what a difference of two points becomes."""
        x, y = v
        return self.a * x + self.c * y, self.b * x + self.d * y

    def after(self, first: "Affine") -> "Affine":
        """Return this placing of what `first` has placed."""
        a, b = self.vector((first.a, first.b))
        c, d = self.vector((first.c, first.d))
        e, f = self.point((first.e, first.f))
        return Affine(a, b, c, d, e, f)

    @property
    def determinant(self) -> float:
        """By how much areas grow; negative where the placing mirrors."""
        return self.a * self.d - self.b * self.c

    @property
    def keeps_circles(self) -> bool:
        """Whether a circle stays one: as much scaled along both directions, which stay square."""
        along, across = math.hypot(self.a, self.b), math.hypot(self.c, self.d)
        skew = self.a * self.c + self.b * self.d
        slack = _SAME_SCALE * max(along, across)
        return abs(along - across) <= slack and abs(skew) <= slack * max(along, across)

    @property
    def is_sane(self) -> bool:
        """Whether every number in it is one, and none so large that nothing on a drawing is."""
        return all(abs(n) <= FARTHEST for n in (self.a, self.b, self.c, self.d, self.e, self.f))


IDENTITY = Affine()


def scaling(x: float, y: float) -> Affine:
    """Return the placing that scales."""
    return Affine(a=x, d=y)


def shift(x: float, y: float) -> Affine:
    """Return the placing that shifts."""
    return Affine(e=x, f=y)


def turning(degrees: float) -> Affine:
    """Return the turn to the left about the origin; quarter turns are exact."""
    c, s = direction(degrees)
    return Affine(c, s, -s, c)


def direction(degrees: float) -> Point:
    """Return cosine and sine of an angle in degrees; those of quarter turns are exact."""
    quarters = degrees / 90
    if quarters == round(quarters):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    radians = math.radians(math.fmod(degrees, 360))
    return math.cos(radians), math.sin(radians)
