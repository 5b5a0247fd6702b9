"""A piece: the metal of one part as it lies, flattened finely enough that what is lost is told by `ERROR_MM`."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from parts.geometry import Arc, Loop, Point
from parts.profile import Profile

Turns: TypeAlias = Literal["any", "quarter", "half", "none"]
ERROR_MM = 0.01
"""How far a flattened outline is from the true one at the most."""
_STEPS: dict[Turns, tuple[float, ...]] = {
    "none": (0.0,),
    "half": (0.0, 180.0),
    "quarter": (0.0, 90.0, 180.0, 270.0),
    "any": tuple(15.0 * i for i in range(24)),
}


@dataclass(frozen=True, eq=False)
class Piece:
    """One kind of part: its metal as a polygon, or several of a template that draws several pieces.

    `key` is what the caller knows it by; `area` is that of the true outline, mm². `error` is how far the true outline
    is from the polygon at the most, `spill` how far its box is. Pieces are compared by identity.
    """

    key: int
    shape: BaseGeometry
    area: float
    turns: Turns = "quarter"
    mirror: bool = False
    error: float = 0.0
    spill: float = 0.0

    @property
    def ways(self) -> tuple[tuple[float, bool], ...]:
        """The ways it may lie: degrees counter-clockwise, and whether it is mirrored before."""
        angles = set(_STEPS[self.turns])
        if self.turns == "any":
            square = -_slant(self.shape)
            angles |= {round((square + quarter) % 360, 6) for quarter in (0, 90, 180, 270)}
        return tuple((angle, flip) for flip in ((False, True) if self.mirror else (False,)) for angle in sorted(angles))

    def spill_at(self, angle: float) -> float:
        """Return how far the true outline reaches beyond the polygon's box, turned so, mm."""
        return self.spill if angle % 90 == 0 else self.error

    def lying(self, angle: float, mirrored: bool) -> BaseGeometry:
        """Return the metal mirrored in x, then turned about the origin."""
        return lying(self.shape, angle, mirrored)


def lying(shape: BaseGeometry, angle: float, mirrored: bool) -> BaseGeometry:
    """Return a shape mirrored in x if so, then turned by `angle` degrees about the origin; quarters are exact."""
    c, s = cos_sin(angle)
    flip = -1.0 if mirrored else 1.0
    return affinity.affine_transform(shape, (c * flip, -s, s * flip, c, 0.0, 0.0))


def cos_sin(angle: float) -> tuple[float, float]:
    """Return cosine and sine of an angle in degrees, exact for quarter turns."""
    quarters = angle / 90
    if quarters == round(quarters):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    return math.cos(math.radians(angle)), math.sin(math.radians(angle))


def piece_of(key: int, profile: Profile, turns: Turns = "quarter", mirror: bool = False) -> Piece:
    """Return the piece that a profile is: its outside loops without its openings."""
    outside = shapely.union_all([shapely.Polygon(_ring(loop)) for loop in profile.outside])
    inside = [shapely.Polygon(_ring(opening.loop)) for opening in profile.inside]
    metal = shapely.difference(outside, shapely.union_all(inside)) if inside else outside
    area = sum(loop.area for loop in profile.outside) - sum(opening.loop.area for opening in profile.inside)
    has_arcs = any(isinstance(each, Arc) for loop in profile.boundary for each in loop.segments)
    spill = max(abs(a - b) for a, b in zip(profile.box, metal.bounds, strict=True))
    return Piece(key, metal, area, turns, mirror, ERROR_MM if has_arcs else 0.0, spill)


def _ring(loop: Loop) -> list[Point]:
    """The corners of a loop with its arcs as chords, each no further than ERROR_MM from its arc.

    A chord that spans the angle t is r (1 - cos(t / 2)) = 2 r sin²(t / 4) from its arc.
    """
    points: list[Point] = []
    for segment in loop.segments:
        points.append(segment.start)
        if isinstance(segment, Arc):
            span = 4 * math.asin(min(math.sqrt(ERROR_MM / (2 * segment.radius)), 1.0))
            count = max(math.ceil(abs(segment.sweep) / span), 1)
            points += [segment.at(i / count) for i in range(1, count)]
    return points


def _slant(shape: BaseGeometry) -> float:
    """The direction in degrees of a side of the smallest rectangle around a shape."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(shape))
    dx, dy = corners[1] - corners[0]
    return math.degrees(math.atan2(dy, dx)) % 90


def edges_of(shape: BaseGeometry) -> NDArray[np.float64]:
    """Return the edges of a shape's rings as rows x0, y0, x1, y1."""
    rings: Iterable[BaseGeometry] = (
        ring for part in shapely.get_parts(shape) for ring in (part.exterior, *part.interiors)
    )
    points = [shapely.get_coordinates(ring) for ring in rings]
    return np.vstack([np.hstack((each[:-1], each[1:])) for each in points])
