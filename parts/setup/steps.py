"""The order in which to cut a part's loops: what lies inside first, small before large, the heat spread.

Common practice. An opening is cut before what it is cut from, since a piece may move once it is free. Of openings the
small ones come first, while the sheet is stiff and cool; of those of one size each next one lies far from the last, so
that no place gets hot. Of several pieces the one nearest to the lower left is cut first and the one farthest from it
last: the clamp is taken to be at the lower left, where a sheet is squared to the table's zero.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from parts.cutting import Job, lead_in_length, lead_in_time, pace_round
from parts.geometry import Loop, Point, distance, holders
from parts.profile import Profile

MANY = 150
"""Openings of one size beyond which the farthest isn't looked for: every so many-th is taken, by their places."""
ALIKE_MM = 0.01
"""Two sizes that differ by less are one size to a person."""


@dataclass(frozen=True, slots=True)
class Step:
    """One loop in its turn: what it is called, where its middle is, how large it is, mm, and how long it takes, s.

    `loop` is its index in the profile's boundary; `diameter` is that of a round one. `arc_time_s` is all that the arc,
    flame or jet is on for: pierce, lead-in and cut.
    """

    number: int
    loop: int
    name: str
    side: str
    at: Point
    width: float
    height: float
    diameter: float | None
    length: float
    arc_time_s: float

    @property
    def size(self) -> tuple[float, float, bool]:
        """By which two are of one size: its sides, the longer first, and whether it is round."""
        low, high = sorted((self.width, self.height))
        return round(high / ALIKE_MM), round(low / ALIKE_MM), self.diameter is not None


def steps(profile: Profile, job: Job) -> tuple[Step, ...]:
    """Return a step for each loop, in the order in which to cut them."""
    loops = profile.boundary
    return tuple(_step(number, i, profile, job) for number, i in enumerate(_advised(profile, loops), start=1))


def grouped(every: Sequence[Step]) -> list[tuple[Step, ...]]:
    """Return the steps with those together that follow each other and are of one size and one kind."""
    return [tuple(group) for _, group in groupby(every, key=lambda step: (step.side, step.size))]


def arc_time(loop: Loop, job: Job) -> float:
    """Return how long the arc is on for a loop, s: pierce, lead-in and cut."""
    cut = job.cut
    lead_in = lead_in_time(lead_in_length(loop, cut), cut.feed_mm_s, job.machine)
    return cut.pierce_time_s + lead_in + pace_round(loop, job).time


def _step(number: int, i: int, profile: Profile, job: Job) -> Step:
    loop, count = profile.boundary[i], len(profile.outside)
    x0, y0, x1, y1 = loop.box
    piece = f"piece {i + 1}" if count > 1 else ""
    name = (f"outside of {piece}" if piece else "outside") if i < count else profile.inside[i - count].name
    return Step(
        number=number,
        loop=i,
        name=name,
        side="outside" if i < count else "inside",
        at=((x0 + x1) / 2, (y0 + y1) / 2),
        width=x1 - x0,
        height=y1 - y0,
        diameter=loop.circle.diameter if loop.circle else None,
        length=loop.perimeter,
        arc_time_s=arc_time(loop, job),
    )


def _advised(profile: Profile, loops: Sequence[Loop]) -> Iterator[int]:
    """Yield the loops' indices in order: what lies in a loop, then the loop."""
    parents = _parents(loops, len(profile.outside))
    within: dict[int | None, list[int]] = {}
    for i, parent in enumerate(parents):
        within.setdefault(parent, []).append(i)
    x0, y0, _, _ = profile.box
    waiting: list[tuple[int, bool]] = [(i, False) for i in reversed(_outward(loops, within.get(None, []), (x0, y0)))]
    while waiting:  # not by calling itself: a drawing may nest deep
        i, is_ready = waiting.pop()
        inner = within.get(i, [])
        if is_ready or not inner:
            yield i
            continue
        is_piece = i < len(profile.outside)
        ordered = _small_first(loops, inner, within) if is_piece else _outward(loops, inner, (x0, y0))
        waiting += [(i, True), *((each, False) for each in reversed(ordered))]


def _parents(loops: Sequence[Loop], outside: int) -> list[int | None]:
    """For each loop the smallest one that it lies in."""
    if outside == 1:
        return [None, *[0] * (len(loops) - 1)]
    sizes = [(loop.area, i) for i, loop in enumerate(loops)]
    return [
        min((k for k in around if sizes[k] > sizes[i]), key=sizes.__getitem__, default=None)
        for i, around in enumerate(holders(loops))
    ]


def _outward(loops: Sequence[Loop], pieces: Sequence[int], clamp: Point) -> list[int]:
    """Pieces from the clamp outward: the last one to be cut free is the farthest from it."""
    return sorted(pieces, key=lambda i: (round(distance(_middle(loops[i]), clamp), 6), i))


def _small_first(loops: Sequence[Loop], openings: Sequence[int], within: dict[int | None, list[int]]) -> list[int]:
    """Openings from small to large, those of one size spread; one with a piece in it is large by what is in it."""

    def size(i: int) -> int:
        return round(loops[i].area / ALIKE_MM)

    ordered: list[int] = []
    by_size = sorted(openings, key=lambda i: (i in within, size(i), i))
    for _, group in groupby(by_size, key=lambda i: (i in within, size(i))):
        ordered += _spread(loops, list(group), _middle(loops[ordered[-1]]) if ordered else None)
    return ordered


def _spread(loops: Sequence[Loop], group: list[int], last: Point | None) -> list[int]:
    """Openings of one size, each next one far from the last; the first of all is that nearest to the lower left."""
    places = {i: _middle(loops[i]) for i in group}
    if len(group) > MANY:
        return _by_strides(sorted(group, key=lambda i: (round(places[i][1], 6), round(places[i][0], 6))))
    ordered: list[int] = []
    left = sorted(group, key=lambda i: (sum(places[i]), i))
    while left:
        at = places[ordered[-1]] if ordered else last
        chosen = left[0] if at is None else max(left, key=lambda i: (round(distance(places[i], at), 6), -i))
        left.remove(chosen)
        ordered.append(chosen)
    return ordered


def _by_strides(group: list[int]) -> list[int]:
    """Every so many-th of a long row, round after round, so that neighbours are a round apart."""
    stride = round(len(group) ** 0.5)
    return [i for start in range(stride) for i in group[start::stride]]


def _middle(loop: Loop) -> Point:
    x0, y0, x1, y1 = loop.box
    return (x0 + x1) / 2, (y0 + y1) / 2
