"""A plate of some shape before its size is known, what is along its edge, border and holes, and what these leave."""

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

import shapely

from parts.artwork import metal_of
from parts.geometry import Loop, Point
from parts.templates.shared.plates.border import Sides, gapped, ring
from parts.templates.shared.plates.shape import POINT, Shape, corners_of, edge, middle

Holes: TypeAlias = Literal["none", "top", "sides", "corners"]
HOLES: tuple[Holes, ...] = ("none", "top", "sides", "corners")
_DIAGONAL = math.sqrt(2)


@dataclass(frozen=True, slots=True)
class Plate:
    """Lengths in mm; `web` is the least metal between two cuts.

    `corner` is the radius of the corners, `border` the width of a line that is cut out `border_in` from the edge, 0
    where there is none. Holes of the diameter `hole` have their centres `hole_in_asked` from the edge, or where it is 0
    as border, corners and web let them.
    """

    shape: Shape
    web: float
    corner: float = 0.0
    border: float = 0.0
    border_in: float = 0.0
    holes: Holes = "none"
    hole: float = 0.0
    hole_in_asked: float = 0.0

    @property
    def corner_used(self) -> float:
        """The radius of the corners, 0 where the shape has none."""
        return self.corner if self.shape in ("rounded", "scalloped", "shield") else 0.0

    @property
    def band(self) -> float:
        """How far the border reaches in from the edge."""
        return self.border_in + self.border if self.border else 0.0

    @property
    def hole_in(self) -> float:
        """How far in the centres of the holes are."""
        nice = self.band + max(1.25 * self.hole, self.hole / 2 + 1.5 * self.web)
        return self.hole_in_asked or max(nice, self.least_hole_in)

    @property
    def least_hole_in(self) -> float:
        """How far in the centres of the holes have to be at least, for metal to stay around them."""
        return self.hole_far_in(self.band + self.hole / 2 + self.web)

    def hole_far_in(self, keep: float) -> float:
        """Return how far in holes stand whose centres are to be so far from the edge, round the corners too."""
        if self.holes != "corners":
            return keep
        if self.shape == "scalloped":
            return max(keep, (self.corner + keep) / _DIAGONAL)
        return max(keep, self.corner_used - (self.corner_used - keep) / _DIAGONAL)

    @property
    def least_margin(self) -> float:
        """The least margin that keeps what is cut through the plate off border, corners and holes."""
        keep, corner = self.band + self.web, self.corner_used
        if self.shape in ("rounded", "shield"):
            keep = max(keep, corner - (corner - keep) / _DIAGONAL)
        if self.shape == "scalloped":
            keep = max(keep, (corner + keep) / _DIAGONAL)
        if self.holes == "top":
            return max(keep, self.hole_in + self.hole / 2 + self.web)
        if self.holes == "corners":
            return max(keep, self.hole_in + (self.hole / 2 + self.web) / _DIAGONAL)
        return keep

    def beside(self, margin: float) -> float:
        """Return how much wider than by the margin the plate is on each side, for holes there."""
        return max(self.hole_in + self.hole / 2 + self.web - margin, 0.0) if self.holes == "sides" else 0.0

    def most_corner(self, size: Point) -> float:
        """Return the largest radius that the corners of the plate of a size may have."""
        width, height = size
        return min(height - POINT * width if self.shape == "shield" else height / 2, width / 2)

    def edge(self, size: Point) -> Loop:
        """Return the edge of the plate of a size."""
        return edge(self.shape, size, self.corner_used)

    def holes_at(self, size: Point) -> list[Point]:
        """Return the centres of the holes in the plate of a size."""
        (width, height), inset = size, self.hole_in
        _, y = middle(self.shape, size)
        if self.holes == "top":
            return [(width / 2, height - inset)]
        if self.holes == "sides":
            return [(inset, y), (width - inset, y)]
        return list(corners_of(self.shape, size, inset)) if self.holes == "corners" else []

    def border_cut(self, size: Point, gap: float) -> shapely.Geometry:
        """Return what is cut out for the border: with bridges over it of a width, or all round where that is 0."""
        if not self.border:
            return shapely.Polygon()
        metal = metal_of([self.edge(size)])
        if not gap:
            return ring(metal, self.border_in, self.border)
        sides = Sides(size, middle(self.shape, size), self.band + self.corner_used)
        return gapped(metal, self.border_in, self.border, gap, sides)
