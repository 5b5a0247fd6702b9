"""Probes: what a small change of one number does to the findings, and from that how large a change they want.

rate   by how much what a finding measured changes, for each mm (or degree) of the parameter
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from parts.finding import Finding
from parts.geometry import distance
from parts.remedy.judge import Redrawn, is_serious, resizes_opening, resizes_whole
from parts.remedy.trials import Changes, Trials
from parts.spec import Spec
from parts.tolerance import LIMIT_SLACK_MM

NUDGE = 0.02
"""The small change, in mm or degrees: far below what is looked for, far above rounding."""
WHOLE_COUNTS, OPENING_COUNTS = 4.0, 1.5
"""How many times a change counts that alters the size of the whole part, or of an opening: what the part is bolted
to, and the bolt, are there already, so moving comes before resizing."""
LONGEST_LOOKED_AT = 60
"""Findings of one rule that are followed one by one; where there are more, the worst are."""


@dataclass(frozen=True)
class Probe:
    """What changing the number `spec` by `by` shows, and the weight of its changes."""

    spec: Spec
    by: float
    base: Redrawn
    sight: Redrawn
    weight: float

    def wants(self, found: Sequence[Finding]) -> list[float | None]:
        """Return, for each finding, the change of the number that would bring it to its limit, if it moves at all."""
        return [self._wants(finding) for finding in found]

    def _wants(self, finding: Finding) -> float | None:
        after = _same(finding, self.sight)
        if after is None or finding.measured is None or finding.limit is None or after.measured is None:
            return None
        moved = after.measured - finding.measured
        if after.limit is not None:
            moved -= after.limit - finding.limit
        if abs(moved) <= 2 * LIMIT_SLACK_MM:
            return None
        return (finding.limit - finding.measured) * self.by / moved


def probes(
    trials: Trials,
    specs: Mapping[str, Spec],
    base: Redrawn,
    changes: Changes,
    rules: Sequence[str],
    nudges: Sequence[float] = (NUDGE, -NUDGE),
) -> list[Probe]:
    """Return a probe of each number that changes the part, the first of `nudges` that is drawn; `changes` are kept.

    What it does is asked of these `rules`.
    """
    found = (_probe(trials, spec, base, changes, rules, nudges) for spec in specs.values() if is_number(spec))
    return [probe for probe in found if probe]


def is_number(spec: Spec) -> bool:
    """Tell whether a parameter is a number that takes any value between its limits."""
    return spec.kind in ("length", "angle", "number")


def _probe(
    trials: Trials,
    spec: Spec,
    base: Redrawn,
    changes: Changes,
    rules: Sequence[str],
    nudges: Sequence[float],
) -> Probe | None:
    value = trials.start(spec.name)
    for by in nudges:
        if not within(spec, value + by):
            continue
        sight = trials.nudged({**changes, spec.name: value + by})
        if sight is None:
            continue
        if sight.profile == base.profile and _finds_the_same(
            base, sight, (rule for rule, found in base.found.items() if found)
        ):
            return None
        if _finds_the_same(base, sight, rules) or sight.is_sound:  # of what moves nothing, it doesn't matter
            return Probe(spec, by, base, sight, _weight(base, sight))
    return None


def _finds_the_same(base: Redrawn, sight: Redrawn, rules: Iterable[str]) -> bool:
    """Tell whether rules find the same again."""
    return all(sight.found.get(rule, ()) == base.found.get(rule, ()) for rule in rules)


def within(spec: Spec, value: float) -> bool:
    """Tell whether a number is within its declared limits."""
    low, high = spec.minimum, spec.maximum
    return (low is None or value >= low) and (high is None or value <= high)


def _weight(base: Redrawn, sight: Redrawn) -> float:
    if resizes_whole(base.profile, sight.profile):
        return WHOLE_COUNTS
    return OPENING_COUNTS if resizes_opening(base.profile, sight.profile) else 1.0


def in_mm(spec: Spec, change: float, value: float, sight: Redrawn) -> float:
    """Return about how far, in mm, a change of a number moves something: an angle is taken at half the diagonal."""
    x0, y0, x1, y1 = sight.profile.box
    reach = math.hypot(x1 - x0, y1 - y0) / 2
    if spec.kind == "length":
        return abs(change)
    return reach * (math.radians(abs(change)) if spec.kind == "angle" else abs(change) / max(abs(value), 1.0))


def serious(rule: str, sight: Redrawn) -> list[Finding]:
    """Return the findings of a rule that want a remedy, as far as they are followed one by one."""
    return [finding for finding in sight.found.get(rule, ()) if is_serious(finding)][:LONGEST_LOOKED_AT]


def _same(finding: Finding, after: Redrawn) -> Finding | None:
    """The nearest finding of the same rule: after a small change, the same one."""
    return min(after.found.get(finding.rule, ()), key=lambda other: distance(other.at, finding.at), default=None)
