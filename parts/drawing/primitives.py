"""What a drawing is made of: paths, texts, arrowheads and numbered marks on paper.

Lengths are mm of paper, angles radians, x to the right and y upward from the paper's lower left.

pen     what a line means (ISO 128-2): each format gives it its weight and its dashes
text    one line of lettering; its box is reckoned by `text_width`, a little wide for any plain sans serif
mark    the numbered sign of a finding: octagon to stop, triangle to warn, circle to note
group   what lights up together: one dimension, one finding
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Literal, TypeAlias

from parts.drawing.kept import Kept, Way
from parts.finding import Severity
from parts.geometry import Arc, Box, Line, Point, Segment, lazy

Pen: TypeAlias = Literal[
    "cut-outside", "cut-inside", "dimension", "centre", "bend", "scribe", "open", "aside", "leader",
    "as-cut", "slow-1", "slow-2", "slow-3", "sheet", "bed",
]  # fmt: skip
Anchor: TypeAlias = Literal["start", "middle", "end"]
GroupKind: TypeAlias = Literal[
    "part", "open", "aside", "marks", "worked", "bends", "centres", "dimension", "finding", "as-cut", "slow", "stock"
]
_SHARE_BEFORE: Mapping[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}
Polygon: TypeAlias = tuple[Point, ...]
"""Corners of a convex polygon, counter-clockwise."""

WIDE, USUAL, NARROW = 0.84, 0.6, 0.36
"""Widths of characters as shares of the lettering's size; a plain sans serif's figures are 0.556."""
_NARROW = frozenset(" .,'\"/-()il")
ASCENT, DESCENT = 0.76, 0.2
"""How far lettering reaches above and below its base line, as shares of its size."""


@dataclass(frozen=True)
class Path:
    """Lines and arcs end to end, drawn with one pen."""

    pen: Pen
    segments: tuple[Segment, ...]
    closed: bool = False

    @lazy
    def box(self) -> Box:
        """Its bounding box."""
        return box_around(self.segments)


@dataclass(frozen=True)
class Text:
    """One line of lettering on a base line through `at`, turned to the left by `angle`."""

    at: Point
    text: str
    size: float
    anchor: Anchor = "middle"
    angle: float = 0.0

    @property
    def width(self) -> float:
        """Length along the base line."""
        return text_width(self.text, self.size)

    @lazy
    def outline(self) -> Polygon:
        """The four corners of the room it takes."""
        return self.outline_with(0.0)

    def outline_with(self, margin: float) -> Polygon:
        """Return the four corners of the room it takes with a margin all round."""
        width = self.width
        start = -width * _SHARE_BEFORE[self.anchor]
        low, high = -DESCENT * self.size - margin, ASCENT * self.size + margin
        left, right = start - margin, start + width + margin
        x, y = self.at
        if self.angle == 0:
            return (x + left, y + low), (x + right, y + low), (x + right, y + high), (x + left, y + high)
        c, s = math.cos(self.angle), math.sin(self.angle)
        corners = ((left, low), (right, low), (right, high), (left, high))
        return tuple([(x + c * u - s * v, y + s * u + c * v) for u, v in corners])

    @property
    def box(self) -> Box:
        """Its bounding box."""
        return box_of(self.outline)


@dataclass(frozen=True, slots=True)
class Arrow:
    """A filled arrowhead with its point at `tip`, pointing along the unit vector `heading`."""

    tip: Point
    heading: Point
    length: float

    @property
    def outline(self) -> Polygon:
        """Its three corners, tip first; it is a third as wide as long (about 19 degrees)."""
        (x, y), (ux, uy), half = self.tip, self.heading, self.length / 6
        bx, by = x - ux * self.length, y - uy * self.length
        return (self.tip, (bx - uy * half, by + ux * half), (bx + uy * half, by - ux * half))

    @property
    def box(self) -> Box:
        """Its bounding box."""
        return box_of(self.outline)


@dataclass(frozen=True, slots=True)
class NumberedMark:
    """The numbered sign of a finding, `size` across, its shape the severity."""

    at: Point
    severity: Severity
    number: int
    size: float

    @property
    def outline(self) -> Polygon:
        """Its corners: an octagon, an upright triangle; for a circle the octagon around it."""
        if self.severity == "warn":
            return self._corners(3, self.size * 0.66, math.pi / 2)
        return self._corners(8, self.size / 2 / math.cos(math.pi / 8), math.pi / 8)

    def _corners(self, count: int, radius: float, first: float) -> Polygon:
        (x, y), step = self.at, 2 * math.pi / count
        angles = [first + i * step for i in range(count)]
        return tuple((x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles)

    @property
    def label(self) -> Text:
        """Its number."""
        size = self.size * (0.62 if self.number < 10 else 0.5 if self.number < 100 else 0.4)
        x, y = self.at
        return Text((x, y - 0.36 * size), str(self.number), size)

    @property
    def box(self) -> Box:
        """Its bounding box."""
        return box_of(self.outline)


@dataclass(frozen=True, slots=True)
class Dot:
    """A filled dot, `size` across: the end of a flag's leader."""

    at: Point
    size: float

    @property
    def box(self) -> Box:
        """Its bounding box."""
        (x, y), r = self.at, self.size / 2
        return x - r, y - r, x + r, y + r


