"""Hole to thickness: a jet can't follow a hole that is small for the plate it is in.

Rule    diameter >= smallest hole of the process at this thickness
Number  `smallest_hole` in `parts/data/processes.toml`, each with its source
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.finding import Finding
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM

RULE = "hole-to-thickness"


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each round hole too small for the cut; a hole at the limit passes."""
    cut, limit = job.cut, job.cut.smallest_hole_mm
    for index, opening in enumerate(profile.inside, start=len(profile.outside)):
        hole = opening.loop.circle
        if hole is None or hole.diameter >= limit - LIMIT_SLACK_MM:
            continue
        name = profile.name(index)
        yield Finding(
            RULE, "stop", hole.centre, hole.diameter, limit,
            f"{name[0].upper()}{name[1:]} is {job.say(hole.diameter)} in {job.say(cut.thickness_mm)} plate; "
            f"{cut.title.lower()} wants {job.say(limit)}.",
            f"Drill it instead, or make it {job.say(limit)} or more.",
            (("small_holes", "drill"),),
        )  # fmt: skip
