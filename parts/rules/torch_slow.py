"""Torch slow: a jet of heat set for its feed and led much slower widens its cut and leaves dross.

A *run* is a stretch of one loop along which the machine, looking ahead, stays under half of the feed: where corners
and short pieces follow each other, or arcs are tight. Every sharp corner and every end of a slot slows the torch a
moment, and that is no run; a run is longer than four full stops take. A waterjet only gets slower, so it isn't checked.

Rule    round a hole the machine holds half of the feed; no run is longer than four full stops and than 10 kerfs
Number  `feed` and `kerf` in `parts/data/processes.toml`, `acceleration`, `top_speed` and `corner_tolerance` of
        `machine`, each with its source; half of the feed, a quarter to warn, four stops and 10 kerfs are from memory
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.cutting import Job, SlowRun, pace_round, runs
from parts.data import threshold
from parts.finding import Finding
from parts.geometry import Circle, Loop, Point
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import MM_PER_IN

RULE = "torch-slow"
NUMBERS = (
    *("feed", "kerf", "rules.torch-slow"),
    *("machine.acceleration_mm_s2", "machine.top_speed_mm_s", "machine.corner_tolerance_mm"),
)

COLD = frozenset({"waterjet"})
"""Processes that cut without heat."""

HALF, QUARTER = threshold("torch-slow", "half_share"), threshold("torch-slow", "quarter_share")
STOPS, KERFS = threshold("torch-slow", "stops"), threshold("torch-slow", "least_kerfs")


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield at most one finding for all holes too tight for the feed, and one for all runs of the part."""
    if job.cut.process in COLD:
        return
    if job.machine.top_speed < HALF * job.cut.feed_mm_s:
        yield _too_fast(profile, job)
        return
    limit = tightest_mm(job) - LIMIT_SLACK_MM
    circles = [(i, circle) for i, loop in enumerate(profile.boundary) if (circle := loop.circle)]
    if tight := sorted((of for of in circles if of[1].diameter < limit), key=lambda of: of[1].diameter):
        yield _holes(profile, job, tight)
    if places := sorted(_places(profile, job), key=lambda place: (not place.crawls, -place.run.length)):
        yield _runs(profile, job, places)


def tightest_mm(job: Job) -> float:
    """Return the diameter round which the machine holds half of the feed: v² = a r."""
    return 2 * (HALF * job.cut.feed_mm_s) ** 2 / job.machine.acceleration


def longest_mm(job: Job) -> float:
    """Return how long a run may be: four times what a full stop takes under half of the feed, v²/2a to each side.

    At least 10 kerfs.
    """
    one_stop = (HALF * job.cut.feed_mm_s) ** 2 / job.machine.acceleration
    return max(STOPS * one_stop, KERFS * job.cut.kerf_mm)


@dataclass(frozen=True, slots=True)
class _Place:
    """A run that is too long, the loop it is on, and whether much of it is under a quarter of the feed."""

    index: int
    run: SlowRun
    crawls: bool


def _places(profile: Profile, job: Job) -> Iterator[_Place]:
    limit = longest_mm(job) + LIMIT_SLACK_MM
    for index, loop in enumerate(profile.boundary):
        if loop.circle or loop.perimeter <= limit:
            continue
        pace = pace_round(loop, job)
        if all(phase.length_below(HALF * pace.feed) == 0 for phase in pace.phases):
            continue
        crawls = any(run.length > limit for run in runs(pace, (QUARTER,)))
        yield from (_Place(index, run, crawls) for run in runs(pace, (HALF,)) if run.length > limit)


def _too_fast(profile: Profile, job: Job) -> Finding:
    x0, y0, x1, y1 = profile.box
    return Finding(
        RULE, "warn", ((x0 + x1) / 2, (y0 + y1) / 2), None, None,
        f"{job.cut.title} in {job.say(job.cut.thickness_mm)} plate has a feed here of which the machine reaches "
        f"{100 * job.machine.top_speed / job.cut.feed_mm_s:.0f} % at its top speed.",
        "Take a setting of your cut chart with less feed: a lower current or power.",
    )  # fmt: skip


def _holes(profile: Profile, job: Job, tight: Sequence[tuple[int, Circle]]) -> Finding:
    """One finding for all of them, at the smallest."""
    index, smallest = tight[0]
    size, limit = job.say(smallest.diameter), job.say(_rough(tightest_mm(job), job, up=True))
    percent = math.floor(100 * math.sqrt(job.machine.acceleration * smallest.diameter / 2) / job.cut.feed_mm_s)
    if len(tight) == 1:
        message = f"{_capital(profile.name(index))} is {size}: the machine goes round it at {percent} % of the feed"
    else:
        message = f"{len(tight)} holes are so small that the machine goes round at {percent} % of the feed in {size}"
    return Finding(
        RULE, "note", smallest.centre, smallest.diameter, tightest_mm(job),
        f"{message}; it holds half from {limit} on.",
        f"Expect {'it' if len(tight) == 1 else 'them'} wider and with more dross, or cut the part at less feed "
        "and power.",
        also=tuple(circle.centre for _, circle in tight[1:]),
    )  # fmt: skip


def _runs(profile: Profile, job: Job, places: Sequence[_Place]) -> Finding:
    """One finding for all of them, at the longest."""
    first, loops = places[0], profile.boundary
    crawls = first.crawls
    loop, name, length = loops[first.index], profile.name(first.index), job.say(_rough(first.run.length, job))
    whole = first.run.length >= loop.perimeter - LIMIT_SLACK_MM
    where = f"all the way round {name}, {length}" if whole else f"for {length} along {name}"
    return Finding(
        RULE, "warn" if crawls else "note", _middle(loop, first.run), first.run.length, longest_mm(job),
        f"The torch stays under {'a quarter' if crawls else 'half'} of its feed {where}"
        f"{f', and at {len(places) - 1} more' if len(places) > 1 else ''}: corners and short pieces follow each other.",
        "Round the corners or draw it coarser; or cut the part at less feed and power.",
        also=tuple(_middle(loops[place.index], place.run) for place in places[1:]),
    )  # fmt: skip


def _rough(mm: float, job: Job, *, up: bool = False) -> float:
    """A length to the tenth of a millimetre or the hundredth of an inch, to be said; `up`: no less than it is."""
    step = 0.1 if job.units == "mm" else MM_PER_IN / 100
    return (math.ceil(mm / step - LIMIT_SLACK_MM) if up else round(mm / step)) * step


def _middle(loop: Loop, run: SlowRun) -> Point:
    """The place half way of a run."""
    index, along = run.middle
    segment = loop.segments[index]
    return segment.at(min(along / segment.length, 1.0))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
