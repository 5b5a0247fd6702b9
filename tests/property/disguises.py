"""Round holes in disguise: random plates whose holes are drawn in every way that programs draw them, as DXF and SVG.

The DXF is ezdxf's, the SVG made by hand; neither is by the writers under test.
"""

import math
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

import ezdxf.math
from ezdxf.layouts import Modelspace

from tests.files.foreign import data, document

TOLERANCE = 0.1
Point = tuple[float, float]


@dataclass(frozen=True)
class Hole:
    """A hole as it is meant; `hair` is how far its pieces may be out of place, mm."""

    x: float
    y: float
    diameter: float

    @property
    def radius(self) -> float:
        return self.diameter / 2

    @property
    def hair(self) -> float:
        return min(0.8 * TOLERANCE, self.diameter / 50)

    def at(self, angle: float, radius: float | None = None, off: Point = (0.0, 0.0)) -> Point:
        r = self.radius if radius is None else radius
        return self.x + off[0] + r * math.cos(angle), self.y + off[1] + r * math.sin(angle)


@dataclass(frozen=True)
class Plate:
    """A rectangle with its lower left at the origin, and its holes in two rows."""

    width: float
    height: float
    holes: tuple[Hole, ...]


@dataclass(frozen=True)
class ArcPiece:
    """An arc counter-clockwise from one angle to another, radians."""

    centre: Point
    radius: float
    start: float
    end: float


@dataclass(frozen=True)
class Ellipse:
    """A full ellipse with its axes along x and y."""

    centre: Point
    rx: float
    ry: float


@dataclass(frozen=True)
class Curves:
    """Cubic spans end to end, each of four points."""

    spans: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True)
class Fit:
    """A closed curve through points."""

    points: tuple[Point, ...]


@dataclass(frozen=True)
class Ring:
    """A closed row of straight lines, one entity; `loose` has them as an entity each."""

    points: tuple[Point, ...]
    loose: bool = False


@dataclass(frozen=True)
class Circle:
    """A circle as such."""

    centre: Point
    radius: float


Piece = ArcPiece | Ellipse | Circle | Curves | Fit | Ring
Disguise = Callable[[Hole, random.Random], list[Piece]]


