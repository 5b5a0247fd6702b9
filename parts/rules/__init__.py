"""The rules: each module looks at a profile for one kind of mistake and yields findings."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import ModuleType

from parts.cutting import Job
from parts.finding import Finding
from parts.profile import Profile
from parts.rules import (
    air_radius,
    bed_fit,
    bend_clearance,
    bend_radius,
    bend_relief,
    bend_taper,
    bends_apart,
    bolt_spacing,
    bridge_width,
    drilled_room,
    edge_distance,
    finger,
    hole_making,
    hole_to_thickness,
    inside_corner,
    long_strip,
    loops,
    loose_piece,
    lost_detail,
    off_metal,
    outside_tip,
    pierce_room,
    return_flange,
    short_flange,
    short_segment,
    slat_tip,
    slot_width,
    torch_slow,
)
from parts.tolerance import TIDY_DECIMALS
from parts.wanted import step

RULES = (
    loops,
    loose_piece,
    hole_to_thickness,
    bridge_width,
    slot_width,
    finger,
    outside_tip,
    lost_detail,
    inside_corner,
    pierce_room,
    edge_distance,
    bolt_spacing,
    drilled_room,
    hole_making,
    off_metal,
    bend_radius,
    air_radius,
    bend_clearance,
    short_flange,
    bends_apart,
    return_flange,
    bend_relief,
    bend_taper,
    short_segment,
    torch_slow,
    long_strip,
    slat_tip,
    bed_fit,
)
RULES_OF_SOUND_LOOPS = RULES[1:]
"""What is left to check where the loops have been found without fault."""

_ORDER = ("stop", "warn", "note")


def findings(profile: Profile, job: Job, rules: Sequence[ModuleType] = RULES) -> tuple[Finding, ...]:
    """Return what the rules found, `stop` first, otherwise in the order of the rules."""
    found = [_tidy(finding) for rule in rules for finding in _found_by(rule, profile, job)]
    return ordered(found)


def _found_by(rule: ModuleType, profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield what one rule finds, if anyone still waits for it."""
    step()
    yield from rule.check(profile, job)


class FindingsByRule(Mapping[str, tuple[Finding, ...]]):
    """What each rule finds of a profile, by its name; a rule looks when it is asked for, and once."""

    def __init__(self, profile: Profile, job: Job, rules: Sequence[ModuleType] = RULES) -> None:
        self._of, self._rules = (profile, job), {rule.RULE: rule for rule in rules}
        self._found: dict[str, tuple[Finding, ...]] = {}

    def __getitem__(self, rule: str) -> tuple[Finding, ...]:
        """Return what a rule finds, `stop` first."""
        if rule not in self._found:
            self._found[rule] = told(findings(*self._of, (self._rules[rule],)))
        return self._found[rule]

    def __iter__(self) -> Iterator[str]:
        """Yield the rules, in their order."""
        return iter(self._rules)

    def __len__(self) -> int:
        """Return how many rules there are."""
        return len(self._rules)


def by_rule(found: Iterable[Finding]) -> Mapping[str, tuple[Finding, ...]]:
    """Return findings by the name of their rule, each rule at the place of its first."""
    grouped: dict[str, tuple[Finding, ...]] = {}
    for finding in found:
        grouped[finding.rule] = (*grouped.get(finding.rule, ()), finding)
    return grouped


def told(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings without what is routine."""
    return tuple(finding for finding in found if not finding.is_routine)


def ordered(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with `stop` first, otherwise as they come."""
    return tuple(sorted(found, key=lambda finding: _ORDER.index(finding.severity)))


def _tidy(finding: Finding) -> Finding:
    """The finding without the rounding noise of its measurement: 6.6 for 6.599999999999994."""
    if finding.measured is None:
        return finding
    return replace(finding, measured=round(finding.measured, TIDY_DECIMALS))
