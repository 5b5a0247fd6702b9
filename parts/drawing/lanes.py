"""Lanes: horizontal and vertical dimensions stacked outside the part, the shortest nearest to it.

lane    a line parallel to one side of the part that dimension lines lie on; lane 0 is the nearest
u, v    along the side, and outward from it; on these all four sides are alike
form    where the lettering stands: between the extension lines, or beyond one of them
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from parts.drawing.frame import Frame, Sizes
from parts.drawing.primitives import Arrow, Group, Item, Path, Text, text_width
from parts.drawing.room import Occupancy
from parts.geometry import Box, Line, Point, lazy
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Measure:
    """A distance to show along one side: what it says, and the two points of the paper it lies between."""

    parameter: str
    text: str
    start: Point
    end: Point


class BoxSide:
    """One side of the part's box on the paper.

    `horizontal` is whether its lanes are, `outward` 1 where outward is up or right, else -1, `edge` where the part
    ends, and `lettered_outward` whether lettering, always above its line as read, is on the line's outer side.
    """

    def __init__(self, style: str, box: Box) -> None:
        self.horizontal = style in ("below", "above")
        self.outward = 1 if style in ("above", "right") else -1
        self.edge = box[("left", "below", "right", "above").index(style)]
        self.lettered_outward = style in ("above", "left")

    def split(self, p: Point) -> Point:
        """Return u and v of a point of the paper."""
        u, across = p if self.horizontal else (p[1], p[0])
        return u, (across - self.edge) * self.outward

    def point(self, u: float, v: float) -> Point:
        """Return the point of the paper at u and v."""
        across = self.edge + v * self.outward
        return (u, across) if self.horizontal else (across, u)


@dataclass(frozen=True, slots=True)
class Span:
    """A distance as a side sees it: what is measured, and u and v of both its points."""

    measure: Measure
    feet: tuple[Point, Point]

    @property
    def ends(self) -> Interval:
        """Where it begins and ends along the side."""
        (a, _), (b, _) = self.feet
        return min(a, b), max(a, b)

    @property
    def length(self) -> float:
        """Its length along the side."""
        low, high = self.ends
        return high - low


@dataclass(frozen=True, slots=True)
class DimensionForm:
    """A dimension in one form: the reaches of its line and lettering, its arrows turned outside or not."""

    line: Interval
    text: Interval
    turned: bool

    @property
    def taken(self) -> Interval:
        """What it takes of its lane."""
        return min(self.line[0], self.text[0]), max(self.line[1], self.text[1])


@dataclass(frozen=True, slots=True)
class Placed:
    """A dimension in its lane."""

    span: Span
    lane: int
    form: DimensionForm


@dataclass
class Stack:
    """The lanes of one side while they are filled with `waiting` dimensions, the shortest first.

    Lettering stays `within` what there is along the side, where it can.
    """

    side: BoxSide
    frame: Frame
    room: Occupancy
    waiting: list[Span]
    placed: list[Placed] = field(default_factory=list)
    within: Interval = (-math.inf, math.inf)

    @property
    def sizes(self) -> Sizes:
        """The sizes that the lettering sets."""
        return self.frame.sizes

    def fill(self) -> None:
        """Put each dimension into the nearest lane with room where, if possible, it crosses no lettering."""
        while self.waiting:
            span = self.waiting.pop(0)
            lanes, ways = range(len(self.placed) + 3), tuple(forms(span, self.sizes))
            places = ((strict, lane, form) for strict in (2, 1, 0) for lane in lanes for form in ways)
            fitting = (p for p in places if self._room_for(span, *p))
            _, lane, form = next(fitting, (0, lanes[-1], ways[-1]))
            self._place(span, lane, form)

    def _room_for(self, span: Span, strict: int, lane: int, form: DimensionForm) -> bool:
        """Tell whether a lane has room; `strict` 2 minds all crossings, 1 not those to come, 0 none."""
        taken = form.taken
        if strict and (form.text[0] < self.within[0] or self.within[1] < form.text[1]):
            return False
        for other in self.placed:
            if other.lane == lane and _meet(taken, other.form.taken):
                return False
        if strict and self._crosses(span, lane):
            return False
        if strict and self._crossed(form.text, lane, with_waiting=strict == 2):
            return False
        return self.room.free(self._lettering(span, lane, form).outline_with(self.sizes.gap / 3))

    def _crosses(self, span: Span, lane: int) -> bool:
        """Tell whether extension lines to a lane run through lettering of a nearer one."""
        nearer = (other for other in self.placed if other.lane < lane)
        return any(self._runs_through(span, other.form.text, other.lane) for other in nearer)

    def _runs_through(self, span: Span, text: Interval, lane: int) -> bool:
        """Tell whether extension lines to a lane further out run through lettering in one; those from beyond don't."""
        start, end = text
        beyond = self._v(lane) + (self.sizes.gap + self.sizes.text if self.side.lettered_outward else 0.0)
        return any(start < u < end and depth < beyond for u, depth in span.feet)

    def _crossed(self, text: Interval, lane: int, with_waiting: bool) -> bool:
        """Tell whether lettering in a lane would be run through by extension lines to farther ones."""
        spans = [other.span for other in self.placed if other.lane > lane]
        if with_waiting:
            spans += self.waiting
        return any(self._runs_through(span, text, lane) for span in spans)

    def _place(self, span: Span, lane: int, form: DimensionForm) -> None:
        self.placed.append(Placed(span, lane, form))
        self.room.claim(self._lettering(span, lane, form).outline)
        self.room.draw(self._lines(self.placed[-1]), 1.0)

    def _v(self, lane: int) -> float:
        first, pitch = self._pitches
        return first + lane * pitch

    @lazy
    def _pitches(self) -> tuple[float, float]:
        """How far out the nearest lane is, and how far it is from lane to lane."""
        first = self.sizes.first_lane - (self.sizes.text * 0.6 if self.side.lettered_outward else 0.0)
        return first, self.sizes.lane

    def _lettering(self, span: Span, lane: int, form: DimensionForm) -> Text:
        lift = self.sizes.gap * (1 if self.side.lettered_outward else -1)
        at = self.side.point((form.text[0] + form.text[1]) / 2, self._v(lane) + lift)
        return Text(at, span.measure.text, self.sizes.text, angle=0.0 if self.side.horizontal else math.pi / 2)

    def _lines(self, placed: Placed) -> list[Line]:
        """The dimension line, then the extension lines that have any length."""
        point, v = self.side.point, self._v(placed.lane)
        lines = [Line(point(placed.form.line[0], v), point(placed.form.line[1], v))]
        measure = placed.span.measure
        for p, (u, depth) in zip((measure.start, measure.end), placed.span.feet, strict=True):
            start = max(
                depth + self.frame.start_of_extension(p, upright=self.side.horizontal),
                self._drawn_to(u, depth, placed.lane),
            )
            if start < v:
                lines.append(Line(point(u, start), point(u, v + self.sizes.overrun)))
        return lines

    def _drawn_to(self, u: float, depth: float, lane: int) -> float:
        """How far out an extension line at u, from as deep, has been drawn already for a nearer lane."""
        low, high, deepest = u - SAME_POINT_MM, u + SAME_POINT_MM, depth + SAME_POINT_MM
        lanes = [
            other.lane
            for other in self.placed
            if other.lane < lane
            for at, deep in other.span.feet
            if low <= at <= high and deep <= deepest
        ]
        return self._v(max(lanes)) + self.sizes.overrun if lanes else -math.inf

    def groups(self) -> Iterator[Group]:
        """Yield each dimension as a group, in the order they were added."""
        for placed in self.placed:
            yield Group("dimension", tuple(self._items(placed)), placed.span.measure.parameter)

    def _items(self, placed: Placed) -> Iterator[Item]:
        yield from (Path("dimension", (line,)) for line in self._lines(placed))
        v, (low, high) = self._v(placed.lane), placed.span.ends
        way = -1.0 if placed.form.turned else 1.0
        up, down = ((way, 0.0), (-way, 0.0)) if self.side.horizontal else ((0.0, way), (0.0, -way))
        yield Arrow(self.side.point(low, v), down, self.sizes.arrow)
        yield Arrow(self.side.point(high, v), up, self.sizes.arrow)
        yield self._lettering(placed.span, placed.lane, placed.form)


