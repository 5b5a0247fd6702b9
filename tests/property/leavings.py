"""Leavings of drawing by hand: random parts with gaps, overlaps, doubles, tails and steps of a given size in them.

Each part is lines and arcs end to end; what is done to it moves no point of it by more than the size.
"""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise

from tests.files.foreign import data, document

Point = tuple[float, float]


@dataclass(frozen=True)
class Edge:
    """A line or, with a bulge, an arc."""

    a: Point
    b: Point
    bulge: float = 0.0


@dataclass
class Drawn:
    """Outlines as closed chains of edges, an entity each where `loose`, else a polyline a chain; and extra lines."""

    rings: list[list[Edge]]
    loose: bool
    extra: list[Edge]
    process: str
    thickness: float


def clean(number: int) -> Drawn:
    """A part of 5 mm to 3 m by number: an outline with chamfers or fillets, round holes, slots and windows."""
    rng = random.Random(number)
    width = 5 * 600 ** rng.random()
    height = width * rng.uniform(0.4, 1)
    corner = rng.choice([0, 0, 0.15]) * min(width, height)
    rings = [_rectangle((0, 0), width, height, corner, rng.random() < 0.5)]
    cells = rng.randint(1, 3)
    for i in range(cells):
        w, h = width / cells, height
        x, y = w * (i + 0.5), h / 2
        size = min(w, h) * rng.uniform(0.25, 0.55)
        rings.append(_opening(rng.choice(["hole", "slot", "window"]), x, y, size))
    process, thickness = ("laser", 1.0) if width < 60 else rng.choice([("air-plasma", 6.0), ("waterjet", 10.0)])
    return Drawn(rings, rng.random() < 0.6, [], process, thickness)