Item: TypeAlias = Path | Text | Arrow | NumberedMark | Dot


@dataclass(frozen=True)
class Group:
    """Items that belong together; `key` is the parameter of a dimension, the number of a finding.

    What is `spare` is shown only while it is asked for; it has its place beside the others, not beside its like.
    `way` is how a dimension that stands in no lane was placed.
    """

    kind: GroupKind
    items: tuple[Item, ...]
    key: str = ""
    spare: bool = False
    way: Way | None = field(default=None, compare=False)

    @property
    def texts(self) -> tuple[Text, ...]:
        """The lettering in it, numbers of marks left out."""
        return tuple(item for item in self.items if isinstance(item, Text))

    @property
    def marks(self) -> tuple[NumberedMark, ...]:
        """The marks in it."""
        return tuple(item for item in self.items if isinstance(item, NumberedMark))

    @lazy
    def box(self) -> Box:
        """Its bounding box."""
        return around(item.box for item in self.items)


@dataclass(frozen=True)
class Drawing:
    """A laid-out drawing: `scale` is mm of paper per mm of part, `origin` the part's origin on the paper.

    `text_size` is the size of the lettering, from which the formats take their line widths. `kept` is how it was laid
    out in a window.
    """

    width: float
    height: float
    scale: float
    origin: Point
    text_size: float
    groups: tuple[Group, ...]
    kept: Kept | None = field(default=None, compare=False)

    @property
    def box(self) -> Box:
        """The bounding box of everything drawn."""
        return around(group.box for group in self.groups)

    @property
    def fits(self) -> bool:
        """Whether everything drawn lies on the paper."""
        x0, y0, x1, y1 = self.box
        return x0 >= 0 and y0 >= 0 and x1 <= self.width and y1 <= self.height

    @property
    def texts(self) -> tuple[Text, ...]:
        """All lettering but the numbers of marks."""
        return tuple(text for group in self.groups for text in group.texts)

    def of(self, kind: GroupKind) -> Iterator[Group]:
        """Yield the groups of one kind, in order."""
        return (group for group in self.groups if group.kind == kind)


def text_width(text: str, size: float) -> float:
    """Return how long a text is reckoned to be."""
    return size * _ems(text)


@lru_cache(maxsize=4096)
def _ems(text: str) -> float:
    return sum(NARROW if c in _NARROW else WIDE if c.isupper() else USUAL for c in text)


def around(boxes: Iterable[Box]) -> Box:
    """Return the union of bounding boxes: the bounding box of them all."""
    lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
    return min(lows_x), min(lows_y), max(highs_x), max(highs_y)


def box_around(segments: Iterable[Segment]) -> Box:
    """Return the bounding box of some segments."""
    xs: list[float] = []
    ys: list[float] = []
    for segment in segments:
        if isinstance(segment, Line):  # quicker than to ask each for a box of its own
            xs += segment.start[0], segment.end[0]
            ys += segment.start[1], segment.end[1]
        else:
            x0, y0, x1, y1 = segment.box
            xs += x0, x1
            ys += y0, y1
    return min(xs), min(ys), max(xs), max(ys)


def box_of(points: Polygon) -> Box:
    """Return the bounding box of some points."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def shifted(item: Item, dx: float, dy: float) -> Item:
    """Return an item moved by (dx, dy)."""
    if isinstance(item, Path):
        return Path(item.pen, tuple([_shifted(segment, dx, dy) for segment in item.segments]), item.closed)
    if isinstance(item, Arrow):
        return Arrow((item.tip[0] + dx, item.tip[1] + dy), item.heading, item.length)
    return replace(item, at=(item.at[0] + dx, item.at[1] + dy))


def _shifted(segment: Segment, dx: float, dy: float) -> Segment:
    (ax, ay), (bx, by) = segment.start, segment.end
    start, end = (ax + dx, ay + dy), (bx + dx, by + dy)
    return Line(start, end) if isinstance(segment, Line) else Arc(start, end, segment.bulge)