def plate(number: int) -> Plate:
    """A plate of 5 mm to 3 m with one to six holes, by number."""
    rng = random.Random(number)
    width = 5 * 600 ** rng.random()
    height = width * rng.uniform(0.5, 1)
    columns, rows = rng.randint(1, 3), rng.randint(1, 2)
    pitch_x, pitch_y = width / columns, height / rows
    holes = []
    for i in range(columns * rows):
        most = 0.6 * min(pitch_x, pitch_y)
        diameter = most * rng.uniform(0.1, 1) if rng.random() < 0.7 else min(most, rng.uniform(1, 30))
        x, y = pitch_x * (i % columns + 0.5), pitch_y * (i // columns + 0.5)
        holes.append(Hole(x, y, max(min(diameter, 600), 0.5)))
    return Plate(width, height, tuple(holes))


# ------------------------------------------------------------------------------------- the disguises


def plain(hole: Hole, _: random.Random) -> list[Piece]:
    return [Circle((hole.x, hole.y), hole.radius)]


def half_arcs(hole: Hole, rng: random.Random) -> list[Piece]:
    """Two half arcs, the second a hair away from the first."""
    turn, away = rng.uniform(0, 2 * math.pi), rng.uniform(0, 2 * math.pi)
    off = hole.hair * math.cos(away), hole.hair * math.sin(away)
    return [
        ArcPiece((hole.x, hole.y), hole.radius, turn, turn + math.pi),
        ArcPiece((hole.x + off[0], hole.y + off[1]), hole.radius, turn + math.pi, turn + 2 * math.pi),
    ]


def nearly_all_round(hole: Hole, rng: random.Random) -> list[Piece]:
    """An arc of 359.99 degrees."""
    turn = rng.uniform(0, 2 * math.pi)
    return [ArcPiece((hole.x, hole.y), hole.radius, turn, turn + math.radians(359.99))]


def uneven(hole: Hole, rng: random.Random) -> list[Piece]:
    """An ellipse by a millionth, or by a hair."""
    off = rng.choice([hole.radius * 1e-6, hole.hair / 2])
    return [Ellipse((hole.x, hole.y), hole.radius + off, hole.radius - off)]


def four_curves(hole: Hole, rng: random.Random) -> list[Piece]:
    """Four cubic quarters with the usual handles of 0.5523 radii, which stray by 2.7e-4 radii."""
    turn, k, r = rng.uniform(0, 2 * math.pi), 4 / 3 * (math.sqrt(2) - 1), hole.radius
    spans = []
    for i in range(4):
        a, b = turn + i * math.pi / 2, turn + (i + 1) * math.pi / 2
        p, q = hole.at(a), hole.at(b)
        handle = p[0] - k * r * math.sin(a), p[1] + k * r * math.cos(a)
        back = q[0] + k * r * math.sin(b), q[1] - k * r * math.cos(b)
        spans.append((p, handle, back, q))
    return [Curves(tuple(spans))]


def fitted_spline(hole: Hole, rng: random.Random) -> list[Piece]:
    """A spline through points all around; more on a large hole, where the open seam would show."""
    count = rng.randint(24, 60) + 2 * round(math.sqrt(hole.radius) * 2)
    turn = rng.uniform(0, 2 * math.pi)
    return [Fit(tuple(hole.at(turn + 2 * math.pi * i / count) for i in range(count)))]


def _fewest_sides(radius: float) -> int:
    """So many that they bow by no more than nine tenths of the tolerance, twelve at least."""
    return max(math.ceil(math.pi / math.acos(1 - min(0.9 * TOLERANCE / radius, 1))), 12)


def sides(hole: Hole, rng: random.Random) -> list[Piece]:
    """A regular polygon with its corners on the circle."""
    count, turn = _fewest_sides(hole.radius), rng.uniform(0, 2 * math.pi)
    count = rng.randint(count, 2 * count)
    return [Ring(tuple(hole.at(turn + 2 * math.pi * i / count) for i in range(count)))]


def short_lines(hole: Hole, rng: random.Random) -> list[Piece]:
    """Many lines of uneven length, each an entity of its own, written to three decimals."""
    count = 2 * _fewest_sides(hole.radius)
    angles = [2 * math.pi * (i + rng.uniform(0, 0.9)) / count for i in range(count)]
    return [Ring(tuple((round(x, 3), round(y, 3)) for x, y in map(hole.at, angles)), loose=True)]


def doubled(hole: Hole, rng: random.Random) -> list[Piece]:
    """The circle, and again a hair away: as a circle, as two halves, or as short lines."""
    away = rng.uniform(0, 2 * math.pi)
    again = Hole(hole.x + hole.hair * math.cos(away), hole.y + hole.hair * math.sin(away), hole.diameter)
    way = rng.choice([plain, plain, half_arcs_exact, short_lines_near])
    return [*plain(hole, rng), *way(again if way is plain else hole, rng)]


def half_arcs_exact(hole: Hole, _: random.Random) -> list[Piece]:
    return [ArcPiece((hole.x, hole.y), hole.radius, a, a + math.pi) for a in (0.3, 0.3 + math.pi)]


def short_lines_near(hole: Hole, _: random.Random) -> list[Piece]:
    count = 2 * _fewest_sides(hole.radius)
    return [Ring(tuple(hole.at(2 * math.pi * i / count) for i in range(count)), loose=True)]


def pieces(hole: Hole, rng: random.Random) -> list[Piece]:
    """Arcs one after the other, each about a slightly different centre and of a slightly different radius."""
    count = rng.randint(3, 6)
    stops = sorted(rng.uniform(0.2, 0.8) + 2 * math.pi * i / count for i in range(count))
    off = hole.hair / 4

    def one(start: float, end: float) -> Piece:
        centre = hole.x + rng.uniform(-off, off), hole.y + rng.uniform(-off, off)
        return ArcPiece(centre, hole.radius + rng.uniform(-off, off), start, end)

    return [one(a, b) for a, b in pairwise([*stops, stops[0] + 2 * math.pi])]


DISGUISES: tuple[Disguise, ...] = (
    half_arcs, nearly_all_round, uneven, four_curves, fitted_spline, sides, short_lines, doubled, pieces,
)  # fmt: skip


# ------------------------------------------------------------------------------------- files


def as_dxf(drawn: Plate, disguise: Disguise, number: int) -> bytes:
    """The plate with every hole in one disguise, by ezdxf."""
    rng = random.Random(number)
    made, space = document()
    corners = [(0, 0), (drawn.width, 0), (drawn.width, drawn.height), (0, drawn.height)]
    space.add_lwpolyline(corners, close=True)
    for hole in drawn.holes:
        for piece in disguise(hole, rng):
            _put(space, piece)
    return data(made)


def _put(space: Modelspace, piece: Piece) -> None:
    if isinstance(piece, ArcPiece):
        space.add_arc(piece.centre, piece.radius, math.degrees(piece.start), math.degrees(piece.end))
    elif isinstance(piece, Ellipse):
        space.add_ellipse(piece.centre, (piece.rx, 0), piece.ry / piece.rx)
    elif isinstance(piece, Circle):
        space.add_circle(piece.centre, piece.radius)
    else:
        _put_many(space, piece)


def _put_many(space: Modelspace, piece: Curves | Fit | Ring) -> None:
    if isinstance(piece, Curves):
        for span in piece.spans:
            space.add_open_spline(span, degree=3)
    elif isinstance(piece, Fit):
        space.add_spline([*piece.points, piece.points[0]], degree=3)
    elif piece.loose:
        for a, b in pairwise((*piece.points, piece.points[0])):
            space.add_line(a, b)
    else:
        space.add_lwpolyline(piece.points, close=True)


def as_svg(drawn: Plate, disguise: Disguise, number: int) -> bytes:
    """The plate with every hole in one disguise, as SVG of one unit a millimetre."""
    rng = random.Random(number)
    w, h = drawn.width, drawn.height
    body = [f'<rect width="{w!r}" height="{h!r}"/>']
    for hole in drawn.holes:
        body += [svg_element(each) for piece in disguise(hole, rng) for each in _elements(piece)]
    head = f'width="{w!r}mm" height="{h!r}mm" viewBox="0 0 {w!r} {h!r}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{"".join(body)}</svg>'.encode()


def svg_element(d: str) -> str:
    return d if d.startswith("<") else f'<path fill="none" stroke="black" d="{d}"/>'


def _elements(piece: Piece) -> Iterator[str]:
    if isinstance(piece, ArcPiece):
        yield _arc(piece)
    elif isinstance(piece, Ellipse):
        (x, y), rx, ry = piece.centre, piece.rx, piece.ry
        yield f'<ellipse cx="{x!r}" cy="{y!r}" rx="{rx!r}" ry="{ry!r}" fill="none" stroke="black"/>'
    elif isinstance(piece, Circle):
        (x, y), r = piece.centre, piece.radius
        yield f'<circle cx="{x!r}" cy="{y!r}" r="{r!r}" fill="none" stroke="black"/>'
    else:
        yield from _many(piece)


def _many(piece: Curves | Fit | Ring) -> Iterator[str]:
    if isinstance(piece, Curves):
        ends = "".join(f"C{_said(b)} {_said(c)} {_said(d)}" for _, b, c, d in piece.spans)
        yield f"M{_said(piece.spans[0][0])}{ends}Z"
    elif isinstance(piece, Fit):
        spline = ezdxf.math.global_bspline_interpolation([*piece.points, piece.points[0]])
        spans = [[(p.x, p.y) for p in span] for span in spline.bezier_decomposition()]
        yield f"M{_said(spans[0][0])}" + "".join(f"C{_said(b)} {_said(c)} {_said(d)}" for _, b, c, d in spans) + "Z"
    elif piece.loose:
        yield from (f"M{_said(a)}L{_said(b)}" for a, b in pairwise((*piece.points, piece.points[0])))
    else:
        yield f"M{'L'.join(map(_said, piece.points))}Z"


def _arc(piece: ArcPiece) -> str:
    """Counter-clockwise as the drawing has it is the sweep flag 1 in a frame with y down; it is a circle either way."""
    (x, y), r = piece.centre, piece.radius
    start, end = ((x + r * math.cos(a), y + r * math.sin(a)) for a in (piece.start, piece.end))
    large = int(piece.end - piece.start > math.pi)
    return f"M{_said(start)}A{r!r} {r!r} 0 {large} 1 {_said(end)}"


def _said(p: Point) -> str:
    return f"{p[0]!r} {p[1]!r}"