def _rectangle(at: Point, w: float, h: float, corner: float, is_round: bool) -> list[Edge]:
    x, y = at
    if not corner:
        return _closed([(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
    c = corner
    points = [
        (x + c, y), (x + w - c, y), (x + w, y + c), (x + w, y + h - c),
        (x + w - c, y + h), (x + c, y + h), (x, y + h - c), (x, y + c),
    ]  # fmt: skip
    bulge = math.tan(math.pi / 8) if is_round else 0.0
    return [replace(edge, bulge=bulge if i % 2 else 0.0) for i, edge in enumerate(_closed(points))]


def _opening(kind: str, x: float, y: float, size: float) -> list[Edge]:
    r = size / 2
    if kind == "hole":
        return [Edge((x - r, y), (x + r, y), 1.0), Edge((x + r, y), (x - r, y), 1.0)]
    if kind == "window":
        return _rectangle((x - r, y - r * 0.7), size, size * 0.7, 0, False)
    q = r * 0.4
    points = [(x - r + q, y - q), (x + r - q, y - q), (x + r - q, y + q), (x - r + q, y + q)]
    return [replace(edge, bulge=float(i % 2)) for i, edge in enumerate(_closed(points))]


def _closed(points: list[Point]) -> list[Edge]:
    return [Edge(a, b) for a, b in pairwise([*points, points[0]])]


@dataclass
class Place:
    """A drawing being spoilt: the chain and the edge of it that was chosen, the size, and an offset of that size."""

    drawn: Drawn
    ring: list[Edge]
    k: int
    size: float
    off: Point
    rng: random.Random

    @property
    def edge(self) -> Edge:
        return self.ring[self.k]

    def put(self, *edges: Edge) -> None:
        """Put edges in place of the chosen one."""
        self.ring[self.k : self.k + 1] = edges


def _gap(at: Place) -> None:
    at.drawn.loose = True
    at.put(replace(at.edge, b=_plus(at.edge.b, at.off)))


def _longer(at: Place, by: float) -> None:
    at.drawn.loose = True
    if not at.edge.bulge:
        at.put(replace(at.edge, b=_along(at.edge, 1 + by / math.dist(at.edge.a, at.edge.b))))


def _double(at: Place) -> None:
    at.drawn.extra.append(_shifted(at.edge, at.off))


def _part(at: Place) -> None:
    first, last = sorted(at.rng.uniform(0, 1) for _ in range(2))
    if not at.edge.bulge and (last - first) * math.dist(at.edge.a, at.edge.b) > 4 * at.size:
        at.drawn.extra.append(_shifted(Edge(_along(at.edge, first), _along(at.edge, last)), at.off))


def _again(at: Place) -> None:
    at.drawn.extra += [_shifted(edge, at.off) for edge in at.ring]


def _tail(at: Place) -> None:
    at.drawn.extra.append(Edge(at.edge.a, _plus(at.edge.a, at.off)))


def _stray(at: Place) -> None:
    start = _plus(_along(at.edge, 0.5), _polar(at.rng.uniform(0, 3 * at.size), at.rng.uniform(0, 6)))
    at.drawn.extra.append(Edge(start, _plus(start, at.off)))


def _spike(at: Place) -> None:
    tip = _plus(at.edge.b, at.off)
    at.put(at.edge, Edge(at.edge.b, tip), Edge(tip, at.edge.b))


def _step(at: Place) -> None:
    if not at.edge.bulge:
        (ux, uy), middle = _unit(at.edge), _along(at.edge, at.rng.uniform(0.3, 0.7))
        beside, end = (_plus(p, (-uy * at.size, ux * at.size)) for p in (middle, at.edge.b))
        at.put(Edge(at.edge.a, middle), Edge(middle, beside), Edge(beside, end), Edge(end, at.edge.b))


def _repeat(at: Place) -> None:
    beside = _plus(at.edge.b, at.off)
    at.put(replace(at.edge, b=beside), Edge(beside, at.edge.b))


LEAVINGS: dict[str, Callable[[Place], None]] = {
    "gap": _gap,
    "short": lambda at: _longer(at, -at.size),
    "overrun": lambda at: _longer(at, at.size),
    "double": _double,
    "part of a double": _part,
    "outline again": _again,
    "tail": _tail,
    "stray": _stray,
    "spike": _spike,
    "step": _step,
    "doubled corner": _repeat,
}


def leave(drawn: Drawn, kind: str, size: float, rng: random.Random) -> Drawn:
    """The drawing with one leaving of a kind and a size, mm."""
    spoilt = replace(drawn, rings=[list(ring) for ring in drawn.rings], extra=list(drawn.extra))
    ring = rng.choice(spoilt.rings)
    off = _polar(size, rng.uniform(0, 2 * math.pi))
    LEAVINGS[kind](Place(spoilt, ring, rng.randrange(len(ring)), size, off, rng))
    return spoilt


def _shifted(edge: Edge, off: Point) -> Edge:
    return replace(edge, a=_plus(edge.a, off), b=_plus(edge.b, off))


def _polar(r: float, angle: float) -> Point:
    return r * math.cos(angle), r * math.sin(angle)


def _plus(a: Point, b: Point) -> Point:
    return a[0] + b[0], a[1] + b[1]


def _along(edge: Edge, t: float) -> Point:
    return edge.a[0] + t * (edge.b[0] - edge.a[0]), edge.a[1] + t * (edge.b[1] - edge.a[1])


def _unit(edge: Edge) -> Point:
    length = math.dist(edge.a, edge.b)
    return (edge.b[0] - edge.a[0]) / length, (edge.b[1] - edge.a[1]) / length


def as_dxf(drawn: Drawn) -> bytes:
    """The drawing by ezdxf."""
    made, space = document()
    for ring in drawn.rings:
        if drawn.loose:
            for edge in ring:
                space.add_lwpolyline([(*edge.a, edge.bulge), (*edge.b, 0.0)], format="xyb")
        else:
            space.add_lwpolyline([(*edge.a, edge.bulge) for edge in ring], format="xyb", close=True)
    for edge in drawn.extra:
        if edge.bulge:
            space.add_lwpolyline([(*edge.a, edge.bulge), (*edge.b, 0.0)], format="xyb")
        else:
            space.add_line(edge.a, edge.b)
    return data(made)
