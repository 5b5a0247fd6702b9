"""Mounting: a shape cut out of a plate, set in a frame, on a bar or on a stake, and given holes to hang it by.

Everything is metal in mm. Holes are told apart from the rest, so that they stay true circles whatever is smoothed.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from parts.artwork import FLAT_MM, Metal, disc, metal_from
from parts.geometry import Point
from parts.tracing.settings import ROUND, Tracing

_POINT = 0.3  # of a stake's width, how wide its blunt point is: a sharp one melts round
_TAPER = 1.5  # of its width, how long its point is
_EDGE = 1.0  # of a hole's diameter, how much metal is left around it: common practice


@dataclass(frozen=True, slots=True)
class Mounted:
    """A shape on what holds it: the metal with its holes, and the hanging holes by their centres."""

    metal: Metal
    holes: tuple[Point, ...]


def mounted(figure: Metal, p: Tracing) -> Mounted:
    """Return a shape in mm set as asked, with its holes."""
    holes, made = _holes(_SET[p.mount](figure, p), p)
    discs = [disc(at, p.hole / 2) for at in holes]
    cut = shapely.difference(made, shapely.union_all(discs)) if discs else made
    return Mounted(metal_from(cut), tuple(holes))


def rounded(box: tuple[float, float, float, float], radius: float) -> BaseGeometry:
    """Return a rectangle with rounded corners; the radius at most half of its shorter side."""
    x0, y0, x1, y1 = box
    r = min(radius, (x1 - x0) / 2, (y1 - y0) / 2)
    if r <= FLAT_MM:
        return shapely.box(x0, y0, x1, y1)
    corners = [disc((x, y), r) for x in (x0 + r, x1 - r) for y in (y0 + r, y1 - r)]
    return shapely.union_all(corners).convex_hull


def _bare(figure: Metal, _: Tracing) -> BaseGeometry:
    return figure


def _plate(figure: Metal, p: Tracing) -> BaseGeometry:
    return shapely.difference(_around(figure, p.margin, p), figure)


def _frame(figure: Metal, p: Tracing) -> BaseGeometry:
    inner: BaseGeometry = _around(figure, p.margin, p)
    outer: BaseGeometry
    x0, y0, x1, y1 = inner.bounds
    if p.stands and p.shape != ROUND:
        y0 = figure.bounds[1] + p.sink
        inner = rounded((x0, y0, x1, y1), p.corner)
    b = p.band
    if p.shape == ROUND:
        outer = disc(((x0 + x1) / 2, (y0 + y1) / 2), (x1 - x0) / 2 + b)
    else:
        outer = rounded((x0 - b, y0 - b, x1 + b, y1 + b), p.corner + b if p.corner else 0.0)
    return shapely.union_all([shapely.difference(outer, inner), figure])


def _around(figure: Metal, margin: float, p: Tracing) -> BaseGeometry:
    x0, y0, x1, y1 = figure.bounds
    if p.shape == ROUND:
        circle = shapely.minimum_bounding_circle(figure)
        return disc((circle.centroid.x, circle.centroid.y), shapely.minimum_bounding_radius(figure) + margin)
    return rounded((x0 - margin, y0 - margin, x1 + margin, y1 + margin), p.corner)


def _bar(figure: Metal, p: Tracing) -> BaseGeometry:
    return shapely.union_all([figure, shapely.box(*_bar_box(figure, p))])


def _bar_box(figure: Metal, p: Tracing) -> tuple[float, float, float, float]:
    x0, y0, x1, _ = figure.bounds
    return x0, y0 + p.sink - p.bar, x1, y0 + p.sink


def _stake(figure: Metal, p: Tracing) -> BaseGeometry:
    x0, low, x1, _ = _bar_box(figure, p)
    half, x = p.stake_width / 2, (x0 + x1) / 2
    foot, tip = low - p.stake, _POINT * half
    shoulder = foot + min(_TAPER * p.stake_width, p.stake)
    post = shapely.Polygon([
        (x - half, low + p.bar / 2), (x - half, shoulder), (x - tip, foot), (x + tip, foot), (x + half, shoulder),
        (x + half, low + p.bar / 2),
    ])  # fmt: skip
    return shapely.union_all([_bar(figure, p), post])


_SET: Mapping[str, Callable[[Metal, Tracing], BaseGeometry]] = {
    "none": _bare, "plate": _plate, "frame": _frame, "bar": _bar, "stake": _stake,
}  # fmt: skip


def _holes(made: BaseGeometry, p: Tracing) -> tuple[list[Point], BaseGeometry]:
    """Where the holes are, and the metal with ears for them where it has no room of its own."""
    if not p.holes:
        return [], made
    if p.mount == "frame":
        return _in_band(made.bounds, p.band / 2, p), made
    if p.mount == "plate":
        inset = max(p.margin / 2, (0.5 + _EDGE) * p.hole)
        return _in_band(made.bounds, inset, p), made
    holes = _on_top(made, p)
    ears = [disc(at, (0.5 + _EDGE) * p.hole) for at in holes]
    return holes, shapely.union_all([made, *ears])


def _in_band(box: tuple[float, float, float, float], inset: float, p: Tracing) -> list[Point]:
    """Holes in a band along the edge: at the top, then at the foot; of a round one evenly about the top."""
    x0, y0, x1, y1 = box
    if p.shape == ROUND:
        x, y, r = (x0 + x1) / 2, (y0 + y1) / 2, (x1 - x0) / 2 - inset
        step = 2 * math.pi / p.holes if p.holes > 2 else math.pi / 2
        first = math.pi / 2 + (step / 2 if p.holes % 2 == 0 else 0.0)
        return [(x + r * math.cos(first + i * step), y + r * math.sin(first + i * step)) for i in range(p.holes)]
    radius = p.corner + (p.band if p.mount == "frame" and p.corner else 0.0)
    inset = radius - (radius - inset) * math.sqrt(0.5) if radius > inset else inset  # halfway round the corner
    left, right, top, foot, middle = x0 + inset, x1 - inset, y1 - inset, y0 + inset, (x0 + x1) / 2
    places: Mapping[int, list[Point]] = {
        1: [(middle, top)],
        2: [(left, top), (right, top)],
        3: [(left, top), (right, top), (middle, foot)],
        4: [(left, top), (right, top), (left, foot), (right, foot)],
    }
    return places[p.holes]


def _on_top(made: BaseGeometry, p: Tracing) -> list[Point]:
    """Holes in ears on the metal's upper edge, evenly across; a single one above its centre of gravity."""
    x0, y0, x1, y1 = made.bounds
    found = []
    for i in range(p.holes):
        x = x0 + (x1 - x0) * (i + 0.5) / p.holes if p.holes > 1 else made.centroid.x
        strip = shapely.intersection(made, shapely.box(x - p.hole, y0, x + p.hole, y1))
        top = strip.bounds[3] if not strip.is_empty else y1
        found.append((x, top + 0.25 * p.hole))
    return found


def placed(metal: Metal, scale: float, corner: Point = (0.0, 0.0)) -> Metal:
    """Return metal `scale` times as large about the origin, then moved so that `corner` (once scaled) is there."""
    large = affinity.scale(metal, scale, scale, origin=(0, 0))
    return affinity.translate(large, -corner[0], -corner[1])
