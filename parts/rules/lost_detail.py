"""Lost detail: the jet reaches into every tip and notch, but for what a square corner loses too.

A jet is a disc of half the kerf. Where a notch narrows to a tip, it comes to rest on both flanks and the rest
of the tip stays metal: of an angle a between straight flanks r (1 / sin(a/2) - 1), r half the kerf. Measured
is how far the tip is from the resting jet, on the true lines and arcs, however the tip is drawn.

Every square inside corner loses (sqrt 2 - 1) r, which is a fifth of the kerf, and nobody minds; half a kerf
beyond that shows, and is more than a loose fit allows for. Straight flanks lose so much at 49 degrees or less.
A slot narrower than the kerf is left to `slot-width`, an opening in which the jet has no room to `pierce-room`.

Rule    depth lost <= (sqrt 2 - 1) / 2 kerf + 1/2 kerf
Number  `kerf` in `parts/data/processes.toml`, each with its source; the half kerf is a shop's judgement
        (common practice: a detail finer than the kerf isn't drawn)
"""

import math
from collections.abc import Iterator

from parts.finding import Finding
from parts.geometry.pocket import Pocket, pockets
from parts.geometry.segment import distance
from parts.geometry.void import gaps
from parts.geometry.width import Neck
from parts.job import Job
from parts.process import Cut
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_NECK_MM, TIDY_DECIMALS

RULE = "lost-detail"

_SQUARE = (math.sqrt(2) - 1) / 2
"""What a square corner loses, in kerfs."""

_LEAST_TURN = math.radians(130)
"""A corner between straight flanks that turns by 131 degrees loses just so much; one between curved ones turns more."""


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a warning for each loop that has tips the jet doesn't reach into, for the deepest of them."""
    kerf, limit = job.cut.kerf_mm, depth_allowed(job.cut)
    found = [each for each in pockets(profile.boundary, kerf / 2, _LEAST_TURN) if each.depth > limit + LIMIT_SLACK_MM]
    shut = [gap for gap in gaps(profile.boundary, kerf) if gap.width < kerf - LIMIT_SLACK_MM] if found else []
    tips: dict[int, list[Pocket]] = {}
    for pocket in found:
        if not any(_is_in(gap, pocket) for gap in shut):
            tips.setdefault(pocket.loop, []).append(pocket)
    for loop, of in tips.items():
        yield _finding(profile, job, loop, sorted(of, key=lambda pocket: -round(pocket.depth, TIDY_DECIMALS)))


def depth_allowed(cut: Cut) -> float:
    """Return how far a tip may be from the jet at rest, mm: half a kerf more than a square corner is."""
    return (_SQUARE + 0.5) * cut.kerf_mm


def _is_in(gap: Neck, pocket: Pocket) -> bool:
    """Whether a gap has an end on the stretch that the jet can't touch."""
    return any(
        distance(segment.nearest(end), end) <= SAME_NECK_MM
        for end in (gap.start, gap.end)
        for segment in pocket.stretch
    )


def _finding(profile: Profile, job: Job, loop: int, tips: list[Pocket]) -> Finding:
    kerf, deepest = job.cut.kerf_mm, tips[0].depth
    where = f"a tip of {profile.name(loop)}" if len(tips) == 1 else f"{len(tips)} tips of {profile.name(loop)}"
    short = job.say(deepest) if len(tips) == 1 else f"up to {job.say(deepest)}"
    return Finding(
        RULE, "warn", tips[0].tip, deepest, depth_allowed(job.cut),
        f"The cut ends {short} short of {where}: the jet of {job.cut.title.lower()} is {job.say(kerf)} wide there.",
        f"End it blunt, {job.say(kerf)} wide or more, or with a radius of {job.say(kerf / 2)}.",
        (), tuple(pocket.tip for pocket in tips[1:]),
    )  # fmt: skip
