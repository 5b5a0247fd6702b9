"""Shapes: level lines of a picture as polygons, specks left out.

ground    what lies at the picture's border
depth     how many outlines lie around a place; what is at an odd depth is metal

Where a field is above 0 is metal; a pixel's value is that of its middle, and beyond the picture nothing is metal, so a
shape that runs out of the picture is cut off at its border. Coordinates are pixels from its lower left corner,
y upward.
"""

from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.artwork.metal import Metal, metal_from
from parts.artwork.pictures.levels import Floats, Grey, is_mostly_dark_at_border
from parts.errors import Unreadable

Shows: TypeAlias = Literal["auto", "dark", "light"]
"""What of a picture is the shape: what its border isn't, what is dark, what is light."""

MOST_SHAPES = 2000
"""Outlines that are worked on; a plate of so many holes takes hours to cut."""
MOST_POINTS = 25_000
"""Points along edges, thinned to NEAR_PX, that are worked on: five times those of a rich picture."""
_MOST_RAW = 400_000
LEAST_SPECK_PX2 = 6.0
"""Smaller is what a blur of a pixel makes of one dot."""
NEAR_PX = 0.05
"""How closely points follow a level line: less than a blur leaves of noise, and a sixth of the points."""
NOTHING = "no shape is found in it; move the threshold, or take one with more contrast"


class TooRich(Unreadable):
    """There is more along a picture's edges than is worked on."""


@dataclass(frozen=True, eq=False)
class Contours:
    """Every level line of a picture, as rings.

    Args:
        points: of all rings, one after the other, pixels.
        starts: where each ring starts among them, and where the last one ends.
        areas: of each ring, px^2, those around metal positive.
        owners: of each ring the one around the metal that it bounds, itself or the one that it is a hole in.
        is_light: whether what is light is metal.
    """

    points: NDArray[np.float64]
    starts: NDArray[np.int64]
    areas: NDArray[np.float64]
    owners: NDArray[np.int64]
    is_light: bool = False

    def metal(self, speck_px2: float = 0.0) -> tuple[Metal, int]:
        """Return the shapes, and how many shapes and holes of at most this area were left out.

        Raises:
            Unreadable: if nothing is left, or far more than can be cut; the end of a sentence.
        """
        keep = np.abs(self.areas) > max(speck_px2, LEAST_SPECK_PX2)
        keep &= keep[self.owners]
        kept = np.flatnonzero(keep)
        if not kept.size:
            raise Unreadable(NOTHING)
        if kept.size > MOST_SHAPES or int(np.diff(self.starts)[kept].sum()) > _MOST_RAW:
            raise _too_much(int(kept.size))
        whole = np.array([shapely.LinearRing(self._ring(int(ring))) for ring in kept], dtype=object)
        rings = shapely.simplify(whole, NEAR_PX, preserve_topology=False)
        if shapely.get_num_coordinates(rings).sum() > MOST_POINTS:
            raise _too_much(int(kept.size))
        return self._polygons(kept, rings), int((~keep).sum())

    def _polygons(self, kept: NDArray[np.int64], rings: NDArray[np.object_]) -> Metal:
        holes: dict[int, list[shapely.LinearRing]] = {}
        for ring, line in zip(kept, rings, strict=True):
            if self.areas[ring] < 0 and not line.is_empty:
                holes.setdefault(int(self.owners[ring]), []).append(line)
        made = [
            shapely.Polygon(line, holes.get(int(ring)))
            for ring, line in zip(kept, rings, strict=True)
            if self.areas[ring] > 0 and not line.is_empty
        ]
        return metal_from(shapely.MultiPolygon(made))

    def _ring(self, ring: int) -> NDArray[np.float64]:
        return self.points[self.starts[ring] : self.starts[ring + 1]]


def _too_much(count: int) -> TooRich:
    shapes = "1 shape" if count == 1 else f"{count:,} shapes and holes"
    return TooRich(
        f"it shows {shapes} with edges more ragged than can be cut; leave out larger specks, move the threshold, or "
        "blur it first"
    )


def contours_of(grey: Grey, *, share: float = 0.5, shows: Shows = "auto") -> Contours:
    """Return the level lines of filled shapes.

    Args:
        grey: the picture's brightness and classes.
        share: where between dark and light an edge lies.
        shows: what is the shape.

    Raises:
        Unreadable: if there are none; the end of a sentence.
    """
    level = grey.level(share)
    is_light = shows == "light" or (shows == "auto" and is_mostly_dark_at_border(grey.values, level))
    field = grey.values - np.float32(level) if is_light else np.float32(level) - grey.values
    return level_lines(field, is_light=is_light)


def level_lines(field: Floats, *, is_light: bool = False) -> Contours:
    """Return where a field passes through 0.

    Raises:
        Unreadable: if it is nowhere above 0; the end of a sentence.
    """
    import contourpy  # noqa: PLC0415 - where no picture is asked for

    high, wide = field.shape
    around = np.full((high + 2, wide + 2), -max(float(np.abs(field).max()), 1e-3), dtype=np.float32)
    around[1:-1, 1:-1] = field[::-1]
    made = contourpy.contour_generator(
        x=np.arange(wide + 2) - 0.5, y=np.arange(high + 2) - 0.5, z=around, name="serial",
        fill_type=contourpy.FillType.ChunkCombinedOffsetOffset,
    )  # fmt: skip
    found: Any = made.filled(0.0, np.inf)
    (points,), (starts,), (outers,) = found
    if points is None:
        raise Unreadable(NOTHING)
    starts, outers = starts.astype(np.int64), outers.astype(np.int64)
    x, y = points[:, 0], points[:, 1]
    cross = np.zeros(len(points))
    cross[:-1] = x[:-1] * y[1:] - x[1:] * y[:-1]  # each ring's last point is its first
    cross[starts[1:-1] - 1] = 0.0
    areas = np.add.reduceat(cross, starts[:-1]) / 2
    owners = np.repeat(outers[:-1], np.diff(outers))

    is_outer = owners == np.arange(len(owners))
    return Contours(points, starts, np.abs(areas) * np.where(is_outer, 1.0, -1.0), owners, is_light)


def touches(metal: Metal, wide: int, high: int) -> bool:
    """Tell whether a shape runs out of a picture of so many pixels."""
    x0, y0, x1, y1 = metal.bounds
    return bool(min(x0, y0, wide - x1, high - y1) < 1.0)