def forms(span: Span, sizes: Sizes) -> Iterator[DimensionForm]:
    """Yield the forms a dimension can take, the best first; arrows turn outside where they'd meet inside."""
    low, high = span.ends
    width, room = text_width(span.measure.text, sizes.text), high - low
    turned = room < 2.6 * sizes.arrow
    tail = 1.8 * sizes.arrow if turned else 0.0
    middle = (low + high) / 2
    if width <= room - sizes.gap:
        yield DimensionForm((low - tail, high + tail), (middle - width / 2, middle + width / 2), turned)
    off = 1.5 * sizes.gap
    yield DimensionForm((low - tail, max(high + off + width, high + tail)), (high + off, high + off + width), turned)
    yield DimensionForm((min(low - off - width, low - tail), high + tail), (low - off - width, low - off), turned)


def stack(side: BoxSide, measures: Iterable[Measure], frame: Frame, room: Occupancy) -> Stack:
    """Return the dimensions of one side, having taken their room; the shortest are nearest."""
    lanes = Stack(side, frame, room, spans(side, measures))
    lanes.fill()
    return lanes


def beside(filled: Stack, measures: Iterable[Measure], room: Occupancy) -> Iterator[Group]:
    """Yield more dimensions of a side as groups, in what its lanes leave free of the room's extent."""
    (x0, y0, x1, y1), side = room.extent, filled.side
    within = (x0, x1) if side.horizontal else (y0, y1)
    lanes = Stack(side, filled.frame, room, spans(side, measures), list(filled.placed), within)
    lanes.fill()
    yield from list(lanes.groups())[len(filled.placed) :]


def spans(side: BoxSide, measures: Iterable[Measure]) -> list[Span]:
    """Return distances as a side sees them, the shortest first."""
    seen = [Span(measure, (side.split(measure.start), side.split(measure.end))) for measure in measures]
    return sorted(seen, key=lambda span: span.length)


def _meet(a: Interval, b: Interval) -> bool:
    """Tell whether two intervals share more than an end."""
    return a[0] < b[1] - LIMIT_SLACK_MM and b[0] < a[1] - LIMIT_SLACK_MM
