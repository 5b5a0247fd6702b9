"""Mesh: a part's patches as triangles and edges on the flat, each corner with the hinge that moves it.

Each corner stands for two, one on either face of the sheet.

    face   a triangle, on either face
    wall   a piece of a cut edge, through the sheet
    sharp  a corner where walls meet at an angle: an edge through the sheet
    round  a corner where walls go on in a curve: an edge only where the curve turns out of sight
    curl   between two strips of a bend: an edge only where the bend turns out of sight, on either face
    line   where a bend begins or ends
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from parts.errors import GeometryError
from parts.facets.hinges import Hinge
from parts.facets.patches import Patch, Split, Strip, split
from parts.geometry import Point
from parts.record import Record

MOST_CORNERS = 40_000
"""More take a phone seconds to turn, and a server to draw."""
SHARP_RAD = math.radians(20)
"""Walls that turn by more than the chords of an arc do meet at an angle."""
_ON_MM = 1e-6


@dataclass(slots=True)
class Mesh:
    """Corners on the flat, mm, with their hinges, -1 where none moves them; the rest by the numbers of corners.

    `rounds` has a corner and two walls in each row, `curls` two corners and two faces, by their numbers.
    """

    thickness: float
    hinges: tuple[Hinge, ...]
    corners: list[Point] = field(default_factory=list)
    moved_by: list[int] = field(default_factory=list)
    faces: list[tuple[int, int, int]] = field(default_factory=list)
    walls: list[tuple[int, int]] = field(default_factory=list)
    sharp: list[int] = field(default_factory=list)
    rounds: list[tuple[int, int, int]] = field(default_factory=list)
    curls: list[tuple[int, int, int, int]] = field(default_factory=list)
    lines: list[tuple[int, int]] = field(default_factory=list)


def meshed(record: Record) -> Mesh:
    """Return the mesh of a part.

    Raises:
        GeometryError: it can't be shown bent, or is too rich.
    """
    cut = split(record)
    count = sum(shapely.get_num_coordinates(patch.shape) for patch in cut.patches)
    if count > MOST_CORNERS:
        raise GeometryError(
            f"It has {count} corners; {MOST_CORNERS} are as many as can be turned. Take the GLB instead."
        )
    mesh = Mesh(record.job.cut.thickness_mm, cut.hinges)
    maker = _Maker(mesh, cut)
    for patch in cut.patches:
        maker.take(patch)
    return mesh


class _Maker:
    """What is asked while patches are taken into a mesh: the cut edges, and a face of each strip taken so far."""

    def __init__(self, mesh: Mesh, cut: Split) -> None:
        self.mesh = mesh
        self.edges = shapely.union_all([flat.boundary for flat in cut.flats])
        shapely.prepare(self.edges)
        self.sharp = {_key(p) for flat in cut.flats for ring in _rings(flat) for p in _sharp(ring)}
        self.last: dict[tuple[int, int], int] = {}

    def take(self, patch: Patch) -> None:
        """Add one patch."""
        mesh, first = self.mesh, len(self.mesh.corners)
        rings = list(_rings(patch.shape))
        numbers = {p: first + i for i, p in enumerate(dict.fromkeys(p for ring in rings for p in ring))}
        mesh.corners.extend(numbers)
        mesh.moved_by.extend([-1 if patch.hinge is None else patch.hinge] * len(numbers))
        mesh.faces.extend(_triangles(patch.shape, numbers))
        if patch.strip:
            self.last[patch.strip.hinge, patch.strip.number] = len(mesh.faces)
        for ring in rings:
            self._take_ring(patch, ring, [numbers[p] for p in ring])

    def _take_ring(self, patch: Patch, ring: Sequence[Point], numbers: Sequence[int]) -> None:
        mesh, count = self.mesh, len(ring)
        walls = dict(self._walls(ring, numbers))
        for i in range(count):
            before, after = walls.get((i - 1) % count), walls.get(i)
            if _key(ring[i]) in self.sharp:
                mesh.sharp.append(numbers[i])
            elif before is not None and after is not None:
                mesh.rounds.append((numbers[i], before, after))
            if after is None and patch.strip:
                j = (i + 1) % count
                self._seam(patch.strip, (ring[i], ring[j]), (numbers[i], numbers[j]))

    def _walls(self, ring: Sequence[Point], numbers: Sequence[int]) -> Iterator[tuple[int, int]]:
        """Yield the place in the ring of each piece that lies on a cut edge, and the number of its wall."""
        ends = np.array([*ring, ring[0]])
        cut = shapely.dwithin(self.edges, shapely.points((ends[:-1] + ends[1:]) / 2), _ON_MM)
        for i in np.nonzero(cut)[0].tolist():
            self.mesh.walls.append((numbers[i], numbers[(i + 1) % len(ring)]))
            yield i, len(self.mesh.walls) - 1

    def _seam(self, strip: Strip, ends: tuple[Point, Point], numbers: tuple[int, int]) -> None:
        """Add where a strip meets the one before, or where the bend begins or ends."""
        of = self.mesh.hinges[strip.hinge]
        (x, y), (ax, ay) = of.start, of.across
        across = [(px - x) * ax + (py - y) * ay for px, py in ends]
        if abs(across[0] - across[1]) > _ON_MM:
            return
        if not _ON_MM < across[0] < of.allowance - _ON_MM:
            self.mesh.lines.append(numbers)
        elif abs(across[0] - strip.begins) <= _ON_MM and (before := self.last.get((strip.hinge, strip.number - 1))):
            self.mesh.curls.append((*numbers, before - 1, len(self.mesh.faces) - 1))


def _rings(shape: shapely.Polygon) -> Iterator[list[Point]]:
    """The rings of a polygon, not closed; metal lies on their left."""
    for ring in (shape.exterior, *shape.interiors):
        yield [(float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1]]


def _key(p: Point) -> Point:
    return round(p[0], 5) + 0.0, round(p[1], 5) + 0.0


def _sharp(ring: Sequence[Point]) -> Iterator[Point]:
    """Yield the corners of a ring at which it turns."""
    for (ax, ay), (bx, by), (cx, cy) in zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True):
        turn = math.atan2(cy - by, cx - bx) - math.atan2(by - ay, bx - ax)
        if abs(math.remainder(turn, math.tau)) > SHARP_RAD:
            yield bx, by


def _triangles(shape: shapely.Polygon, numbers: Mapping[Point, int]) -> Iterator[tuple[int, int, int]]:
    """Yield the triangles of a polygon, counter-clockwise as seen from above."""
    for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(shape)):
        a, b, c = ((float(x), float(y)) for x, y in shapely.get_coordinates(triangle)[:3])
        turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        yield (numbers[a], numbers[b], numbers[c]) if turn > 0 else (numbers[a], numbers[c], numbers[b])
