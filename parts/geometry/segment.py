"""A segment: one straight line or one circular arc between two points.

Lengths are mm, angles radians. A segment has a direction, from `start` to `end`; its *left* is what
lies to the left of someone walking it. An arc is kept as start, end and *bulge*, the tangent of a
quarter of its sweep, positive when it turns left (counter-clockwise); centre and radius follow from
these three, so they can't contradict them. A full circle is two arcs.
"""

import itertools
import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypeAlias

from parts.errors import GeometryError
from parts.geometry.lazy import lazy
from parts.tolerance import SAME_POINT_MM

Point: TypeAlias = tuple[float, float]
Box: TypeAlias = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


distance = math.dist
"""The distance between two points; to the last bit `math.hypot` of what is between them."""


def cross(ax: float, ay: float, bx: float, by: float) -> float:
    """Return the cross product of two vectors: positive when b points to the left of a."""
    return ax * by - ay * bx


@dataclass(frozen=True, init=False)
class Line:
    """A straight segment; `length` is in mm."""

    start: Point
    end: Point
    length: float = field(init=False, repr=False, compare=False)

    def __init__(self, start: Point, end: Point) -> None:  # a drawing makes thousands: in a third of the time
        facts = self.__dict__
        facts["start"], facts["end"] = start, end
        facts["length"] = math.hypot(end[0] - start[0], end[1] - start[1])

    @property
    def swept_area(self) -> float:
        """Signed area in mm² between the segment and the origin; summed over a loop, the loop's area."""
        (ax, ay), (bx, by) = self.start, self.end
        return (ax * by - ay * bx) / 2

    @lazy
    def box(self) -> Box:
        """The bounding box of the segment."""
        (ax, ay), (bx, by) = self.start, self.end
        x0, x1 = (bx, ax) if bx < ax else (ax, bx)  # `min` and `max` take three times as long
        y0, y1 = (by, ay) if by < ay else (ay, by)
        return x0, y0, x1, y1

    @lazy
    def heading(self) -> Point:
        """Unit vector from start to end."""
        (ax, ay), (bx, by), length = self.start, self.end, self.length
        return (bx - ax) / length, (by - ay) / length

    @property
    def heading_at_start(self) -> Point:
        """Unit direction of travel at the start."""
        return self.heading

    @property
    def heading_at_end(self) -> Point:
        """Unit direction of travel at the end."""
        return self.heading

    @property
    def curvature(self) -> float:
        """Zero: a line doesn't turn."""
        return 0.0

    def at(self, fraction: float) -> Point:
        """Return the point at `fraction` of the length, 0 at the start."""
        (ax, ay), (bx, by) = self.start, self.end
        return ax + fraction * (bx - ax), ay + fraction * (by - ay)

    def nearest(self, p: Point) -> Point:
        """Return the point of the segment nearest to `p`."""
        (ax, ay), (ux, uy) = self.start, self.heading
        along = (p[0] - ax) * ux + (p[1] - ay) * uy
        if along <= 0:
            return self.start
        return self.end if along >= self.length else (ax + along * ux, ay + along * uy)

    def fraction_of(self, p: Point) -> float:
        """Return how far along the segment a point of its whole line is, 0 at the start and 1 at the end."""
        (ax, ay), (ux, uy) = self.start, self.heading
        return ((p[0] - ax) * ux + (p[1] - ay) * uy) / self.length

    def crossings_right_of(self, p: Point) -> int:
        """Count where the ray from `p` to the right crosses; an end counts on its lower side only."""
        (ax, ay), (bx, by) = self.start, self.end
        if (ay > p[1]) == (by > p[1]):
            return 0
        return int(ax + (p[1] - ay) * (bx - ax) / (by - ay) > p[0])

    def reversed(self) -> "Line":
        """Return the same segment walked the other way."""
        return Line(self.end, self.start)


