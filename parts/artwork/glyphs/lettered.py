"""Lettered: what the letters of a text fill, in mm, as it is cut out of a plate or stands on a bar."""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from parts.artwork.glyphs.layout import Layout, Placed
from parts.artwork.glyphs.outlines import filled_glyph, flat_for
from parts.artwork.metal import Metal, metal_from
from parts.geometry import Box, Point


@dataclass(frozen=True)
class Lettered:
    """The area of the letters, letters that overlap united, the box of each line, and each glyph by itself."""

    area: Metal
    lines: tuple[Box, ...]
    glyphs: tuple[shapely.Geometry, ...] = ()


_ROUGH = flat_for(0.0)


def rough_letters(layout: Layout, cap_height: float, middle: Point) -> list[shapely.Geometry]:
    """Return what each glyph of a text fills, as `lettered` does, but coarsely: to be looked at alone."""
    return _placed(layout, cap_height, _ROUGH, _from(layout, cap_height, middle))


def lettered(layout: Layout, cap_height: float, middle: Point) -> Lettered:
    """Return what a text fills with capitals of a height, the middle of its box at a point."""
    dx, dy = _from(layout, cap_height, middle)
    shapes = _placed(layout, cap_height, flat_for(cap_height), (dx, dy))
    area = metal_from(shapely.union_all(shapes))
    lines = tuple(
        (a * cap_height + dx, b * cap_height + dy, c * cap_height + dx, d * cap_height + dy)
        for a, b, c, d in (line.box for line in layout.lines)
    )
    return Lettered(area, lines, tuple(shape for shape in shapes if not shapely.is_empty(shape)))


def _from(layout: Layout, cap_height: float, middle: Point) -> Point:
    """Where the origin of a text is that has the middle of its box at a point."""
    x0, y0, x1, y1 = layout.box
    return middle[0] - cap_height * (x0 + x1) / 2, middle[1] - cap_height * (y0 + y1) / 2


def _placed(layout: Layout, cap_height: float, flat: float, by: Point) -> list[shapely.Geometry]:
    return [_moved(glyph, cap_height, flat, by) for line in layout.lines for glyph in line.glyphs]


def _moved(glyph: Placed, cap_height: float, flat: float, by: Point) -> shapely.Geometry:
    c, s = cap_height * math.cos(glyph.turn), cap_height * math.sin(glyph.turn)
    turn = np.array([[c, s], [-s, c]])
    at = np.array([cap_height * glyph.x + by[0], cap_height * glyph.y + by[1]])
    return shapely.transform(filled_glyph(glyph.file, glyph.number, flat), lambda points: points @ turn + at)
