"""Bridge width: the material left between two cuts, or between a cut and the edge, stands the heat.

A *bridge* is where the largest circle inside the material touches its boundary at both ends of a
diameter: a local minimum of the material's width, between two loops or between two places of one.

Rule    width >= narrowest bridge of the process at this thickness
Number  `narrowest_bridge` in `parts/data/processes.toml`, each with its source
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.finding import Finding
from parts.geometry.narrow import Neck
from parts.profile import Profile

RULE = "bridge-width"
NUMBERS = ("narrowest_bridge",)


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each bridge too narrow for the cut, narrowest first; one at the limit passes."""
    cut, limit = job.cut, job.cut.narrowest_bridge_mm
    for neck in profile.necks(limit):
        yield Finding(
            RULE, "stop", neck.middle, neck.width, limit,
            f"Only {job.say(neck.width, limit)} is left {_between(profile, neck)}; "
            f"{cut.title.lower()} in {job.say(cut.thickness_mm)} plate wants {job.say(limit, neck.width)}.",
            _remedy(profile, neck, job.say(limit - neck.width)),
        )  # fmt: skip


def _between(profile: Profile, neck: Neck) -> str:
    if neck.loop_a == neck.loop_b:
        return f"across a neck of {profile.name(neck.loop_a)}"
    return f"between {profile.name(neck.loop_b)} and {profile.name(neck.loop_a)}"


def _remedy(profile: Profile, neck: Neck, missing: str) -> str:
    count = len(profile.outside)
    if neck.loop_a == neck.loop_b:
        return f"Widen it by {missing}."
    if neck.loop_a < count:
        return f"Move {profile.name(neck.loop_b)} further in by {missing}, or make it smaller."
    return f"Move them {missing} further apart, or make one smaller."
