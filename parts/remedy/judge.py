"""Judging a redraw: whether findings are mended by it, at no cost to the rest of the part."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import islice

from parts.cached import cached_property
from parts.cutting import Measures
from parts.errors import GeometryError
from parts.finding import Finding
from parts.geometry import Point, distance
from parts.profile import Drill, Profile
from parts.tolerance import LIMIT_SLACK_MM


def _sound() -> bool:
    return True


def _unmeasured() -> None:
    return None


@dataclass(frozen=True)
class Redrawn:
    """What is seen of a part when it is drawn with some values: its profile, and what each rule finds, by its name.

    A rule that is looked at only when it is asked for costs nothing where another settles the matter. Nor does
    `has_sound_loops`, which tells whether the loops can be cut: a part of which they can't is refused.
    `measured` gives its measures.
    """

    profile: Profile
    found: Mapping[str, tuple[Finding, ...]]
    has_sound_loops: Callable[[], bool] = _sound
    measured: Callable[[], Measures | None] = _unmeasured

    @cached_property
    def is_sound(self) -> bool:
        """Whether the loops can be cut."""
        return self.has_sound_loops()

    def tally(self, rule: str) -> "Tally":
        """Return the tally of a rule, asked for now."""
        return tally(self.found.get(rule, ()))


@dataclass(frozen=True, slots=True)
class Tally:
    """The places found by one rule, and the worst shortfall in mm; a note counts among `every` only."""

    stops: int = 0
    serious: int = 0
    every: int = 0
    worst: float = 0.0

    def no_worse_than(self, other: "Tally") -> bool:
        """Tell whether there are no more places than in `other`, of any severity, and no graver one further off."""
        return (
            self.stops <= other.stops
            and self.serious <= other.serious
            and self.every <= other.every
            and self.worst <= other.worst + LIMIT_SLACK_MM
        )


NONE = Tally()


def is_serious(finding: Finding) -> bool:
    """Tell whether a finding wants a remedy: a note doesn't."""
    return finding.severity != "note"


def tally(findings: Iterable[Finding]) -> Tally:
    """Return the tally of what one rule found."""
    so_far = NONE
    for finding in findings:
        places = 1 + len(finding.also)
        so_far = Tally(
            so_far.stops + places * (finding.severity == "stop"),
            so_far.serious + places * is_serious(finding),
            so_far.every + places,
            max(so_far.worst, shortfall(finding) if is_serious(finding) else 0.0),
        )
    return so_far


def tallies(sight: Redrawn) -> Mapping[str, Tally]:
    """Return the tally of each rule."""
    return {rule: sight.tally(rule) for rule in sight.found}


def shortfall(finding: Finding) -> float:
    """Return by how many mm a finding misses its limit, 0 where it measures nothing."""
    if finding.measured is None or finding.limit is None:
        return 0.0
    return abs(finding.limit - finding.measured)


def left(rule: str, before: Mapping[str, Tally], after: Redrawn, enough: int) -> int | None:
    """Return how many places of a rule want mending after a change; None for more than `enough`, or worse than before.

    It is asked before it is known whether the part can be cut; where it can't, it is answered or not.
    """
    try:
        own = after.tally(rule)
    except GeometryError:
        if after.is_sound:
            raise
        return None
    return None if own.serious > enough or not own.no_worse_than(before.get(rule, NONE)) else own.serious


def harms(rule: str, before: Mapping[str, Tally], after: Redrawn) -> bool:
    """Tell whether after a change to mend `rule` the part can't be cut, or another rule finds more than before.

    Those that found something before are asked first: likeliest to say so.
    """
    if not after.is_sound:
        return True
    others = sorted(after.found.keys() - {rule}, key=lambda name: (before.get(name, NONE) == NONE, name))
    return any(not after.tally(name).no_worse_than(before.get(name, NONE)) for name in others)


def least_off(rule: str, after: Redrawn, enough: int) -> float:
    """Return by how many mm a rule is at least off having only `enough` places to mend; 0 where it isn't known.

    That many of the worst places may stay, so it is the next one that counts.
    """
    places = (shortfall(one) for one in after.found.get(rule, ()) if is_serious(one) for _ in range(1 + len(one.also)))
    return next(islice(sorted(places, reverse=True), enough, None), 0.0)


def lost(before: Profile, after: Profile) -> int:
    """Return how many pieces, openings and drill centres a change takes from the part."""
    return max(0, _things(before) - _things(after))


def _things(profile: Profile) -> int:
    drills = sum(isinstance(mark, Drill) for mark in profile.marks)
    return len(profile.outside) + len(profile.inside) + drills


def moves_holes(before: Profile, after: Profile) -> bool:
    """Return whether a change moves an opening or a drill centre against the others."""
    then, now = _centres(before), _centres(after)
    return len(then) != len(now) or any(
        distance(old, new) > LIMIT_SLACK_MM for old, new in zip(_from_first(then), _from_first(now), strict=True)
    )


def _centres(profile: Profile) -> list[Point]:
    boxes = [opening.loop.box for opening in profile.inside]
    centres = [((x0 + x1) / 2, (y0 + y1) / 2) for x0, y0, x1, y1 in boxes]
    return centres + [mark.at for mark in profile.marks if isinstance(mark, Drill)]


def _from_first(centres: list[Point]) -> list[Point]:
    return [(x - centres[0][0], y - centres[0][1]) for x, y in centres]


def resizes_whole(before: Profile, after: Profile) -> bool:
    """Tell whether a change alters the overall size of the part."""
    return _sizes_differ(before.box, after.box)


def resizes_opening(before: Profile, after: Profile) -> bool:
    """Tell whether a change alters the size of an opening, rather than moving it."""
    pairs = zip(before.inside, after.inside, strict=False)
    return any(_sizes_differ(old.loop.box, new.loop.box) for old, new in pairs)


def _sizes_differ(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return any(abs((one[i + 2] - one[i]) - (other[i + 2] - other[i])) > LIMIT_SLACK_MM for i in (0, 1))
