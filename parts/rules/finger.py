"""Finger: one that tapers keeps metal enough at its end not to burn away.

A *finger's tip* is a stretch of the outline that turns left by more than 120 degrees in all, between two flanks
that run away from it at less than 60 degrees to each other, for longer than the tip is wide. The width of a blunt
tip is the distance between its flanks, of a round one twice its radius. A finger with parallel sides is a bridge,
and `bridge-width` finds it; a point, cut off by less than half a kerf, is for `outside-tip`. A finger narrower than
the kerf over more than two kerfs of its length won't be there after the cut: stop.

Rule    width of the tip >= narrowest bridge of the process at this thickness
Number  `narrowest_bridge` in `parts/data/processes.toml`, each with its source; the angles are common practice
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding
from parts.geometry import Loop
from parts.geometry.narrow import Tip, depths, tips
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM

RULE = "finger"
NUMBERS = ("narrowest_bridge", "kerf", "rules.finger", "rules.tip")
LOST_KERFS = threshold("finger", "lost_kerfs")


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each loop with fingers whose tips are too narrow; a tip at the limit passes."""
    kerf, limit = job.cut.kerf_mm, job.cut.narrowest_bridge_mm
    narrow = {
        index: sorted(found, key=lambda tip: (tip.width, tip.middle))
        for index, loop in enumerate(profile.boundary)
        if (found := tips(loop, limit - LIMIT_SLACK_MM, kerf / 2))
    }
    lost = _with_one_lost([(profile.boundary[index], found) for index, found in narrow.items()], kerf)
    for (index, found), is_lost in zip(narrow.items(), lost, strict=True):
        yield _finding(profile.name(index), found, job, is_lost)


def _with_one_lost(found: list[tuple[Loop, list[Tip]]], kerf: float) -> list[bool]:
    """Whether so much of a finger of each loop is narrower than the kerf that nothing of use is left of it."""
    thin = [(loop, [tip for tip in tips if tip.width < kerf - LIMIT_SLACK_MM]) for loop, tips in found]
    return [any(depth > LOST_KERFS * kerf for depth in of) for of in depths(thin, kerf, (LOST_KERFS + 1) * kerf)]


def _finding(name: str, found: list[Tip], job: Job, lost: bool) -> Finding:
    cut, (worst, *others) = job.cut, found
    limit, width = cut.narrowest_bridge_mm, job.say(worst.width, cut.narrowest_bridge_mm)
    wants = f"{cut.title.lower()} in {job.say(cut.thickness_mm)} plate wants {job.say(limit, worst.width)}"
    tips_of = (
        f"{len(found)} fingers of {name} taper to tips as narrow as" if others else f"A finger of {name} tapers to"
    )
    end = f"; narrower than the {job.say(cut.kerf_mm)} kerf, it burns away" if lost else ""
    return Finding(
        RULE, "stop" if lost else "warn", worst.middle, worst.width, limit,
        f"{tips_of} {width}; {wants}{end}.",
        f"End it where it is {job.say(limit)} wide, or make it wider.",
        also=tuple(tip.middle for tip in others),
    )  # fmt: skip
