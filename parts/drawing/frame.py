"""From the part to the paper: the frame a drawing is laid out in, and the sizes its lettering sets.

While it is laid out, the paper's origin is the part's lower left; the whole is moved into place at the end.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.cached import cached_property
from parts.drawing.material import MaterialStrips
from parts.fasteners import slot_track
from parts.forming import bend_lines
from parts.geometry import Arc, Box, Circle, Line, Point, Segment, distance
from parts.geometry.search import Floats
from parts.profile import Bend, Profile
from parts.record import Record
from parts.tolerance import SAME_POINT_MM

MOST_LOOPS = 250
"""Loops of a part beyond which its drawing is kept plain: no centre lines, and marks are kept off its whole box."""

MOST_ALIKE = 36
"""Round holes alike beyond which they are a mesh, which is drawn without centre lines."""
MOST_SLOTS = 12
"""The same of slots, each of which has longer ones."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """What follows from the size of the lettering, mm of paper; proportions as of ISO 129-1 and ISO 3098."""

    text: float

    @property
    def arrow(self) -> float:
        """Length of an arrowhead."""
        return 0.8 * self.text

    @property
    def gap(self) -> float:
        """From a measured point to its extension line, and from a dimension line to its lettering."""
        return 0.3 * self.text

    @property
    def overrun(self) -> float:
        """How far an extension line runs beyond its dimension line."""
        return 0.5 * self.text

    @property
    def margin(self) -> float:
        """Left free at the paper's edge, for the width of lines."""
        return 0.3 * self.text

    @property
    def first_lane(self) -> float:
        """From the part to its nearest dimension line."""
        return 2.1 * self.text

    @property
    def lane(self) -> float:
        """From one dimension line to the next."""
        return 1.75 * self.text


class Subject:
    """What a drawing shows of a part, whatever its scale."""

    def __init__(self, record: Record) -> None:
        self.record = record
        self.profile = record.profile

    @cached_property
    def material(self) -> MaterialStrips:
        """Where it has material."""
        return MaterialStrips(self.profile.boundary)

    @cached_property
    def bends(self) -> tuple[Bend, ...]:
        """Its bend lines, each whole."""
        return bend_lines(self.profile)

    @cached_property
    def circles(self) -> tuple[Circle, ...]:
        """The circles that have centre lines; of those about one centre the largest."""
        alike = Counter(opening.parameter for opening in self.profile.inside if opening.loop.circle)
        inside = (opening.loop for opening in self.profile.inside if alike[opening.parameter] <= MOST_ALIKE)
        loops = (*self.profile.outside, *inside)
        if len(loops) > MOST_LOOPS:
            return ()
        found: dict[tuple[int, int], Circle] = {}
        for circle in (loop.circle for loop in loops):
            if circle:
                place = _place(circle.centre)
                if place not in found or found[place].diameter < circle.diameter:
                    found[place] = circle
        return tuple(found.values())

    @cached_property
    def slots(self) -> tuple[tuple[float, Segment], ...]:
        """The width and the middle line of each slot with round ends, unless they are a mesh."""
        if len(self.profile.boundary) > MOST_LOOPS or self.record.is_sketch:
            return ()
        loops = self.profile.boundary[len(self.profile.outside) :]
        made = [(o.parameter, slot_track(loop)) for o, loop in zip(self.profile.inside, loops, strict=True)]
        alike = Counter(parameter for parameter, slot in made if slot)
        return tuple((slot[0], slot[2]) for parameter, slot in made if slot and alike[parameter] <= MOST_SLOTS)


