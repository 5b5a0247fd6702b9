"""Photograph: a picture with a sheet of paper in it, laid flat: every pixel of it the same share of a mm.

The pattern is on the sheet, where there is ink on it, or lies beside it; the sheet itself is taken away then.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.artwork.pictures.opening import WORKED_PIXELS, Levels, Picture
from parts.artwork.pictures.paper import Plane, Points, plane_of
from parts.geometry import Point

_MARGIN_MM = 4.0  # within the sheet's edges, which may curl or throw a shadow
_AROUND_MM = 2.5
_FARTHEST = 3.0  # sides of the sheet away from it
_INK = 0.72  # of the paper's brightness
_LEAST_INK = 0.003  # of the sheet


@dataclass(frozen=True, eq=False)
class Taken:
    """A photograph laid flat.

    `picture` is the flat one, `px_per_mm` of it; `left` and `low` are where its lower left corner lies on the
    plane, mm.
    `photo` is the photograph as it was sent, `on_sheet` whether what is on the sheet was taken.
    """

    picture: Picture
    photo: Picture
    plane: Plane
    px_per_mm: float
    left: float
    low: float
    on_sheet: bool

    def on_photo(self, points: Points | Sequence[Point]) -> Points:
        """Return where in the photograph points of the flat picture are seen, both in pixels.

        Args:
            points: from the lower left of the flat picture, y upward, n by 2; the answer has y downward.
        """
        return self.plane.seen(np.asarray(points, dtype=np.float64) / self.px_per_mm + np.array([self.left, self.low]))


def taken(photo: Picture, sheet: str) -> Taken:
    """Return a photograph laid flat by a sheet in it.

    Raises:
        Unreadable: as by `plane_of`.
    """
    plane = plane_of(photo, sheet)
    wide, high = plane.size_mm
    inside = _flat(photo, plane, (_MARGIN_MM, _MARGIN_MM, wide - _MARGIN_MM, high - _MARGIN_MM))
    paper = float(np.percentile(inside[0], 80))
    if float((inside[0] < _INK * paper).mean()) > _LEAST_INK:
        levels, density = inside
        return Taken(Picture(levels, said=photo.said), photo, plane, density, _MARGIN_MM, _MARGIN_MM, True)
    box = _reach(photo, plane)
    levels, density = _flat(photo, plane, box)
    return Taken(
        Picture(_without_sheet(levels, density, box, plane), said=photo.said), photo, plane, density, box[0], box[1],
        False,
    )  # fmt: skip


def _reach(photo: Picture, plane: Plane) -> tuple[float, float, float, float]:
    """The box on the plane that the photograph shows, mm, not much farther than the sheet is long."""
    wide, high = plane.size_mm
    far = _FARTHEST * max(wide, high)
    xs, ys = np.linspace(0, photo.width - 1, 9), np.linspace(0, photo.height - 1, 9)
    border = [(x, y) for x in xs for y in (ys[0], ys[-1])] + [(x, y) for x in (xs[0], xs[-1]) for y in ys]
    found = plane.lies(np.array(border))
    back = plane.seen(found)
    ahead = np.abs(back - np.array(border)).max(axis=1) < 1.0
    found = np.vstack([found[ahead], [(0.0, 0.0), (wide, high)]])
    x0, y0 = np.maximum(found.min(axis=0), -far)
    x1, y1 = np.minimum(found.max(axis=0), (wide + far, high + far))
    return float(x0), float(y0), float(x1), float(y1)


def _flat(photo: Picture, plane: Plane, box: tuple[float, float, float, float]) -> tuple[Levels, float]:
    """A box of the plane as the photograph shows it, and its pixels to a mm."""
    from scipy import ndimage  # noqa: PLC0415 - where no photograph is asked for

    x0, y0, x1, y1 = box
    density = min(plane.px_per_mm * 1.15, math.sqrt(WORKED_PIXELS / ((x1 - x0) * (y1 - y0))))
    wide, high = max(int((x1 - x0) * density), 16), max(int((y1 - y0) * density), 16)
    made = np.empty((high, wide), dtype=np.uint8)
    xs = x0 + (np.arange(wide) + 0.5) / density
    top = y0 + high / density
    for first in range(0, high, 256):  # a band at a time: places take sixteen bytes a pixel
        ys = top - (np.arange(first, min(first + 256, high)) + 0.5) / density
        grid = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
        seen = plane.seen(grid)
        band = ndimage.map_coordinates(photo.levels, [seen[:, 1], seen[:, 0]], order=1, mode="nearest")
        made[first : first + 256] = band.reshape(-1, wide)
    return made, density


def _without_sheet(levels: Levels, density: float, box: tuple[float, float, float, float], plane: Plane) -> Levels:
    """The flat picture with the sheet painted over by the ground around it."""
    wide, high = plane.size_mm
    x0, y0, _, _ = box
    top = y0 + levels.shape[0] / density

    def window(by: float) -> tuple[slice, slice]:
        rows = slice(max(int((top - high - by) * density), 0), max(int((top + by) * density) + 1, 0))
        columns = slice(max(int((-by - x0) * density), 0), max(int((wide + by - x0) * density) + 1, 0))
        return rows, columns

    made = levels.copy()
    ring: NDArray[np.bool_] = np.zeros(levels.shape, dtype=bool)
    ring[window(4 * _AROUND_MM)] = True
    ring[window(_AROUND_MM)] = False
    made[window(_AROUND_MM)] = np.uint8(np.median(levels[ring])) if ring.any() else np.uint8(0)
    return made
