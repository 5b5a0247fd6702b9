"""Outlines of glyphs: their curves flattened finely enough for a height, and what they fill.

Contours of one glyph may overlap, so that a place is filled where they wind round it at all: by the non-zero rule.
"""

import math
from collections.abc import Sequence
from functools import cache, lru_cache
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.artwork.glyphs.faces import FontFile
from parts.artwork.metal import curve_points
from parts.geometry import Point
from parts.geometry.area import filled_rings

Contour = NDArray[np.float64]

_LEAST_MM, _GREATEST_MM = 4.0, 4096.0
# Heights that outlines are flattened for; what is larger still would have more points than it is worth.


def flat_for(cap_height: float) -> float:
    """Return the cap height for which outlines are flattened that are as high: the next power of two, mm.

    So that a sign of another size has the same points, larger or smaller.
    """
    return float(2 ** math.ceil(math.log2(min(max(cap_height, _LEAST_MM), _GREATEST_MM)) - 1e-9))


@lru_cache(maxsize=2048)
def contours(file: FontFile, glyph: int, flat: float) -> tuple[Contour, ...]:
    """Return the contours of a glyph in cap heights, not closed, flattened for a cap height of `flat` mm."""
    pen = _pen()(file.glyphs, flat / file.cap)
    file.draw(glyph, pen)
    return tuple(np.array(contour) / flat for contour in pen.contours if len(contour) > 2)


@lru_cache(maxsize=2048)
def filled_glyph(file: FontFile, glyph: int, flat: float) -> shapely.Geometry:
    """Return what a glyph fills, in cap heights, flattened as by `contours`."""
    rings = [contour * flat for contour in contours(file, glyph, flat)]
    shape = filled_rings(rings, "nonzero")
    return shapely.transform(shape, lambda points: points / flat)


def path_contours(path: str, scale: float) -> list[list[Point]]:
    """Return the contours of a path as SVG writes it, not closed, flattened; `scale` mm a unit of it."""
    from fontTools.svgLib.path import parse_path  # noqa: PLC0415 - only what draws symbols needs it

    pen = _pen()(None, scale)
    parse_path(path, pen)
    return [contour for contour in pen.contours if len(contour) > 2]


@cache
def _pen() -> Any:  # noqa: ANN401, C901 - fontTools has no types; a class of small methods
    """The pen that flattens, a class of fontTools' own kind; made when it is first needed."""
    from fontTools.pens.basePen import BasePen  # noqa: PLC0415 - only what draws letters needs it

    class Flattening(BasePen):  # type: ignore[misc]  # fontTools has no types
        """Notes each contour as points, `scale` mm a unit."""

        def __init__(self, glyphs: object, scale: float) -> None:
            super().__init__(glyphs)
            self.scale = scale
            self.contours: list[list[Point]] = []

        def _moveTo(self, pt: Point) -> None:
            self.contours.append([self._at(pt)])

        def _lineTo(self, pt: Point) -> None:
            self._add([], self._at(pt))

        def _qCurveToOne(self, pt1: Point, pt2: Point) -> None:
            self._curve(pt1, pt2)

        def _curveToOne(self, pt1: Point, pt2: Point, pt3: Point) -> None:
            self._curve(pt1, pt2, pt3)

        def _closePath(self) -> None:
            contour = self.contours[-1]
            if contour[-1] == contour[0] and len(contour) > 1:
                contour.pop()

        _endPath = _closePath

        def _curve(self, *points: Point) -> None:
            controls = [self.contours[-1][-1], *(self._at(point) for point in points)]
            self._add(curve_points(controls)[1:], controls[-1])

        def _add(self, between: Sequence[Point], end: Point) -> None:
            contour = self.contours[-1]
            contour += between
            if contour[-1] != end:
                contour.append(end)

        def _at(self, point: Point) -> Point:
            return point[0] * self.scale, point[1] * self.scale

    return Flattening