@dataclass(frozen=True, init=False)
class Arc:
    """A circular segment of less than a full turn; `chord` is the distance from start to end in mm.

    Raises:
        GeometryError: if start and end are one point, or the bulge is zero or not finite.
    """

    start: Point
    end: Point
    bulge: float
    chord: float = field(init=False, repr=False, compare=False)

    def __init__(self, start: Point, end: Point, bulge: float) -> None:  # as of a line
        chord = math.hypot(end[0] - start[0], end[1] - start[1])
        if not math.isfinite(bulge) or bulge == 0 or chord <= SAME_POINT_MM:
            raise GeometryError(
                f"An arc needs two different ends and a bulge other than zero, not {start}, {end} and {bulge}."
            )
        facts = self.__dict__
        facts["start"], facts["end"], facts["bulge"], facts["chord"] = start, end, bulge, chord

    @lazy
    def sweep(self) -> float:
        """Angle turned through, positive to the left, between -2 pi and 2 pi."""
        return 4 * math.atan(self.bulge)

    @lazy
    def radius(self) -> float:
        """Radius in mm: chord (1 + b²) / 4|b|, by the half-angle formulas."""
        return self.chord * (1 + self.bulge**2) / (4 * abs(self.bulge))

    @lazy
    def centre(self) -> Point:
        """Centre: from the middle of the chord, chord (1 - b²) / 4b to the left."""
        (ax, ay), (bx, by), b = self.start, self.end, self.bulge
        k = (1 - b * b) / (4 * b)
        return (ax + bx) / 2 - k * (by - ay), (ay + by) / 2 + k * (bx - ax)

    @lazy
    def length(self) -> float:
        """Length in mm."""
        return self.radius * abs(self.sweep)

    @property
    def swept_area(self) -> float:
        """Signed area in mm² as for a line, with the cap between chord and arc: r² (s - sin s) / 2.

        On a shallow arc that is a small difference of large numbers, so there its series in the bulge is
        taken: the first term left out is 1e-14 of the cap.
        """
        b = self.bulge
        if abs(b) < 0.01:
            cap = self.chord**2 * (b / 3 + b**3 / 15 - b**5 / 105)
        else:
            cap = self.radius**2 * (self.sweep - math.sin(self.sweep)) / 2
        (ax, ay), (bx, by) = self.start, self.end
        return (ax * by - ay * bx) / 2 + cap

    @lazy
    def box(self) -> Box:
        """The bounding box of the arc."""
        (ax, ay), (bx, by), (cx, cy), r = self.start, self.end, self.centre, self.radius
        x0, x1 = (bx, ax) if bx < ax else (ax, bx)
        y0, y1 = (by, ay) if by < ay else (ay, by)
        quarters: tuple[Point, ...] = ()
        # up to half a turn, an arc with its outermost point between its ends has one of them to each side of it
        if (ay - cy) * (by - cy) <= 0 or abs(self.bulge) > 1:
            quarters = (cx + r, cy), (cx - r, cy)
        if (ax - cx) * (bx - cx) <= 0 or abs(self.bulge) > 1:
            quarters += (cx, cy + r), (cx, cy - r)
        for x, y in quarters:
            if not (x0 <= x <= x1 and y0 <= y <= y1) and self.covers((x, y)):
                x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
        return x0, y0, x1, y1

    @lazy
    def heading_at_start(self) -> Point:
        """Unit direction of travel at the start."""
        return self.heading_at(self.start)

    @lazy
    def heading_at_end(self) -> Point:
        """Unit direction of travel at the end."""
        return self.heading_at(self.end)

    @lazy
    def curvature(self) -> float:
        """Turn per mm of travel, positive to the left."""
        return math.copysign(1 / self.radius, self.bulge)

    def heading_at(self, p: Point) -> Point:
        """Return the unit direction of travel at a point `p` of the arc."""
        (cx, cy), turn = self.centre, self.curvature
        return -(p[1] - cy) * turn, (p[0] - cx) * turn

    def at(self, fraction: float) -> Point:
        """Return the point at `fraction` of the length, 0 at the start.

        Reached from the start, not from the centre, which is far away on a shallow arc: the chord to it
        is 2 r sin of half its sweep, and stands off the whole chord by half of what is left to turn.
        """
        (ax, ay), (bx, by), half = self.start, self.end, self.sweep / 2
        scale = 2 * self.radius * math.sin(fraction * abs(half)) / self.chord
        turn = (fraction - 1) * half
        c, s = scale * math.cos(turn), scale * math.sin(turn)
        return ax + c * (bx - ax) - s * (by - ay), ay + s * (bx - ax) + c * (by - ay)

    def points(self, steps: int) -> list[Point]:
        """Return the points at equal steps, both ends among them: those of `at`, to the last bit, in less time."""
        (ax, ay), (bx, by), twice, chord = self.start, self.end, 2 * self.radius, self.chord
        dx, dy = bx - ax, by - ay
        found = []
        for sine, cos, sin in _steps_along(self.sweep / 2, steps):
            scale = twice * sine / chord
            c, s = scale * cos, scale * sin
            found.append((ax + c * dx - s * dy, ay + s * dx + c * dy))
        return found

    def covers(self, p: Point) -> bool:
        """Tell whether `p`, a point of the full circle, is on the arc.

        The arc is the part of its circle on one side of its chord: the right side when it turns left.
        Up to half a turn it also ends where the chord ends, which decides better on shallow arcs.
        """
        (ax, ay), (bx, by) = self.start, self.end
        ux, uy, px, py = bx - ax, by - ay, p[0] - ax, p[1] - ay
        slack = SAME_POINT_MM * self.chord
        left = ux * py - uy * px
        if (left if self.bulge > 0 else -left) > slack:
            return False
        along = ux * px + uy * py
        return abs(self.bulge) > 1 or -slack <= along <= self.chord**2 + slack

    def nearest(self, p: Point) -> Point:
        """Return the point of the arc nearest to `p`; the start, when `p` is the centre."""
        (cx, cy), away = self.centre, distance(self.centre, p)
        if away > SAME_POINT_MM:
            off = self.power(p) / (away + self.radius) / away
            foot = p[0] - (p[0] - cx) * off, p[1] - (p[1] - cy) * off
            if self.covers(foot):
                return foot
        return self.start if distance(self.start, p) <= distance(self.end, p) else self.end

    @lazy
    def to_centre(self) -> Point:
        """From the start to the centre."""
        (ax, ay), (bx, by), b = self.start, self.end, self.bulge
        k = (1 - b * b) / (4 * b)
        return (bx - ax) / 2 - k * (by - ay), (by - ay) / 2 + k * (bx - ax)

    def power(self, p: Point) -> float:
        """Return the power of a point: its distance from the centre squared less the radius squared.

        Taken from the start, so that nothing is lost where the centre is far away.
        """
        wx, wy = p[0] - self.start[0], p[1] - self.start[1]
        cx, cy = self.to_centre
        return wx * wx + wy * wy - 2 * (wx * cx + wy * cy)

    def crossings_right_of(self, p: Point) -> int:
        """Count where the ray from `p` to the right crosses; an end counts on its lower side only."""
        ay, by = self.start[1], self.end[1]
        # from the middle of the chord no point is further than half the chord, or than the bow where that is more
        if abs(p[1] - (ay + by) / 2) > max(1.0, abs(self.bulge)) * self.chord / 2 + SAME_POINT_MM:
            return 0
        return sum(
            (a[1] > p[1]) != (b[1] > p[1]) and self._is_left_of_piece(p, rises=b[1] > a[1])
            for a, b in self._rising_and_falling
        )

    @lazy
    def _rising_and_falling(self) -> tuple[tuple[Point, Point], ...]:
        """The arc's ends and its highest and lowest points, paired up in order of travel."""
        (cx, cy), r = self.centre, self.radius
        turns = [(self.fraction_of(q), q) for q in ((cx, cy + r), (cx, cy - r))]
        # one that is an end but for rounding may come out just before the start: a whole turn on
        stops = [self.start, *(q for fraction, q in sorted(turns) if 0 < fraction < 1), self.end]
        return tuple(itertools.pairwise(stops))

    def fraction_of(self, p: Point) -> float:
        """Return how far along the arc a point of its whole circle is, 0 at the start and 1 at the end."""
        (cx, cy), (ax, ay) = self.centre, self.start
        angle = math.atan2(
            cross(ax - cx, ay - cy, p[0] - cx, p[1] - cy),
            (ax - cx) * (p[0] - cx) + (ay - cy) * (p[1] - cy),
        )
        return math.copysign(1, self.bulge) * angle % (2 * math.pi) / abs(self.sweep)

    def _is_left_of_piece(self, p: Point, rises: bool) -> bool:
        """Whether `p` is to the left of a piece at its height that only rises or only falls.

        A left-turning arc rises on the right half of its circle and falls on the left half.
        """
        inside, left = self.power(p) < 0, p[0] < self.centre[0]
        on_right_half = rises == (self.bulge > 0)
        return left or inside if on_right_half else left and not inside

    def reversed(self) -> "Arc":
        """Return the same segment walked the other way."""
        made, known = object.__new__(Arc), self.__dict__  # as long as this one is: nothing to look at
        facts = made.__dict__
        facts["start"], facts["end"], facts["bulge"], facts["chord"] = self.end, self.start, -self.bulge, self.chord
        for name in _EITHER_WAY:
            if name in known:
                facts[name] = known[name]
        return made


Segment: TypeAlias = Line | Arc

_EITHER_WAY = ("radius", "centre", "length", "box")
"""What is the same, to the last bit, of an arc walked the other way."""


@lru_cache(maxsize=1024)
def _steps_along(half: float, steps: int) -> tuple[tuple[float, float, float], ...]:
    """At equal steps along an arc that turns twice as far, which arcs alike share: what `Arc.at` takes of angles."""
    fractions = [i / steps for i in range(steps + 1)]
    turns = [(fraction, (fraction - 1) * half) for fraction in fractions]
    return tuple((math.sin(fraction * abs(half)), math.cos(turn), math.sin(turn)) for fraction, turn in turns)
