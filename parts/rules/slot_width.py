"""Slot width: a slot, a notch or the gap between two pieces is wide enough for the process to cut.

The width is that of the void, the space around the metal: measured where it is least, between two loops or
between two places of one. A round hole, and an opening that is nowhere wide enough, is left to
`hole-to-thickness`. The mouth of a round relief at an inside corner is no slot: the jet doesn't run along between
two walls there.

Rule    width >= narrowest slot of the process at this thickness, else a warning: the second cut runs in what
        the first has heated; width >= kerf, else a stop: one pass takes more than the slot
Number  `narrowest_slot` and `kerf` in `parts/data/processes.toml`, each with its source
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.finding import Finding
from parts.geometry.narrow import Neck, gaps, islands
from parts.profile import Profile
from parts.rules.hole_to_thickness import too_small
from parts.tolerance import LIMIT_SLACK_MM

RULE = "slot-width"
NUMBERS = ("narrowest_slot", "kerf", "smallest_hole", "rules.hole-to-thickness")


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each loop, or pair of loops, with gaps too narrow for the cut; one at the limit passes."""
    limit = max(job.cut.narrowest_slot_mm, job.cut.kerf_mm)
    places: dict[tuple[int, int], list[Neck]] = {}
    for gap in gaps(profile.boundary, limit):
        places.setdefault((min(gap.loop_a, gap.loop_b), max(gap.loop_a, gap.loop_b)), []).append(gap)
    within = islands(profile.boundary) if places else {}
    for loops, found in places.items():
        is_hole = loops[0] == loops[1] >= len(profile.outside)
        if not is_hole or not too_small(profile.boundary, loops[0], within.get(loops[0], ()), job.cut):
            yield _finding(profile, job, loops, found, limit)


def _finding(profile: Profile, job: Job, loops: tuple[int, int], found: list[Neck], limit: float) -> Finding:
    cut, narrowest = job.cut, found[0]
    shut = narrowest.width < cut.kerf_mm - LIMIT_SLACK_MM
    width, wants = job.say_apart(narrowest.width, cut.kerf_mm if shut else limit)
    where = f" at the narrowest of {len(found)} places" if len(found) > 1 else ""
    said = f"{_subject(profile, loops)} is only {width} wide{where}"
    if shut:
        said += f"; one pass of {cut.title.lower()} in {job.say(cut.thickness_mm)} plate takes {wants}."
    else:
        said += f"; {cut.title.lower()} in {job.say(cut.thickness_mm)} plate wants {wants}."
    return Finding(
        RULE, "stop" if shut else "warn", narrowest.middle, narrowest.width, cut.kerf_mm if shut else limit,
        said, _remedy(job, loops, limit, limit - narrowest.width, shut), (), tuple(gap.middle for gap in found[1:]),
    )  # fmt: skip


def _subject(profile: Profile, loops: tuple[int, int]) -> str:
    a, b = loops
    if a != b:
        return f"The gap between {profile.name(b)} and {profile.name(a)}"
    name = profile.name(a)
    return f"A notch in {name}" if a < len(profile.outside) else f"{name[0].upper()}{name[1:]}"


def _remedy(job: Job, loops: tuple[int, int], limit: float, missing: float, shut: bool) -> str:
    if loops[0] != loops[1]:
        return f"Move them {job.say(missing)} further apart."
    if shut:
        return f"Make it {job.say(limit)} wide or more, or scribe it as a line."
    return f"Make it {job.say(missing)} wider, or cut it another way."
