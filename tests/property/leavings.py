"""Leavings of drawing by hand: random parts with gaps, overlaps, doubles, tails and steps of a given size in them.

Each part is lines and arcs end to end; what is done to it moves no point of it by more than the size.
"""

import math
import random
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
    """Outlines as closed chains of edges; `loose` are drawn as an entity each, others as one polyline; and extra lines."""

    rings: list[list[Edge]]
    loose: bool
    extra: list[Edge]
    process: str
    thickness: float


LEAVINGS = ("gap", "short", "overrun", "double", "part", "again", "tail", "stray", "spike", "step", "repeat")


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


def leave(drawn: Drawn, kind: str, size: float, rng: random.Random) -> Drawn:
    """The drawing with one leaving of a kind and a size, mm."""
    rings, extra = [list(ring) for ring in drawn.rings], list(drawn.extra)
    ring = rings[rng.randrange(len(rings))]
    k = rng.randrange(len(ring))
    edge = ring[k]
    off = _polar(size, rng.uniform(0, 2 * math.pi))
    loose = drawn.loose or kind in ("gap", "short", "overrun")
    if kind == "gap":
        ring[k] = replace(edge, b=_plus(edge.b, off))
    elif kind in ("short", "overrun"):
        k = _a_line(ring, k)
        edge = ring[k]
        ring[k] = replace(edge, b=_along(edge, 1 + (size if kind == "overrun" else -size) / math.dist(edge.a, edge.b)))
    elif kind == "double":
        extra.append(replace(edge, a=_plus(edge.a, off), b=_plus(edge.b, off)))
    elif kind == "part" and not edge.bulge:
        first, last = sorted(rng.uniform(0, 1) for _ in range(2))
        if (last - first) * math.dist(edge.a, edge.b) > 4 * size:
            extra.append(Edge(_plus(_along(edge, first), off), _plus(_along(edge, last), off)))
    elif kind == "again":
        extra += [replace(e, a=_plus(e.a, off), b=_plus(e.b, off)) for e in ring]
    elif kind == "tail":
        extra.append(Edge(edge.a, _plus(edge.a, off)))
    elif kind == "stray":
        at = _plus(_along(edge, 0.5), _polar(rng.uniform(0, 3 * size), rng.uniform(0, 6)))
        extra.append(Edge(at, _plus(at, off)))
    elif kind == "spike":
        ring[k : k + 1] = [edge, Edge(edge.b, _plus(edge.b, off)), Edge(_plus(edge.b, off), edge.b)]
    elif kind == "step" and not edge.bulge:
        (ux, uy), middle = _unit(edge), _along(edge, rng.uniform(0.3, 0.7))
        beside = middle[0] - uy * size, middle[1] + ux * size
        end = edge.b[0] - uy * size, edge.b[1] + ux * size
        ring[k : k + 1] = [Edge(edge.a, middle), Edge(middle, beside), Edge(beside, end), Edge(end, edge.b)]
    elif kind == "repeat":
        ring[k : k + 1] = [replace(edge, b=_plus(edge.b, off)), Edge(_plus(edge.b, off), edge.b)]
    return replace_rings(drawn, rings, extra, loose)


def replace_rings(drawn: Drawn, rings: list[list[Edge]], extra: list[Edge], loose: bool) -> Drawn:
    return Drawn(rings, loose, extra, drawn.process, drawn.thickness)


def _a_line(ring: list[Edge], k: int) -> int:
    """The first line from an edge on; an edge itself where there is none."""
    return next(((k + i) % len(ring) for i in range(len(ring)) if not ring[(k + i) % len(ring)].bulge), k)


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
