"""The voids of a part: its openings and its drilled holes, as loops with their names, and where bolts sit in them.

void       an opening that is cut, or a hole that is drilled after cutting, where its diameter is known
bolt hole  a void that a bolt is declared for: round, or a slot with round ends
track      where the bolt's centre can be in it: the centre of a round hole, the middle line of a slot
"""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.cached import cached_property
from parts.fasteners.bolts import bolt_of_mm
from parts.geometry import Arc, Line, Loop, Point, Segment, circle, closest, distance
from parts.geometry.search import Vicinity
from parts.profile import Drill, Opening, Profile, numbered
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM
from parts.units import Units, format_length, format_size_name


@dataclass(frozen=True)
class BoltHole:
    """A void for a bolt of `bolt` mm: its index among the loops, its width, the ends of its track, what joins them."""

    index: int
    bolt: float
    width: float
    ends: tuple[Point, ...]
    track: Segment | None = None

    @property
    def middle(self) -> Point:
        """The middle of its track."""
        return self.track.at(0.5) if self.track else self.ends[0]

    @property
    def round(self) -> bool:
        """Whether the bolt has one place only."""
        return len(self.ends) == 1

    @property
    def travel(self) -> float:
        """How far the bolt can go along it."""
        return self.track.length if self.track else 0.0

    def outward(self, end: Point) -> Point:
        """Return the direction, of length 1, in which its track leaves at an end; none for a round one."""
        if self.track is None:
            return 0.0, 0.0
        if end == self.track.end:
            return self.track.heading_at_end
        x, y = self.track.heading_at_start
        return -x, -y

    def nearest(self, other: "BoltHole") -> tuple[Point, Point]:
        """Return the centres of the two bolts where they come closest."""
        pairs = [(p, other.track.nearest(p) if other.track else other.ends[0]) for p in self.ends]
        pairs += [(self.track.nearest(q) if self.track else self.ends[0], q) for q in other.ends]
        if self.track and other.track:
            pairs.append(closest(self.track, other.track))
        return min(pairs, key=lambda pair: distance(*pair))


class Voids:
    """The loops of a profile: outside ones, openings, then drilled holes; from `first` on they are voids."""

    def __init__(self, profile: Profile) -> None:
        self._profile = profile
        drills = [mark for mark in profile.marks if isinstance(mark, Drill) and mark.diameter > SAME_POINT_MM]
        self.first = len(profile.outside)
        self.drilled_from = self.first + len(profile.inside)
        self.drills = tuple(drills)
        self.things: tuple[Opening | Drill, ...] = (*profile.inside, *drills)
        drilled = (circle(drill.at, drill.diameter).reversed() for drill in drills)
        self.loops: tuple[Loop, ...] = (*profile.boundary, *drilled)

    @cached_property
    def vicinity(self) -> Vicinity:
        """What is near a place, of all loops."""
        return Vicinity(self.loops)

    @cached_property
    def bolt_holes(self) -> tuple[BoltHole, ...]:
        """Every void for a bolt, but those of a shape in which its place isn't known."""
        return tuple(hole for index in range(self.first, len(self.loops)) for hole in self._bolt_hole(index))

    def name(self, index: int) -> str:
        """Return what a loop is called: `the edge`, `hole 2 in leg A`, `the drilled hole`."""
        if index < self.drilled_from:
            return self._profile.name(index)
        return numbered([drill.name for drill in self.drills], index - self.drilled_from)

    def pattern(self, index: int) -> str:
        """Return the name that a void shares with others like it."""
        return self.things[index - self.first].name

    def _bolt_hole(self, index: int) -> Iterator[BoltHole]:
        bolt = self.things[index - self.first].bolt
        if bolt <= 0:
            return
        loop = self.loops[index]
        if hole := loop.circle:
            yield BoltHole(index, bolt, _width(self.things[index - self.first], hole.diameter), (hole.centre,))
        elif made := slot_track(loop):
            yield BoltHole(index, bolt, *made)


def _width(thing: Opening | Drill, diameter: float) -> float:
    """How wide a round hole is when the bolt goes in: a pilot has been drilled out."""
    return thing.work.made if thing.work and thing.work.kind == "pilot" else diameter


def said_bolt(bolt_mm: float, units: Units) -> str:
    """Return what a bolt is called: `M10 bolt`, `1/2 in bolt`, `9.3 mm bolt`."""
    size = bolt_of_mm(bolt_mm)
    if size is None:
        return f"{format_length(bolt_mm, units)} bolt"
    return f"{format_size_name(size.size, size.units)} bolt"


def slot_track(loop: Loop) -> tuple[float, tuple[Point, ...], Segment] | None:
    """Return a slot's width, the centres of its round ends and the middle line between them; None where it isn't one.

    A slot is, once round, an end of half a turn, a side, an end and a side. The sides are lines, or arcs about
    one centre; the middle line has their sweep.
    """
    pieces = loop.unsplit
    if len(pieces) != 4:
        return None
    if not _is_end(pieces[0]):
        pieces = pieces[1:] + pieces[:1]
    (end, side, other, back) = pieces
    if not (isinstance(end, Arc) and isinstance(other, Arc) and _is_end(end) and _is_end(other)):
        return None
    width, a, b = 2 * end.radius, end.centre, other.centre
    if isinstance(side, Line) and isinstance(back, Line):
        return width, (a, b), Line(a, b)
    if isinstance(side, Arc) and isinstance(back, Arc) and distance(side.centre, back.centre) <= SAME_POINT_MM:
        return width, (a, b), Arc(a, b, side.bulge)
    return None


def _is_end(piece: Segment) -> bool:
    """Whether a piece of a void's loop, which runs with the void on its right, goes half a turn round it."""
    return isinstance(piece, Arc) and abs(piece.bulge + 1) <= PARALLEL_RAD
