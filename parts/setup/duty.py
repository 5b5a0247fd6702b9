"""The power source: how much of any ten minutes the arc is on, what its duty cycle allows, and what rest that asks.

IEC 60974-1 states a duty cycle over ten minutes: 60 % is six minutes on and four off. A source is rated for one or a
few currents; at another it stands what heats it as much in the end, by the square of the current: the share of the ten
minutes at current I is `percent` (rated / I)², never over all of them. (Common practice; heat in copper goes by I².)
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from parts import shop
from parts.cutting import Job, current_of, order, travel_time
from parts.data import Kind, weakest
from parts.geometry import distance
from parts.profile import Profile
from parts.setup.basis import kind_in
from parts.setup.steps import arc_time

TEN_MINUTES_S = 600.0
"""The time over which IEC 60974-1 states a duty cycle."""

Spell = tuple[float, float]
"""How long the arc is off, and then on, s."""


@dataclass(frozen=True, slots=True)
class Duty:
    """The arc over time, against what the power source allows; times in s.

    `current_a` is what is cut with, None where the chart doesn't say; `percent` the duty cycle at it, None where there
    is no power source that has one. `on_s` is how long the arc is on for one part, of the `whole_s` that it takes;
    `busiest_s` the most of any ten minutes, `busiest_in_a_row_s` the same where part follows part without a break;
    `rest_s` is how long to let the source stand after each part then. `rest_within` is whether one part alone asks for
    rests on the way.
    """

    current_a: float | None
    rated_percent: float
    rated_a: float
    percent: float | None
    on_s: float
    whole_s: float
    busiest_s: float
    busiest_in_a_row_s: float
    rest_s: float
    source: str
    kind: Kind

    @property
    def allowed_s(self) -> float:
        """How much of ten minutes the source stands at this current."""
        return TEN_MINUTES_S * (100.0 if self.percent is None else self.percent) / 100

    @property
    def rest_within(self) -> bool:
        """Whether one part alone keeps the arc on for longer than the source stands."""
        return self.busiest_s > self.allowed_s + 1e-6

    @property
    def rest_in_all_s(self) -> float:
        """How long the source has to stand still for each part of a row, on the way or after it."""
        if self.percent is None or not self.rest_within:
            return self.rest_s
        return max(0.0, self.on_s * 100 / self.percent - self.whole_s)

    @property
    def off_s(self) -> float:
        """How long the source stands still of ten minutes in which it is on for all that it is allowed."""
        return TEN_MINUTES_S - self.allowed_s


def duty(profile: Profile, job: Job) -> Duty:
    """Return what cutting a profile asks of the power source.

    Raises:
        DataError: the shop's own file is unusable.
    """
    data, built_in = (of.processes[job.cut.process].duty_cycle for of in (shop.load(shop.edition()), shop.built_in()))
    kind = kind_in(data, built_in, "percent")
    current, spells = current_of(job.cut), arc_spells(profile, job)
    percent = allowed_percent(data.percent, data.rated_a, current) if data.percent else None
    whole = math.fsum(off + on for off, on in spells)
    in_a_row = busiest(repeated(spells, 0.0))
    allowed = TEN_MINUTES_S * (100.0 if percent is None else percent) / 100
    alone = busiest(spells)
    return Duty(
        current_a=current,
        rated_percent=data.percent,
        rated_a=data.rated_a or (current or 0.0),
        percent=percent,
        on_s=math.fsum(on for _, on in spells),
        whole_s=whole,
        busiest_s=alone,
        busiest_in_a_row_s=in_a_row,
        rest_s=rest_after(spells, allowed) if in_a_row > allowed + 1e-6 and alone <= allowed + 1e-6 else 0.0,
        source=data.source,
        kind=weakest([kind, "derived"]) if data.rated_a and current not in (None, data.rated_a) else kind,
    )


def allowed_percent(rated_percent: float, rated_a: float, current_a: float | None) -> float:
    """Return the duty cycle at a current, %, of a source rated at another; at 0 A, or of no known current, as rated."""
    if not rated_a or not current_a:
        return rated_percent
    return min(100.0, rated_percent * (rated_a / current_a) ** 2)


def arc_spells(profile: Profile, job: Job) -> list[Spell]:
    """Return for each loop, in the order in which time is reckoned, how long the arc is off before it and on for it."""
    loops = profile.boundary
    turns = order(loops, len(profile.outside))
    spells: list[Spell] = []
    for place, i in enumerate(turns):
        before = loops[turns[place - 1]].segments[0].start if place else None
        way = distance(before, loops[i].segments[0].start) if before else 0.0
        spells.append((travel_time(way, job.machine) + job.cut.probe_time_s, arc_time(loops[i], job)))
    return spells


def busiest(spells: Sequence[Spell], window_s: float = TEN_MINUTES_S) -> float:
    """Return how long the arc is on at most within any window of time, s.

    The time on by a moment rises steadily or not at all, so the most is in a window that begins where a spell does.
    """
    flat = [each for spell in spells for each in spell]
    times = [0.0, *accumulate(flat)]
    on = [0.0, *accumulate(each if i % 2 else 0.0 for i, each in enumerate(flat))]

    def by(moment: float) -> float:
        i = bisect_right(times, moment) - 1
        return on[-1] if i >= len(flat) else on[i] + (moment - times[i] if i % 2 else 0.0)

    begins, ends = times[1::2], times[2::2]
    after = (by(start + window_s) - by(start) for start in begins)
    before = (by(end) - by(end - window_s) for end in ends if end >= window_s)
    return max((*after, *before), default=0.0)


def repeated(spells: Sequence[Spell], rest_s: float) -> list[Spell]:
    """Return the spells of one part after another, with a rest after each, over more than two windows."""
    once = math.fsum(off + on for off, on in spells) + rest_s
    count = math.ceil(2 * TEN_MINUTES_S / once) + 1 if once > 0 else 1
    (off, on), *others = spells
    return [*spells, *[(off + rest_s, on), *others] * (count - 1)]


def rest_after(spells: Sequence[Spell], allowed_s: float) -> float:
    """Return the least rest after each part, whole s, with which no ten minutes have more arc than is allowed."""
    low, high = 0, math.ceil(TEN_MINUTES_S)
    while low < high:
        middle = (low + high) // 2
        if busiest(repeated(spells, middle)) <= allowed_s + 1e-6:
            high = middle
        else:
            low = middle + 1
    return float(low)