@dataclass(frozen=True)
class Frame:
    """A part at a scale: `scale` is mm of paper per mm of part."""

    subject: Subject
    scale: float
    sizes: Sizes

    @property
    def profile(self) -> Profile:
        """The part's profile."""
        return self.subject.profile

    @property
    def whole(self) -> Box:
        """The bounding box of all that is drawn of the part, in its own mm."""
        return self.subject.record.box

    def point(self, p: Point) -> Point:
        """Return where a point of the part is on the paper."""
        x, y, _, _ = self.whole
        return (p[0] - x) * self.scale, (p[1] - y) * self.scale

    def segment(self, segment: Segment) -> Segment:
        """Return where a segment of the part is on the paper; an arc stays the same arc."""
        return self.segments((segment,))[0]

    def segments(self, segments: Iterable[Segment], shift: Point = (0.0, 0.0)) -> tuple[Segment, ...]:
        """Return where segments of the part are on the paper, moved by `shift`: as `segment`, all at once."""
        (x, y, _, _), scale, (dx, dy) = self.whole, self.scale, shift
        found: list[Segment] = []
        for segment in segments:
            (ax, ay), (bx, by) = segment.start, segment.end
            start = (ax - x) * scale + dx, (ay - y) * scale + dy
            end = (bx - x) * scale + dx, (by - y) * scale + dy
            if isinstance(segment, Line) or distance(start, end) <= SAME_POINT_MM:  # too small an arc to be one here
                found.append(Line(start, end))
            else:
                found.append(Arc(start, end, segment.bulge))
        return tuple(found)

    def solid(self, p: Point) -> bool:
        """Tell whether a point of the paper lies on the part's material; of a very rich part, within its box."""
        if len(self.profile.boundary) > MOST_LOOPS:
            return self.box[0] <= p[0] <= self.box[2] and self.box[1] <= p[1] <= self.box[3]
        x0, y0, _, _ = self.whole
        return self.subject.material.holds((p[0] / self.scale + x0, p[1] / self.scale + y0))

    def solid_about(self, x: Floats, y: Floats) -> NDArray[np.bool_]:
        """Tell the same of many points at once, near a round edge only about."""
        if len(self.profile.boundary) > MOST_LOOPS:
            return (self.box[0] <= x) & (x <= self.box[2]) & (self.box[1] <= y) & (y <= self.box[3])
        x0, y0, _, _ = self.whole
        return self.subject.material.holds_about(x / self.scale + x0, y / self.scale + y0)

    @cached_property
    def centres(self) -> tuple[tuple[Point, float], ...]:
        """Each centre of circles on the paper, and how far its centre lines reach from it."""
        found = ((self.point(circle.centre), circle.diameter) for circle in self.subject.circles)
        return tuple((centre, self._reach(diameter)) for centre, diameter in found)

    def _reach(self, across: float) -> float:
        """How far on the paper the centre lines reach from the middle of what is so wide in the part's mm."""
        text, r = self.sizes.text, across / 2 * self.scale
        return r + min(0.9 * text, max(0.35 * r, 0.3 * text))

    @cached_property
    def slots(self) -> tuple[tuple[Segment, float], ...]:
        """The middle line of each slot on the paper, and how far its centre lines reach beyond its ends and sides."""
        return tuple((self.segment(middle), self._reach(width)) for width, middle in self.subject.slots)

    def start_of_extension(self, p: Point, *, upright: bool) -> float:
        """Return how far from a measured point of the paper its extension line starts, up or down or else sideways.

        From the centre of a circle or a slot it starts where the centre line ends, which it continues.
        """
        reaches = (reach for centre, reach in self.centres if distance(centre, p) <= SAME_POINT_MM)
        return next(reaches, None) or next(self._from_slot(p, upright), self.sizes.gap)

    def _from_slot(self, p: Point, upright: bool) -> Iterator[float]:
        """How far the centre lines of a slot about p reach that way: those across it, or the one along it."""
        for middle, reach in self.slots:
            if any(distance(middle.at(share), p) <= SAME_POINT_MM for share in (0.0, 0.5, 1.0)):
                ends = [(abs(end[0] - p[0]), abs(end[1] - p[1])) for end in (middle.start, middle.end)]
                along, aside = max(end[upright] for end in ends), max(end[not upright] for end in ends)
                yield along + reach if aside <= SAME_POINT_MM else reach

    @cached_property
    def box(self) -> Box:
        """The part's bounding box on the paper."""
        x0, y0, x1, y1 = self.whole
        return 0.0, 0.0, (x1 - x0) * self.scale, (y1 - y0) * self.scale


def _place(p: Point) -> tuple[int, int]:
    """A key that centres of one place share, whatever the rounding of their coordinates."""
    return round(p[0] * 1e6), round(p[1] * 1e6)
