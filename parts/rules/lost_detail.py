"""Lost detail: the jet gets into every notch, and reaches into every tip but for what a square corner loses too.

A jet is a disc of half the kerf. Where a notch narrows to a tip, it comes to rest on both flanks and the rest
of the tip stays metal: of an angle a between straight flanks r (1 / sin(a/2) - 1), r half the kerf. Measured
is how far the tip is from the resting jet, on the true lines and arcs, however the tip is drawn.

Every square inside corner loses (sqrt 2 - 1) r, which is a fifth of the kerf, and nobody minds; half a kerf
beyond that shows, and is more than a loose fit allows for. Straight flanks lose so much at 49 degrees or less.
A *notch* narrower than the kerf, its end round or blunt, has the jet resting on its two lips: the outline goes on
past it as if it weren't there. Nothing is said where no more than a tenth of the kerf is lost of its depth.
A slot narrower than the kerf is left to `slot-width`, an opening in which the jet has no room to `pierce-room`.

Rule    depth lost in a tip <= (sqrt 2 - 1) / 2 kerf + 1/2 kerf; width of a notch >= kerf
Number  `kerf` in `parts/data/processes.toml`, each with its source; the half and the tenth of it are a shop's
        judgement (common practice: a detail finer than the kerf isn't drawn)
"""

import math
from collections.abc import Iterator

from parts.cutting import Cut, Job
from parts.data import threshold
from parts.finding import Finding
from parts.geometry import distance
from parts.geometry.disk import Pocket, pockets
from parts.geometry.narrow import Neck, gaps
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_NECK_MM, TIDY_DECIMALS

RULE = "lost-detail"
NUMBERS = ("kerf", "rules.lost-detail")

_SQUARE = (math.sqrt(2) - 1) / 2
"""What a square corner loses, in kerfs."""

_MORE = threshold("lost-detail", "more_kerfs")
"""What a tip may lose over that, in kerfs."""

_LEAST_TURN = math.radians(threshold("lost-detail", "least_turn_deg"))
"""A corner between straight flanks that turns by 131 degrees loses just so much; one between curved ones turns more."""

_GOES_ON = math.radians(threshold("lost-detail", "goes_on_deg"))
"""A pocket that turns by less from where it begins to where it ends is a notch; by more, a corner (`inside-corner`)."""

_UNSEEN = threshold("lost-detail", "unseen_kerfs")
"""Of a notch's depth, in kerfs, what may be lost unsaid."""


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a warning for each loop that has tips the jet doesn't reach into, for the deepest, and one for notches."""
    kerf, limit = job.cut.kerf_mm, depth_allowed(job.cut)
    found = [p for p in pockets(profile.boundary, kerf / 2, _LEAST_TURN) if p.depth > _UNSEEN * kerf + LIMIT_SLACK_MM]
    deep = [p for p in found if p.depth > limit + LIMIT_SLACK_MM]
    notched = [p for p in found if p.depth <= limit + LIMIT_SLACK_MM and p.turn < _GOES_ON]
    shut = [gap for gap in gaps(profile.boundary, kerf) if gap.width < kerf - LIMIT_SLACK_MM] if deep or notched else []
    for loop, tips in _by_loop(deep, shut):
        yield _tips(profile, job, loop, sorted(tips, key=lambda tip: -round(tip.depth, TIDY_DECIMALS)))
    for loop, notches in _by_loop(notched, shut):
        yield _notches(profile, job, loop, sorted(notches, key=lambda notch: round(_mouth(notch), TIDY_DECIMALS)))


def _by_loop(found: list[Pocket], shut: list[Neck]) -> Iterator[tuple[int, list[Pocket]]]:
    """Yield the pockets of each loop, but those in a slot that is narrower than the kerf."""
    of: dict[int, list[Pocket]] = {}
    for pocket in found:
        if not any(_is_in(gap, pocket) for gap in shut):
            of.setdefault(pocket.loop, []).append(pocket)
    yield from of.items()


def depth_allowed(cut: Cut) -> float:
    """Return how far a tip may be from the jet at rest, mm: half a kerf more than a square corner is."""
    return (_SQUARE + _MORE) * cut.kerf_mm


def _mouth(notch: Pocket) -> float:
    """How wide a notch is where the jet rests on its lips, mm."""
    return distance(notch.stretch[0].start, notch.stretch[-1].end)


def _is_in(gap: Neck, pocket: Pocket) -> bool:
    """Whether a gap has an end on the stretch that the jet can't touch."""
    return any(
        distance(segment.nearest(end), end) <= SAME_NECK_MM
        for end in (gap.start, gap.end)
        for segment in pocket.stretch
    )


def _tips(profile: Profile, job: Job, loop: int, tips: list[Pocket]) -> Finding:
    kerf, deepest = job.cut.kerf_mm, tips[0].depth
    where = f"a tip of {profile.name(loop)}" if len(tips) == 1 else f"{len(tips)} tips of {profile.name(loop)}"
    short = job.say(deepest) if len(tips) == 1 else f"up to {job.say(deepest)}"
    return Finding(
        RULE, "warn", tips[0].tip, deepest, depth_allowed(job.cut),
        f"The cut ends {short} short of {where}: the jet of {job.cut.title.lower()} is {job.say(kerf)} wide there.",
        f"End it blunt, {job.say(kerf)} wide or more, or with a radius of {job.say(kerf / 2)}.",
        (), tuple(pocket.tip for pocket in tips[1:]),
    )  # fmt: skip


def _notches(profile: Profile, job: Job, loop: int, notches: list[Pocket]) -> Finding:
    kerf, narrowest = job.cut.kerf_mm, _mouth(notches[0])
    one = len(notches) == 1
    where = f"a notch in {profile.name(loop)}" if one else f"{len(notches)} notches in {profile.name(loop)}"
    wide = job.say(narrowest, kerf) + ("" if one else " or more")
    return Finding(
        RULE, "warn", notches[0].tip, narrowest, kerf,
        f"The jet of {job.cut.title.lower()}, {job.say(kerf, narrowest)} wide, doesn't get into {where}, {wide} wide: "
        f"the cut goes past {'it' if one else 'them'}.",
        f"Make {'it' if one else 'each'} {job.say(kerf)} wide or more, or leave {'it' if one else 'them'} out.",
        (), tuple(pocket.tip for pocket in notches[1:]),
    )  # fmt: skip
