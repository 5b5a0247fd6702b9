"""What of a face decides how small it can be cut: counters, strokes, and gaps between strokes of one letter.

As the data has it of the faces that come with Platewright; of one of someone's own measured, on the letters that are
the most delicate of nearly every face.
"""

from functools import lru_cache
from itertools import combinations
from typing import NamedTuple

import shapely

from parts.artwork.face_table import face_table
from parts.artwork.glyphs.faces import Face
from parts.artwork.glyphs.outlines import filled_glyph
from parts.artwork.metal import Metal, metal_from, pieces
from parts.geometry import Loop
from parts.profile import Opening, Profile

_DELICATE = "ATG489B"
_HEIGHT = 128.0
# What they are measured at, mm.
_FINE, _FLAT = 0.05, 16.0
# How near the largest circle is found, mm at that height; a cap height that is flattened for, which takes few chords.


class Traits(NamedTuple):
    """In cap heights: the largest circle in the smallest counter, the least stroke, the least gap; 0 for none."""

    counter: float
    stroke: float
    gap: float


def traits(face: Face) -> Traits:
    """Return what decides how small a face can be cut."""
    known = face_table().get(face.word)
    return Traits(known.counter, known.stroke, known.gap) if known else measured(face)


@lru_cache(maxsize=4)
def measured(face: Face) -> Traits:
    """Return the same of any face, measured on its letters."""
    file = face.files[0]
    letters = [each for each in _DELICATE if ord(each) in file.characters] or [*map(chr, sorted(file.characters))][:8]
    glyphs = [filled_glyph(file, file.font.get_nominal_glyph(ord(each)) or 0, _FLAT) for each in letters]
    letters_of = [metal_from(shapely.transform(each, lambda xy: xy * _HEIGHT)) for each in glyphs]
    shapes = [shape for shape in letters_of if not shapely.is_empty(shape)]
    holes = [shapely.Polygon(ring) for shape in shapes for piece in pieces(shape) for ring in piece.interiors]
    counters = [2 * shapely.maximum_inscribed_circle(hole, tolerance=_FINE).length for hole in holes]
    gaps = [shapely.distance(*pair) for shape in shapes for pair in combinations(pieces(shape), 2)]
    strokes = [neck for shape in shapes for neck in _necks(shape)]
    counter, stroke, gap = (float(min(found, default=0.0)) / _HEIGHT for found in (counters, strokes, gaps))
    return Traits(counter, stroke, gap)


def _necks(shape: Metal) -> list[float]:
    """The widths of the narrow places of a letter, from the least on."""
    outside = tuple(_loop(piece.exterior) for piece in pieces(shape))
    inside = tuple(Opening(_loop(ring)) for piece in pieces(shape) for ring in piece.interiors)
    return [neck.width for neck in Profile(outside, inside).necks(_HEIGHT / 2)]


def _loop(ring: shapely.LinearRing) -> Loop:
    return Loop.through([(x, y, 0.0) for x, y in ring.coords[:-1]])
