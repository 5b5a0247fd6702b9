"""Judging a redraw: whether findings are mended by it, at no cost to the rest of the part."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from parts.finding import Finding
from parts.profile import Drill, Profile
from parts.tolerance import LIMIT_SLACK_MM


@dataclass(frozen=True, slots=True)
class Redrawn:
    """What is seen of a part when it is drawn with some values: its profile, and what each rule finds, by its name.

    A rule that is looked at only when it is asked for costs nothing where another settles the matter.
    """

    profile: Profile
    found: Mapping[str, tuple[Finding, ...]]

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
    """Return how many places of a rule want mending after a change; None where that is more than `enough`, or it harms.

    It does where any rule, this one included, has more places than before or a graver one further off. The rule
    itself is asked first, then those that found something before: likeliest to say no.
    """
    own = after.tally(rule)
    if own.serious > enough or not own.no_worse_than(before.get(rule, NONE)):
        return None
    others = sorted(after.found.keys() - {rule}, key=lambda name: (before.get(name, NONE) == NONE, name))
    if any(not after.tally(name).no_worse_than(before.get(name, NONE)) for name in others):
        return None
    return own.serious


def lost(before: Profile, after: Profile) -> int:
    """Return how many pieces, openings and drill centres a change takes from the part."""
    return max(0, _things(before) - _things(after))


def _things(profile: Profile) -> int:
    drills = sum(isinstance(mark, Drill) for mark in profile.marks)
    return len(profile.outside) + len(profile.inside) + drills


def resizes_whole(before: Profile, after: Profile) -> bool:
    """Tell whether a change alters the overall size of the part."""
    return _sizes_differ(before.box, after.box)


def resizes_opening(before: Profile, after: Profile) -> bool:
    """Tell whether a change alters the size of an opening, rather than moving it."""
    pairs = zip(before.inside, after.inside, strict=False)
    return any(_sizes_differ(old.loop.box, new.loop.box) for old, new in pairs)


def _sizes_differ(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return any(abs((one[i + 2] - one[i]) - (other[i + 2] - other[i])) > LIMIT_SLACK_MM for i in (0, 1))
