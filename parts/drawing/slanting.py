"""Aligned dimensions: a straight distance at any angle, its dimension line beside it on whichever side is clear."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from parts.drawing.frame import Frame
from parts.drawing.kept import Way
from parts.drawing.lanes import Measure
from parts.drawing.primitives import Arrow, Group, Item, Path, Text, box_of, text_width
from parts.drawing.room import COST_PLACES, Occupancy
from parts.geometry import Line, Point, distance

LANES = 6
"""How many lanes to try on either side."""
OFF_MIDDLE = 0.3
"""Where along the line its lettering stands when another line crosses it in the middle."""


LONGER = 0.2
"""What a mm of its line costs, which is longer where its lettering stands further out."""
ON_INK = 4.0
"""How many times as much lettering on lines costs on a page, which has more room than paper, as there."""


@dataclass(frozen=True, slots=True)
class Slant:
    """One way to draw it: from `a` along the unit vector `u` for `length`, `off` to the left of that."""

    a: Point
    u: Point
    length: float
    off: float
    text: Text
    turned: bool
    reach: tuple[float, float]

    def point(self, along: float, across: float) -> Point:
        """Return the point so far along and to the left."""
        return _point(self.a, self.u, along, across)

    @property
    def line(self) -> Line:
        """The dimension line."""
        return Line(self.point(self.reach[0], self.off), self.point(self.reach[1], self.off))

    def extensions(self, frame: Frame) -> list[Line]:
        """Return its two extension lines."""
        way = math.copysign(1.0, self.off)
        gap, over = way * frame.sizes.gap, way * frame.sizes.overrun
        return [Line(self.point(at, gap), self.point(at, self.off + over)) for at in (0.0, self.length)]

    def items(self, frame: Frame) -> Iterator[Item]:
        """Yield its lines, its arrowheads and its lettering."""
        yield from (Path("dimension", (line,)) for line in (self.line, *self.extensions(frame)))
        (ux, uy), way = self.u, -1.0 if self.turned else 1.0
        yield Arrow(self.point(0.0, self.off), (-ux * way, -uy * way), frame.sizes.arrow)
        yield Arrow(self.point(self.length, self.off), (ux * way, uy * way), frame.sizes.arrow)
        yield self.text


def _point(a: Point, u: Point, along: float, across: float) -> Point:
    """The point so far along a unit vector from `a`, and to the left of that."""
    (x, y), (ux, uy) = a, u
    return x + ux * along - uy * across, y + uy * along + ux * across


def place(
    frame: Frame, room: Occupancy, measure: Measure, before: Way | None = None, *, crossed: bool = False
) -> Group:
    """Return the dimension where it costs least, having taken its room; `crossed` is whether another crosses it.

    Where it costs hardly more than `before`, it is the one that was taken then.
    """
    share = OFF_MIDDLE if crossed else 0.5
    best, way = _as_before(frame, room, measure, share, before) if before else (None, before)
    if not best:
        best, way = _cheapest(frame, room, measure, share)
    room.claim(best.text.outline)
    room.draw((best.line, *best.extensions(frame)), 1.0)
    return Group("dimension", tuple(best.items(frame)), measure.parameter, way=way)


def _as_before(frame: Frame, room: Occupancy, measure: Measure, share: float, before: Way) -> tuple[Slant | None, Way]:
    """The one of a former drawing, None where it would cost more than it may."""
    slant = next(islice(_slants(frame, measure, share), before.which, None), None)
    is_fit = slant is not None and _cost(frame, room, slant, before.most) < before.most
    return (slant if is_fit else None), before


def _cheapest(frame: Frame, room: Occupancy, measure: Measure, share: float) -> tuple[Slant, Way]:
    best, way = None, Way(0, math.inf)
    for which, slant in enumerate(_slants(frame, measure, share)):
        if abs(slant.off) >= way.cost:
            break  # what follows is no nearer
        cost = _cost(frame, room, slant, way.cost)
        if cost < way.cost:
            best, way = slant, Way(which, cost)
    assert best is not None  # noqa: S101 - the first costs less than no end
    return best, way


def _slants(frame: Frame, measure: Measure, share: float) -> Iterator[Slant]:
    a, b = measure.start, measure.end
    level = 1e-6 * distance(a, b)
    if b[0] < a[0] - level or (abs(b[0] - a[0]) <= level and b[1] < a[1]):
        a, b = b, a  # lettering runs to the right, or upward
    length, sizes = distance(a, b), frame.sizes
    u = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    width, turned = text_width(measure.text, sizes.text), length < 2.6 * sizes.arrow
    tail = 1.8 * sizes.arrow if turned else 0.0
    beyond = width / 2 + 1.5 * sizes.gap
    if width > 2 * share * length - sizes.gap:
        share = 0.5
    further = beyond + width + sizes.gap
    outside = [length + beyond, -beyond, length + further, -further]
    middles = [share * length] if width <= length - sizes.gap else outside
    for lane in range(LANES):
        for way in (1, -1):
            off = way * ((sizes.first_lane - (0.6 * sizes.text if way > 0 else 0.0)) + lane * sizes.lane)
            for middle in middles:
                low = min(-tail, middle - width / 2)
                reach = low, max(length + tail, middle + width / 2)
                at = _point(a, u, middle, off + sizes.gap)
                text = Text(at, measure.text, sizes.text, angle=math.atan2(u[1], u[0]))
                yield Slant(a, u, length, off, text, turned, reach)


def _cost(frame: Frame, room: Occupancy, slant: Slant, most: float) -> float:
    """What it costs, in mm of paper: its distance, what it covers, how it makes the drawing grow.

    Infinite where that is at least `most`, which is told without looking at all of it.
    """
    taken, size = slant.text.outline_with(frame.sizes.gap / 2), frame.sizes.text
    if not room.free(taken):
        return 1e6 + abs(slant.off)
    low, high = slant.reach
    cost = abs(slant.off) + LONGER * (high - low) + size * room.cover(taken) * (ON_INK if room.apart else 1.0)
    if cost < most:
        cost += 0.2 * size * room.along(slant.line)
    if cost < most:
        cost += 4 * size * room.crossed(slant.line)
        cost += 0.5 * room.growth(box_of(taken))
    if cost < most and frame.solid(slant.line.at(0.5)):
        cost += 6 * size
    return round(cost, COST_PLACES) if cost < most else math.inf
