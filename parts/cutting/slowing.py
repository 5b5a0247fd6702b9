"""Where the torch slows: the stretches of each loop that it goes below a share of the feed.

A jet set for its feed and led slower cuts wider: a plasma arc reaches for the far side of its own kerf, dross
builds up and corners burn. How slow is a matter of the machine (`parts.cutting.pace`); a loop is a lap in full motion.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from parts.cutting.job import Job
from parts.cutting.machine import Machine
from parts.cutting.pace import Pace, lap
from parts.data import threshold
from parts.geometry import Loop
from parts.geometry.narrow import KNOWN_AGAIN
from parts.tolerance import SAME_POINT_MM

SLOW = threshold("slowing", "slow_share")
"""Share of the feed below which a stretch counts as slow (from memory: where a torch's height is held still, since
the arc's voltage no longer tells it)."""


class Stretch(NamedTuple):
    """A piece of one segment of a loop, from `start` mm along it over `length` mm, gone at one step.

    `step` counts the shares asked for that it is below: 1 is below the greatest of them alone.
    """

    segment: int
    start: float
    length: float
    step: int

    @property
    def end(self) -> float:
        """Where it ends, in mm along its segment."""
        return self.start + self.length


@dataclass(frozen=True, slots=True)
class SlowRun:
    """Stretches end to end, round a whole loop at most; `length` is theirs together, in mm."""

    stretches: tuple[Stretch, ...]

    @property
    def length(self) -> float:
        """Length in mm."""
        return math.fsum(stretch.length for stretch in self.stretches)

    @property
    def middle(self) -> tuple[int, float]:
        """The segment, and how far along it in mm, half way of the run."""
        left = self.length / 2
        for stretch in self.stretches:
            if left <= stretch.length:
                break
            left -= stretch.length
        else:
            return stretch.segment, stretch.end
        return stretch.segment, stretch.start + left


def laps(loops: Sequence[Loop], job: Job) -> tuple[Pace, ...]:
    """Return the pace round each loop."""
    return tuple(pace_round(loop, job) for loop in loops)


def pace_round(loop: Loop, job: Job) -> Pace:
    """Return the pace round a loop; a rule and the measures ask for the same ones, so the last are remembered."""
    few = len(loop.segments) <= KNOWN_AGAIN
    return (_lap if few else _lap.__wrapped__)(loop, job.cut.feed_mm_s, job.machine)


@lru_cache(maxsize=256)
def _lap(loop: Loop, feed: float, machine: Machine) -> Pace:
    return lap(loop.segments, feed, machine)


def share_below(paces: Sequence[Pace], share: float) -> float:
    """Return the share of the length of all paces, 0 to 1, that is gone below a share of the feed; of none, 0."""
    length = math.fsum(phase.length for pace in paces for phase in pace.phases)
    slow = math.fsum(phase.length_below(share * pace.feed) for pace in paces for phase in pace.phases)
    return slow / length if paces else 0.0


def stretches(pace: Pace, shares: Sequence[float]) -> Iterator[Stretch]:
    """Yield the stretches below the first of some falling shares of the feed, in order along the path.

    A phase that passes one of the shares is cut there: v² is linear along it.
    """
    speeds = [share * pace.feed for share in shares]
    for phase in pace.phases:
        slowest, fastest = sorted((phase.speed_in, phase.speed_out))
        if slowest > speeds[0]:
            continue
        u, v, length = phase.speed_in**2, phase.speed_out**2, phase.length
        passed = [length * (speed**2 - u) / (v - u) for speed in speeds if slowest < speed < fastest]
        for low, high in pairwise(sorted((0.0, *passed, length))):
            middle = math.sqrt(u + (v - u) * ((low + high) / 2) / length)
            step = sum([middle < speed for speed in speeds])
            if step and high - low > SAME_POINT_MM:
                yield Stretch(phase.segment, phase.start + low, high - low, step)


def runs(pace: Pace, shares: Sequence[float]) -> list[SlowRun]:
    """Return the stretches of a lap put together where they follow each other at one step."""
    last = {phase.segment: phase.start + phase.length for phase in pace.phases}
    count = len(last)
    chains: list[list[Stretch]] = []
    for stretch in stretches(pace, shares):
        if chains and _follows(chains[-1][-1], stretch, last, count):
            chains[-1].append(stretch)
        else:
            chains.append([stretch])
    if len(chains) > 1 and _follows(chains[-1][-1], chains[0][0], last, count):
        chains[0] = chains.pop() + chains[0]
    return [SlowRun(tuple(chain)) for chain in chains]


def _follows(before: Stretch, after: Stretch, last: dict[int, float], count: int) -> bool:
    """Whether a stretch begins, at the same step, where another one ends."""
    if before.step != after.step:
        return False
    if before.segment == after.segment and abs(after.start - before.end) <= SAME_POINT_MM:
        return True
    at_end = abs(before.end - last[before.segment]) <= SAME_POINT_MM
    return at_end and after.start <= SAME_POINT_MM and after.segment == (before.segment + 1) % count
