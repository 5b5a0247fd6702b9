"""Patches: the flat, arcs as chords, cut along where its bends begin and end, and each bend into strips that stay flat.

piece  what is left of the flat between bends
strip  a share of a bend, as long as its line and so narrow that it turns by no more than STRIP_RAD
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from parts.errors import GeometryError
from parts.facets.hinges import Hinge, hinged, rows_of
from parts.forming import BendRow
from parts.geometry import Arc, Loop, Point, holders
from parts.geometry.view import flattened
from parts.profile import Profile
from parts.record import Record

STRIP_RAD = math.radians(7.5)
CHORD_SHARE, LEAST_CHORD_MM = 1 / 4000, 0.01
"""Chord error of arcs: of the part's longer side, and at least."""
TURN_SHARE = 1 - math.cos(math.radians(6))
"""Chord error in radii of an arc whose chords turn by 12 degrees from one to the next."""
_SHARES = (0.5, 0.31, 0.77, 0.12, 0.9)  # where along a line it is looked for metal: at some an opening may be
_JUST_MM = 1e-3  # how far beside a bend a piece is looked for, and how far beyond its line its cut goes
_NOTHING_MM2 = 1e-3


@dataclass(frozen=True, slots=True)
class Strip:
    """The place of a strip: its hinge, its number in the bend from 0, and how far across it begins, mm."""

    hinge: int
    number: int
    begins: float


@dataclass(frozen=True, slots=True)
class Patch:
    """A flat polygon, the hinge that moves or curls it, and of a strip its place."""

    shape: shapely.Polygon
    hinge: int | None
    strip: Strip | None = None


@dataclass(frozen=True, slots=True)
class Split:
    """The flat, a polygon for each outside loop, with its hinges and patches."""

    flats: tuple[shapely.Polygon, ...]
    hinges: tuple[Hinge, ...]
    patches: tuple[Patch, ...]


def split(record: Record) -> Split:
    """Return a part's flat, cut along its bends.

    Raises:
        GeometryError: a bend doesn't part the flat, or a piece hangs by none.
    """
    flats, rows = tuple(_flats(record.profile)), rows_of(record)
    taken = [_oblong(row) for row in rows]
    cut = [shapely.difference(flat, shapely.union_all(taken)) for flat in flats]
    pieces = [piece for shape in cut for piece in _polygons(shape)]
    sides = [(_beside(pieces, row, 1.0), _beside(pieces, row, -1.0)) for row in rows]
    hinges, moved = hinged(record, rows, sides, [_largest(pieces, flat) for flat in flats])
    if len(moved) < len(pieces):
        raise GeometryError("A piece of the flat hangs by no bend, so it can't be shown bent.")
    strips = [strip for i, hinge in enumerate(hinges) for strip in _strips(flats, i, hinge)]
    return Split(flats, hinges, (*(Patch(piece, moved[i]) for i, piece in enumerate(pieces)), *strips))


def _flats(profile: Profile) -> Iterator[shapely.Polygon]:
    x0, y0, x1, y1 = profile.box
    chord = max(CHORD_SHARE * max(x1 - x0, y1 - y0), LEAST_CHORD_MM)
    within = [opening.loop for opening in profile.inside]
    around = holders([*profile.outside, *within])[len(profile.outside) :]
    for k, outside in enumerate(profile.outside):
        holes = [_ring(loop, chord) for loop, of in zip(within, around, strict=True) if of[:1] == [k]]
        yield shapely.Polygon(_ring(outside, chord), holes)


def _ring(loop: Loop, chord: float) -> list[Point]:
    return [
        point
        for segment in loop.segments
        for point in flattened(segment, min(chord, TURN_SHARE * segment.radius) if isinstance(segment, Arc) else chord)
    ]


def _oblong(row: BendRow) -> shapely.Polygon:
    """What a bend takes of the flat."""
    half, (ux, uy), length = row.fold.allowance / 2, row.line.heading, row.line.length
    x, y = row.line.start
    ends = [(-half, -_JUST_MM), (half, -_JUST_MM), (half, length + _JUST_MM), (-half, length + _JUST_MM)]
    return shapely.Polygon([(x + uy * s + ux * t, y - ux * s + uy * t) for s, t in ends])


def _strips(flats: Sequence[shapely.Polygon], number: int, hinge: Hinge) -> Iterator[Patch]:
    count = max(math.ceil(hinge.angle / STRIP_RAD), 1)
    wide = hinge.allowance / count
    for i in range(count):
        ends = [(i, -_JUST_MM), (i + 1, -_JUST_MM), (i + 1, hinge.length + _JUST_MM), (i, hinge.length + _JUST_MM)]
        strip = shapely.Polygon([hinge.at(wide * s, t) for s, t in ends])
        for flat in flats:
            for shape in _polygons(shapely.intersection(flat, strip)):
                yield Patch(shape, number, Strip(number, i, wide * i))


def _polygons(shape: shapely.Geometry) -> list[shapely.Polygon]:
    """The polygons of a shape, counter-clockwise around metal; what is as good as nothing is left out."""
    found = [each for each in shapely.get_parts(shape) if isinstance(each, shapely.Polygon)]
    return [shapely.orient_polygons(each) for each in found if each.area > _NOTHING_MM2]


def _beside(pieces: Sequence[shapely.Polygon], row: BendRow, side: float) -> int:
    """Which piece lies left of a bend, or right of it where the side is negative."""
    off, (ux, uy) = side * (row.fold.allowance / 2 + _JUST_MM), row.line.heading
    for share in _SHARES:
        x, y = row.line.at(share)
        probe = shapely.Point(x - off * uy, y + off * ux)
        for index, piece in enumerate(pieces):
            if piece.covers(probe):
                return index
    raise GeometryError(f"There is no metal beside bend {row.number}, so it can't be shown bent.")


def _largest(pieces: Sequence[shapely.Polygon], flat: shapely.Polygon) -> int:
    """The piece of a flat that stays where it is."""
    of = [i for i, piece in enumerate(pieces) if flat.covers(piece.representative_point())]
    return max(of, key=lambda i: float(pieces[i].area))
