"""Long strip: none so long for its width that the heat of the cut bows it.

A *strip* is a whole part in its narrowest box, at any angle, or the material between two straight cuts that run side by
side. One edge is hot and grows while the other is cold; what is long against its width bends to it.

Rule    width >= straight strip of the process at this thickness, or length < 10 widths; from 20 widths on a warning
Number  `straight_strip` in `parts/data/processes.toml`, each with its source; 10 and 20 widths are common practice
"""

import math
from collections.abc import Iterator

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding
from parts.geometry import Line, Point
from parts.geometry.narrow import Boundary, Runs, free_stretches, runs_between_lines
from parts.geometry.reach import Extent
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_NECK_MM

RULE = "long-strip"
NUMBERS = ("straight_strip", "narrowest_bridge", "rules.long-strip")
SLENDER = threshold("long-strip", "slender_widths")
VERY_SLENDER = threshold("long-strip", "very_slender_widths")


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each part that is a strip, and one for the strips within parts; at the limit passes."""
    limit = job.cut.straight_strip_mm - LIMIT_SLACK_MM
    whole = set()
    for index, loop in enumerate(profile.outside):
        if 2 * loop.area / loop.perimeter >= limit:
            continue  # a box around the loop is as long as half its perimeter at most, so wider than this
        extent = Extent(loop)
        if extent.surely >= limit:
            continue
        width, angle = extent.least()
        length = extent.width(angle + math.pi / 2)
        if job.cut.narrowest_bridge_mm - LIMIT_SLACK_MM <= width < limit and length >= SLENDER * width - LIMIT_SLACK_MM:
            whole.add(index)
            x, y = extent.middle(angle)
            yield _finding([(width, length, (x, y))], job, "The part is a strip")
    if strips := sorted(_strips(profile, job, limit, whole), key=lambda strip: (-strip[1] / strip[0], strip[2])):
        yield _finding(strips, job, f"{len(strips)} strips are left, one" if len(strips) > 1 else "A strip is left,")


def _strips(profile: Profile, job: Job, limit: float, whole: set[int]) -> Iterator[tuple[float, float, Point]]:
    """Yield width, length and place of each strip between two long straight cuts."""
    least = job.cut.narrowest_bridge_mm - LIMIT_SLACK_MM  # what is narrower is a bridge, and told as such
    lines = [
        line
        for index, loop in enumerate(profile.boundary)
        if index not in whole
        for line in loop.unsplit
        if isinstance(line, Line) and line.length >= SLENDER * least
    ]
    runs = runs_between_lines(lines, least, limit)
    if not len(runs.width):
        return
    free = _slender(free_stretches(_slender(runs), Boundary(profile.boundary, limit)))
    for width, length, middle in zip(free.width.tolist(), free.path.length.tolist(), free.middle.tolist(), strict=True):
        yield width, length, (middle.real, middle.imag)


def _slender(runs: Runs) -> Runs:
    return runs.where(runs.path.length >= SLENDER * runs.width - SAME_NECK_MM)


def _finding(strips: list[tuple[float, float, Point]], job: Job, what: str) -> Finding:
    (width, length, at), *others = strips
    cut = job.cut
    return Finding(
        RULE, "warn" if length >= VERY_SLENDER * width - SAME_NECK_MM else "note", at, width, cut.straight_strip_mm,
        f"{what} {job.say(length)} long and {job.say(width)} wide; {cut.title.lower()} in {job.say(cut.thickness_mm)} "
        f"plate bows strips under {job.say(cut.straight_strip_mm)}.",
        "Cut it as one of a pair, leave tabs until it is cold, or make it wider.",
        also=tuple(place for _, _, place in others),
    )  # fmt: skip
