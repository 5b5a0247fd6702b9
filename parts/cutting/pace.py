"""The pace of the torch: how fast a machine of finite acceleration goes along a path, looking ahead.

Speed is held down by three things: the feed; on an arc of radius r by the acceleration a toward its
centre, v <= sqrt(a r); and at a corner by the corner rule below. Between such limits the machine
speeds up and slows down at a, and it looks ahead along the whole path, so no limit comes as a surprise.

Corner rule: the machine may round a corner within `corner_tolerance` of its point. The arc that does so
for a turn t has the radius r = d cos(t/2) / (1 - cos(t/2)), and the corner is taken at sqrt(a r).
(The distance of an inscribed arc from the corner's point: r (1 / cos(t/2) - 1) = d.)

Lengths are mm, times s, speeds mm/s, accelerations mm/s².
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple, TypeAlias

from parts.cutting.machine import Machine
from parts.geometry import Arc, Loop, Segment, turn_between
from parts.tolerance import PARALLEL_RAD


class Phase(NamedTuple):
    """A stretch of one segment at constant acceleration: from `start` mm along it, over `length` mm."""

    segment: int
    start: float
    length: float
    speed_in: float
    speed_out: float

    @property
    def time(self) -> float:
        """How long it takes in s: the length over the mean speed."""
        return 2 * self.length / (self.speed_in + self.speed_out)

    def length_below(self, speed: float) -> float:
        """Return how much of the length is gone slower than `speed`; v² is linear along the way."""
        low, high = self.speed_in, self.speed_out
        if low > high:
            low, high = high, low
        if speed <= low:
            return 0.0
        if speed > high:
            return self.length
        return self.length * (speed**2 - low**2) / (high**2 - low**2)


@dataclass(frozen=True, slots=True)
class Pace:
    """The phases along one path, in order, and the feed that was asked for."""

    phases: tuple[Phase, ...]
    feed: float

    @property
    def time(self) -> float:
        """How long the whole path takes in s."""
        return math.fsum(phase.time for phase in self.phases)

    def share_below(self, share_of_feed: float) -> float:
        """Return the share of the length, 0 to 1, that is gone slower than a share of the feed."""
        length = math.fsum(phase.length for phase in self.phases)
        return math.fsum(phase.length_below(share_of_feed * self.feed) for phase in self.phases) / length


def corner_speed(turn: float, machine: Machine) -> float:
    """Return the speed at which a corner of `turn` radians is taken; infinite where there is none."""
    if abs(turn) <= PARALLEL_RAD:
        return math.inf
    half = min(abs(turn), math.pi) / 2
    lost = 2 * math.sin(half / 2) ** 2  # 1 - cos(half), which rounds to nothing for the slightest turns
    return math.sqrt(machine.acceleration * machine.corner_tolerance * math.cos(half) / lost)


def pace(
    segments: Sequence[Segment],
    feed: float,
    machine: Machine,
    *,
    speed_in: float = 0.0,
    speed_out: float = 0.0,
) -> Pace:
    """Return the pace along a chain of segments, entered and left at the speeds given.

    A speed that the first or last limits don't allow is taken as high as they do.
    """
    caps = [_cap(segment, feed, machine) for segment in segments]
    joints = [_joint(*of, machine) for of in pairwise(zip(segments, caps, strict=True))]
    speeds = [min(speed_in, caps[0]), *joints, min(speed_out, caps[-1])]
    return Pace(_phases(range(len(segments)), segments, caps, speeds, machine), feed)


def lap(loop: Loop, feed: float, machine: Machine) -> Pace:
    """Return the pace round a loop, that of a lap in full motion.

    A lead-in brings the torch up to speed before the outline and a lead-out takes it on over the place where
    it began, so a lap ends as fast as it starts, and where it starts makes no difference. The slowest joint is
    passed as fast as its own limits allow, whatever comes before and after: the lap is reckoned from there.
    The phases are in order from that joint; their `segment` is the index in the loop.
    """
    segments = loop.segments
    caps = [_cap(segment, feed, machine) for segment in segments]
    count = len(segments)
    joints = [min(caps[i - 1], caps[i], corner_speed(turn, machine)) for i, turn in enumerate(loop.turns)]
    first = min(range(count), key=joints.__getitem__)
    order = [*range(first, count), *range(first)]
    speeds = [*(joints[i] for i in order), joints[first]]
    return Pace(_phases(order, segments, caps, speeds, machine), feed)


SpeedLimit: TypeAlias = tuple[Segment, float]
"""A segment and the most speed it allows."""


def _joint(before: SpeedLimit, after: SpeedLimit, machine: Machine) -> float:
    """The most that a joint of two segments allows."""
    return min(before[1], after[1], corner_speed(turn_between(before[0], after[0]), machine))


def _cap(segment: Segment, feed: float, machine: Machine) -> float:
    """The most that feed, machine and curvature allow anywhere on a segment."""
    most = min(feed, machine.top_speed)
    return min(most, math.sqrt(machine.acceleration * segment.radius)) if isinstance(segment, Arc) else most


def _reachable(speed: float, length: float, machine: Machine) -> float:
    """The speed after speeding up over a length: v² = u² + 2 a s."""
    return math.sqrt(speed**2 + 2 * machine.acceleration * length)


def _phases(
    order: Sequence[int], segments: Sequence[Segment], caps: Sequence[float], speeds: list[float], machine: Machine
) -> tuple[Phase, ...]:
    """The phases along segments in an order: `speeds` are the limits at their ends, lowered to what is reached."""
    lengths = [segments[i].length for i in order]
    for k, length in enumerate(lengths):
        speeds[k + 1] = min(speeds[k + 1], _reachable(speeds[k], length, machine))
    for k in reversed(range(len(lengths))):
        speeds[k] = min(speeds[k], _reachable(speeds[k + 1], lengths[k], machine))
    phases: list[Phase] = []
    for k, (entry, leaving) in enumerate(pairwise(speeds)):
        phases += _phases_on(order[k], lengths[k], (entry, caps[order[k]], leaving), machine)
    return tuple(phases)


def _phases_on(index: int, length: float, speeds: tuple[float, float, float], machine: Machine) -> list[Phase]:
    """Speeding up, steady going and slowing down on one segment, as far as each has any length."""
    entry, cap, leaving = speeds
    a = machine.acceleration
    peak = min(cap, math.sqrt((entry**2 + leaving**2) / 2 + a * length))
    up, down = (peak**2 - entry**2) / (2 * a), (peak**2 - leaving**2) / (2 * a)
    stretches = ((up, entry, peak), (length - up - down, peak, peak), (down, peak, leaving))
    phases, start = [], 0.0
    for stretch, speed_in, speed_out in stretches:
        if stretch > length * 1e-12:
            phases.append(Phase(index, start, stretch, speed_in, speed_out))
            start += stretch
    return phases
