"""Mesh: a part's patches as triangles and edges on the flat, each corner with the hinge that moves it.

Each corner stands for two, one on either face of the sheet.

    face   a triangle, on either face
    wall   a side that is cut, through the sheet
    sharp  a corner where walls meet at an angle: an edge through the sheet
    round  a corner where walls go on in a curve: an edge only where the curve turns out of sight
    curl   between two strips of a bend: an edge only where the bend turns out of sight, on either face
    line   where a bend begins or ends
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import shapely

from parts.errors import GeometryError
from parts.facets.hinges import Hinge
from parts.facets.patches import Patch, Ring, patches
from parts.geometry import Point
from parts.record import Record

MOST_CORNERS = 20_000
"""More take a phone seconds to turn, and a server seconds to draw."""
SHARP_RAD = math.radians(20)
"""Walls that turn by more than the chords of an arc do meet at an angle."""


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
    hinges, every = patches(record)
    count = sum(len(ring.corners) for patch in every for ring in patch.rings)
    if count > MOST_CORNERS:
        raise GeometryError(f"it has {count} corners, and {MOST_CORNERS} are as many as can be turned")
    mesh = Mesh(record.job.cut.thickness_mm, hinges)
    for patch in every:
        _take(patch, mesh)
    return mesh


def _take(patch: Patch, mesh: Mesh) -> None:
    """Add a patch; the strips of a bend come one after the other."""
    before = len(mesh.faces) - 1
    points = dict.fromkeys(p for ring in patch.rings for p in ring.corners)
    numbers = {p: len(mesh.corners) + i for i, p in enumerate(points)}
    mesh.corners.extend(points)
    mesh.moved_by.extend([-1 if patch.hinge is None else patch.hinge] * len(points))
    mesh.faces.extend(_triangles(patch.rings, numbers))
    for ring in patch.rings:
        _walls(ring, numbers, mesh)
    if patch.place is not None:
        first, second = (numbers[p] for p in patch.rings[0].corners[:2])
        if patch.place:
            mesh.curls.append((first, second, before, len(mesh.faces) - 1))
        else:
            mesh.lines.append((first, second))
        if patch.is_last:
            third, fourth = (numbers[p] for p in patch.rings[0].corners[2:])
            mesh.lines.append((third, fourth))


def _walls(ring: Ring, numbers: Mapping[Point, int], mesh: Mesh) -> None:
    count, first = len(ring.corners), len(mesh.walls)
    walls: dict[int, int] = {}
    for i in range(count):
        if ring.cut[i]:
            walls[i] = first + len(walls)
            mesh.walls.append((numbers[ring.corners[i]], numbers[ring.corners[(i + 1) % count]]))
    for i in range(count):
        before, after = walls.get((i - 1) % count), walls.get(i)
        if before is None or after is None:
            continue
        if abs(_turn(ring.corners, i)) > SHARP_RAD:
            mesh.sharp.append(numbers[ring.corners[i]])
        else:
            mesh.rounds.append((numbers[ring.corners[i]], before, after))


def _turn(corners: Sequence[Point], i: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = corners[i - 1], corners[i], corners[(i + 1) % len(corners)]
    return math.remainder(math.atan2(cy - by, cx - bx) - math.atan2(by - ay, bx - ax), math.tau)


def _triangles(rings: Sequence[Ring], numbers: Mapping[Point, int]) -> Iterator[tuple[int, int, int]]:
    """Yield the triangles of a patch, counter-clockwise as seen from above."""
    outside, *inside = (ring.corners for ring in rings)
    for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(shapely.Polygon(outside, inside))):
        a, b, c = ((float(x), float(y)) for x, y in shapely.get_coordinates(triangle)[:3])
        turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        yield (numbers[a], numbers[b], numbers[c]) if turn > 0 else (numbers[a], numbers[c], numbers[b])
