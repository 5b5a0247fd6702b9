"""Short segment: no stretch of many pieces shorter than the kerf, along which the torch stutters.

A *stretch* is five or more pieces of one loop that follow each other, each shorter than the kerf, with a break of
direction between them: a curve shattered into chords, at each of which the machine slows. Arcs that go over into each
other or into a line smoothly (by less than 2 degrees) are no break, so rounded corners and fitted curves pass; so do
a chamfer or a step, being fewer than five. What a file holds as two lines in one direction counts as one.

Rule    fewer than 5 pieces shorter than the kerf in a row
Number  `kerf` in `parts/data/processes.toml`, each with its source; five and 2 degrees are common practice
"""

import math
from collections.abc import Iterator, Sequence

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding
from parts.geometry import Line, Loop, Segment
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM

RULE = "short-segment"
NUMBERS = ("kerf", "rules.short-segment")
FEWEST = int(threshold("short-segment", "fewest"))
SMOOTH_RAD = math.radians(threshold("short-segment", "smooth_deg"))


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each loop with stretches of pieces shorter than the kerf."""
    kerf = job.cut.kerf_mm
    for index, loop in enumerate(profile.boundary):
        stretches = sorted(short_stretches(loop, kerf), key=lambda run: (-len(run), _middle(run)))
        if stretches:
            yield _finding(profile.name(index), stretches, job)


def short_stretches(loop: Loop, kerf: float) -> Iterator[list[Segment]]:
    """Yield each stretch of a loop, in order from some break on."""
    segments = loop.unsplit
    n = len(segments)
    short = [segment.length < kerf - LIMIT_SLACK_MM for segment in segments]
    if sum(short) < FEWEST:
        return
    linked = [short[i - 1] and short[i] and _breaks(segments[i - 1], segments[i], loop.corners[i]) for i in range(n)]
    first = next((i for i in range(n) if not linked[i]), 0)
    run: list[Segment] = []
    for k in range(first, first + n):
        i = k % n
        if run and not (linked[i] and k > first):
            if len(run) >= FEWEST:
                yield run
            run = []
        if short[i]:
            run.append(segments[i])
    if len(run) >= FEWEST:
        yield run


def _breaks(before: Segment, after: Segment, corner: float) -> bool:
    """Whether the torch has to change direction at once between two segments; two lines would else be one."""
    return (isinstance(before, Line) and isinstance(after, Line)) or abs(corner) > SMOOTH_RAD


def _middle(run: Sequence[Segment]) -> tuple[float, float]:
    """Halfway along a stretch: the middle of its middle piece, or the joint between the middle two."""
    half = len(run) // 2
    return run[half].at(0.5) if len(run) % 2 else run[half].start


def _finding(name: str, stretches: list[list[Segment]], job: Job) -> Finding:
    count = sum(len(run) for run in stretches)
    shortest = min(segment.length for run in stretches for segment in run)
    kerf = job.cut.kerf_mm
    where = f" in {len(stretches)} stretches" if len(stretches) > 1 else " in a row"
    return Finding(
        RULE, "warn", _middle(stretches[0]), shortest, kerf,
        f"{count} pieces{where} of {name} are shorter than the {job.say(kerf)} kerf, down to {job.say(shortest)}; "
        f"the torch stutters along them.",
        "Draw the curve as a few arcs in place of many short lines.",
        also=tuple(_middle(run) for run in stretches[1:]),
    )  # fmt: skip
