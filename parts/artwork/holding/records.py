"""What is asked of bridges, and what holding a picture's pieces made."""

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

from parts.artwork.metal import Metal
from parts.errors import GeometryError
from parts.geometry import Point

Style: TypeAlias = Literal["centred", "flush"]
Frame: TypeAlias = Literal["outer", "one"]


@dataclass(frozen=True, slots=True)
class Ties:
    """How wide bridges are, and what has to hang together.

    `kerf_mm` is what the jet takes: no nook narrower than that is left beside a bridge. `style` flush sets a bridge
    in line with a stem's edge where there is one, centred in the middle of what it holds. With the frame `outer` each
    outermost piece stands for itself and holds what lies in its openings; with `one` the outermost are joined too,
    as the raised letters of a sign.

    Raises:
        GeometryError: if the width isn't more than nothing, or the kerf is less.
    """

    width_mm: float
    kerf_mm: float = 1.5
    style: Style = "centred"
    frame: Frame = "outer"

    def __post_init__(self) -> None:
        if not self.width_mm > 0:
            raise GeometryError(f"Bridges have to be wider than 0 mm, not {self.width_mm}.")
        if not self.kerf_mm >= 0:
            raise GeometryError(f"A kerf is 0 mm or more, not {self.kerf_mm}.")


@dataclass(frozen=True, slots=True)
class Bridge:
    """Metal left across what is cut, from one piece to another, along the middle of the bridge; mm.

    `key` is opening, piece in it and the side of the piece: `3.1.top`. Openings that have loose pieces are counted as
    one reads, from the top row on, from left to right; so are the pieces in one. `offset` is how far the bridge stands
    from the piece's middle, as a share of the piece's breadth there: to the right, or up where it lies level.
    `breadth_mm` is that breadth.
    """

    key: str
    start: Point
    end: Point
    width_mm: float
    offset: float
    breadth_mm: float = 0.0

    def across(self, wide_mm: float) -> tuple[Point, Point]:
        """Return the ends of a line across its middle, so long."""
        (ax, ay), (bx, by) = self.start, self.end
        half = wide_mm / 2 / math.dist(self.start, self.end)
        dx, dy = (ay - by) * half, (bx - ax) * half
        x, y = (ax + bx) / 2, (ay + by) / 2
        return (x - dx, y - dy), (x + dx, y + dy)


@dataclass(frozen=True, slots=True)
class Dropped:
    """A piece too small to be held, cut away with what lies around it: its middle and area in mm²."""

    at: Point
    area_mm2: float


@dataclass(frozen=True, slots=True)
class Held:
    """Metal whose pieces hang together, and what was done for it.

    `loose` are the places of pieces that nothing could hold, `dropped` what was cut away as too small; `unmoved` are
    keys that were to be moved and weren't: there is no such bridge, or no room for it there.
    """

    metal: Metal
    bridges: tuple[Bridge, ...]
    loose: tuple[Point, ...] = ()
    dropped: tuple[Dropped, ...] = ()
    unmoved: tuple[str, ...] = ()
