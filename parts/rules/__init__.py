"""The rules: each module looks at a profile for one kind of mistake and yields findings."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from types import ModuleType

from parts.finding import Finding
from parts.job import Job
from parts.profile import Profile
from parts.rules import bed_fit, bridge_width, hole_to_thickness, loops
from parts.tolerance import TIDY_DECIMALS

RULES = (loops, hole_to_thickness, bridge_width, bed_fit)
RULES_OF_SOUND_LOOPS = RULES[1:]
"""What is left to check where the loops have been found without fault."""

_ORDER = ("stop", "warn", "note")


def findings(profile: Profile, job: Job, rules: Sequence[ModuleType] = RULES) -> tuple[Finding, ...]:
    """Return what the rules found, `stop` first, otherwise in the order of the rules."""
    found = [_tidy(finding) for rule in rules for finding in rule.check(profile, job)]
    return ordered(found)


def ordered(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with `stop` first, otherwise as they come."""
    return tuple(sorted(found, key=lambda finding: _ORDER.index(finding.severity)))


def _tidy(finding: Finding) -> Finding:
    """The finding without the rounding noise of its measurement: 6.6 for 6.599999999999994."""
    if finding.measured is None:
        return finding
    return replace(finding, measured=round(finding.measured, TIDY_DECIMALS))
