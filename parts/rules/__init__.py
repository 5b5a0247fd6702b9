"""The rules: each module looks at a profile for one kind of mistake and yields findings."""

from parts.finding import Finding
from parts.job import Job
from parts.profile import Profile
from parts.rules import bed_fit, bridge_width, hole_to_thickness, loops

RULES = (loops, hole_to_thickness, bridge_width, bed_fit)
_ORDER = ("stop", "warn", "note")


def findings(profile: Profile, job: Job) -> tuple[Finding, ...]:
    """Return what every rule found, `stop` first, otherwise in the order of the rules."""
    found = [finding for rule in RULES for finding in rule.check(profile, job)]
    return tuple(sorted(found, key=lambda finding: _ORDER.index(finding.severity)))
