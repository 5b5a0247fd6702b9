"""An assembly: where each piece of a set stands once the set is put together, and what of it is cut of other plate.

frame      where a piece's drawing lies in space: its origin, the way of its x and of its y; the plate rises square to
           both, the way that turns x to y counter-clockwise
standing   a piece, as it comes off the table, in its frame
companion  a piece that another template draws, since its plate has another thickness
"""

from collections.abc import Mapping
from dataclasses import dataclass

from parts.profile import Profile

Vector = tuple[float, float, float]

ACROSS: Vector = (1.0, 0.0, 0.0)
BACK: Vector = (0.0, 1.0, 0.0)
UP: Vector = (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the drawing of a piece lies in space: mm, and unit vectors square to each other."""

    origin: Vector
    x: Vector = ACROSS
    y: Vector = BACK

    @property
    def normal(self) -> Vector:
        """The way that the plate rises from its drawing: x cross y."""
        (a, b, c), (d, e, f) = self.x, self.y
        return b * f - c * e, c * d - a * f, a * e - b * d

    def point(self, x: float, y: float, z: float = 0.0) -> Vector:
        """Return where a point of the piece is in space, z above its drawing."""
        (ox, oy, oz), (ax, ay, az), (bx, by, bz), (nx, ny, nz) = self.origin, self.x, self.y, self.normal
        return ox + x * ax + y * bx + z * nx, oy + x * ay + y * by + z * ny, oz + x * az + y * bz + z * nz


@dataclass(frozen=True, slots=True)
class Standing:
    """A piece in its place: its profile as cut, whose bends are made, and its plate's own thickness in mm."""

    name: str
    profile: Profile
    thickness: float
    frame: Frame


@dataclass(frozen=True, slots=True)
class Companion:
    """A piece of a set that the template `slug` draws with `values`, texts or numbers in mm."""

    name: str
    slug: str
    values: Mapping[str, str | float]
