"""Splines: a B-spline by degree, knots, control points and weights -> its Bezier spans, exactly.

The control points of the span between two knots are values of the spline's blossom: de Boor's scheme with
another argument at each step (L. Ramshaw, Blossoms are polar forms, 1989).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from parts.geometry import Point, distance
from parts.read.curve_kinds import Bezier

HIGHEST_DEGREE = 11

_Row = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class BSpline:
    """A B-spline as files give it; no weights stand for all of them 1."""

    degree: int
    knots: tuple[float, ...]
    points: tuple[Point, ...]
    weights: tuple[float, ...] = ()

    @property
    def is_sound(self) -> bool:
        """Whether the numbers belong together: knots in order and as many as there must be, weights above 0."""
        count = len(self.points)
        return (
            1 <= self.degree <= min(HIGHEST_DEGREE, count - 1)
            and len(self.knots) == count + self.degree + 1
            and all(a <= b for a, b in pairwise(self.knots))
            and self.knots[self.degree] < self.knots[count]
            and len(self.weights) in (0, count)
            and all(w > 0 for w in self.weights)
        )

    def spans(self) -> Iterator[Bezier]:
        """Yield the spans between knots in order, end to end but where a knot is so often there that it jumps."""
        weights = self.weights or (1.0,) * len(self.points)
        rows = [(x * w, y * w, w) for (x, y), w in zip(self.points, weights, strict=True)]
        last: Point | None = None
        for i in range(self.degree, len(self.points)):
            low, high = self.knots[i], self.knots[i + 1]
            if low < high:
                controls = [self._blossom(rows, i, j, low, high) for j in range(self.degree + 1)]
                points = [(x / w, y / w) for x, y, w in controls]
                if last is not None and self.knots[i - self.degree] < low:  # else it jumps here
                    points[0] = last  # the same but for rounding
                last = points[-1]
                yield Bezier(tuple(points), tuple(w for _, _, w in controls) if self.weights else ())

    def _blossom(self, rows: Sequence[_Row], i: int, highs: int, low: float, high: float) -> _Row:
        """The blossom of span `i` at `low`, and `high` in as many places as `highs`."""
        p, knots = self.degree, self.knots
        d = list(rows[i - p : i + 1])
        for r in range(1, p + 1):
            u = high if r <= highs else low
            for j in range(p, r - 1, -1):
                a, b = knots[j + i - p], knots[j + 1 + i - r]
                t = (u - a) / (b - a)
                (ax, ay, aw), (bx, by, bw) = d[j - 1], d[j]
                d[j] = ((1 - t) * ax + t * bx, (1 - t) * ay + t * by, (1 - t) * aw + t * bw)
        return d[p]


def through(points: Sequence[Point]) -> tuple[Bezier, ...]:
    """Return the natural cubic through the points: each span's parameter is its chord, no bend at the ends.

    The second derivatives follow from a tridiagonal system (any textbook of numerical analysis).
    """
    stops = [p for p, q in pairwise(points) if distance(p, q) > 0] + [points[-1]]
    h = [distance(p, q) for p, q in pairwise(stops)]
    if not h:
        return ()
    xs, ys = (_second_derivatives([p[k] for p in stops], h) for k in (0, 1))
    return tuple(_hermite(stops[i], stops[i + 1], (xs[i], ys[i]), (xs[i + 1], ys[i + 1]), h[i]) for i in range(len(h)))


def _second_derivatives(values: Sequence[float], h: Sequence[float]) -> list[float]:
    slopes = [(b - a) / width for (a, b), width in zip(pairwise(values), h, strict=True)]
    sides, rights = [0.0], [0.0]  # the eliminated system, row by row
    for i in range(1, len(h)):
        pivot = 2 * (h[i - 1] + h[i]) - h[i - 1] * sides[-1]
        rights.append((6 * (slopes[i] - slopes[i - 1]) - h[i - 1] * rights[-1]) / pivot)
        sides.append(h[i] / pivot)
    found = [0.0]
    for side, right in zip(reversed(sides), reversed(rights), strict=True):
        found.append(right - side * found[-1])
    return found[::-1]


def _hermite(p: Point, q: Point, m: Point, n: Point, h: float) -> Bezier:
    """The cubic from p to q in a parameter of length h with second derivatives m and n at its ends."""
    start = [(q[k] - p[k]) / h - h * (2 * m[k] + n[k]) / 6 for k in (0, 1)]
    end = [(q[k] - p[k]) / h + h * (m[k] + 2 * n[k]) / 6 for k in (0, 1)]
    return Bezier(
        (p, (p[0] + h * start[0] / 3, p[1] + h * start[1] / 3), (q[0] - h * end[0] / 3, q[1] - h * end[1] / 3), q)
    )
