"""Holes that bolts go through: where they are, how wide, and how far a slot lets its bolt travel.

A straight slot lets the bolt travel along its middle line. A curved one counts as straight where the other part has its
hole, along a chord that is no further than a tenth of the room inside its line. Moved out by half of that, with as much
less room, the chord takes no bolt that the slot wouldn't: the chance comes out too small, never too large.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from parts.boltup.assumed import assumed
from parts.fasteners import Voids
from parts.geometry import Arc, Line, Motion, Point, Segment, distance
from parts.profile import Drill, Profile
from parts.tolerance import LIMIT_SLACK_MM

_RISE = 0.1
# Of the room: what a curved slot gives up to be counted as straight along a few millimetres.


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole: its middle, its width, half of what a slot lets the bolt travel, as a vector, and its bolt; mm.

    `is_drilled` is whether it is drilled after cutting; `arc` is the middle line of a curved slot, `narrowed` how much
    narrower that is taken to be where it counts as straight.
    """

    name: str
    at: Point
    width: float
    travel: Point = (0.0, 0.0)
    bolt: float = 0.0
    is_drilled: bool = False
    arc: Arc | None = None
    narrowed: float = 0.0

    @property
    def is_slot(self) -> bool:
        """Whether the bolt has more than one place in it."""
        return self.travel != (0.0, 0.0)

    def moved(self, motion: Motion) -> "Hole":
        """Return the hole where a motion takes it."""
        (x0, y0), (x1, y1) = motion.point((0.0, 0.0)), motion.point(self.travel)
        arc = motion.segment(self.arc) if self.arc else None
        moved = replace(self, at=motion.point(self.at), travel=(x1 - x0, y1 - y0))
        return replace(moved, arc=arc) if isinstance(arc, Arc) else moved

    @property
    def reach(self) -> float:
        """How far from its middle the bolt can get, mm."""
        return distance(self.arc.at(0.5), self.arc.end) if self.arc else math.hypot(*self.travel)

    def fraction_near(self, place: Point) -> float:
        """Return how far along a curved slot is nearest to a place, 0 at its start; a half of any other hole."""
        if self.arc is None:
            return 0.5
        near = self.arc.nearest(place)
        if near in (self.arc.start, self.arc.end):
            return float(near == self.arc.end)
        return self.arc.fraction_of(near)

    def seated(self, fraction: float, room_mm: float) -> "Hole":
        """Return a curved slot as a straight one about a fraction of its line; any other hole as it is.

        Args:
            fraction: where, 0 at its start; the chord goes no further than the line.
            room_mm: how far the bolt may be off, were the hole round.
        """
        if self.arc is None:
            return self
        arc, rise = self.arc, min(_RISE * max(room_mm, 0.0), self.arc.radius)
        half = min(math.acos(1 - rise / arc.radius), abs(arc.sweep) / 2)
        share = half / abs(arc.sweep)
        (x, y), (cx, cy) = arc.at(min(max(fraction, share), 1 - share)), arc.centre
        ux, uy = (x - cx) / arc.radius, (y - cy) / arc.radius
        rise, along = arc.radius * (1 - math.cos(half)), arc.radius * math.sin(half)
        at = (x - ux * rise / 2, y - uy * rise / 2)
        return replace(self, at=at, travel=(-uy * along, ux * along), narrowed=rise)


def holes_of(profile: Profile, bolt_mm: float = 0.0) -> tuple[Hole, ...]:
    """Return the holes of a profile that bolts go through: those it declares, else those that `bolt_mm` fits.

    Where a bolt is given, holes that are declared for it come first; a profile that has none for it has every round
    hole and slot as wide as the bolt and no wider than `pattern.widest_in_bolts` times that.
    """
    declared = tuple(_holes(profile))
    if not bolt_mm:
        return declared
    own = tuple(hole for hole in declared if abs(hole.bolt - bolt_mm) <= LIMIT_SLACK_MM)
    most = assumed().pattern.widest_in_bolts * bolt_mm + LIMIT_SLACK_MM
    fits = (hole for hole in _holes(_all_for(profile, bolt_mm)) if bolt_mm - LIMIT_SLACK_MM <= hole.width <= most)
    return own or tuple(fits)


def _holes(profile: Profile) -> Iterator[Hole]:
    voids = Voids(profile)
    for hole in voids.bolt_holes:
        name, drilled = voids.name(hole.index), hole.index >= voids.drilled_from
        arc = hole.track if isinstance(hole.track, Arc) else None
        yield Hole(name, hole.middle, hole.width, _travel(hole.track), hole.bolt, drilled, arc)


def _travel(track: Segment | None) -> Point:
    """Half the way from one end of a straight track to the other; none of a round hole, nor of a curved slot yet."""
    if not isinstance(track, Line):
        return 0.0, 0.0
    (x0, y0), (x1, y1) = track.start, track.end
    return (x1 - x0) / 2, (y1 - y0) / 2


def _all_for(profile: Profile, bolt_mm: float) -> Profile:
    """The profile with every hole declared for a bolt."""
    inside = tuple(replace(each, bolt=bolt_mm) for each in profile.inside)
    marks = tuple(replace(mark, bolt=bolt_mm) if isinstance(mark, Drill) else mark for mark in profile.marks)
    return replace(profile, inside=inside, marks=marks)
