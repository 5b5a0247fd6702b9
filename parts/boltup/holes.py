"""Holes that bolts go through: where they are, how wide, and how far a slot lets its bolt travel.

A straight slot lets the bolt travel along its middle line. A curved one counts as a round hole at its middle, which
makes the chance too small, never too large.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from parts.boltup.assumed import assumed
from parts.fasteners import BoltHole, Voids
from parts.geometry import Line, Motion, Point
from parts.profile import Drill, Profile
from parts.tolerance import LIMIT_SLACK_MM


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole: its middle, its width, half of what a slot lets the bolt travel, as a vector, and its bolt; mm.

    `is_drilled` is whether it is drilled after cutting, `is_curved` whether it is a curved slot, taken as round.
    """

    name: str
    at: Point
    width: float
    travel: Point = (0.0, 0.0)
    bolt: float = 0.0
    is_drilled: bool = False
    is_curved: bool = False

    @property
    def is_slot(self) -> bool:
        """Whether the bolt has more than one place in it."""
        return self.travel != (0.0, 0.0)

    def moved(self, motion: Motion) -> "Hole":
        """Return the hole where a motion takes it."""
        (x0, y0), (x1, y1) = motion.point((0.0, 0.0)), motion.point(self.travel)
        return replace(self, at=motion.point(self.at), travel=(x1 - x0, y1 - y0))


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
        along, curved = _travel(hole)
        name, drilled = voids.name(hole.index), hole.index >= voids.drilled_from
        yield Hole(name, hole.middle, hole.width, along, hole.bolt, drilled, curved)


def _travel(hole: BoltHole) -> tuple[Point, bool]:
    """Half the way from one end of a straight track to the other; of a curved one none, and that it is curved."""
    if hole.track is None:
        return (0.0, 0.0), False
    if not isinstance(hole.track, Line):
        return (0.0, 0.0), True
    (x0, y0), (x1, y1) = hole.track.start, hole.track.end
    return ((x1 - x0) / 2, (y1 - y0) / 2), False


def _all_for(profile: Profile, bolt_mm: float) -> Profile:
    """The profile with every hole declared for a bolt."""
    inside = tuple(replace(each, bolt=bolt_mm) for each in profile.inside)
    marks = tuple(replace(mark, bolt=bolt_mm) if isinstance(mark, Drill) else mark for mark in profile.marks)
    return replace(profile, inside=inside, marks=marks)
