"""Pockets: where a disc in the void can't follow the boundary, because it turns away from the disc too sharply.

Loops have the material on their left, so the void is on their right and an inside corner turns right. A disc
that rolls along the boundary comes to rest where it touches two places at once; the stretch of boundary between
them is a *pocket*. Its *depth* is how far its deepest point is from the resting disc, its *turn* the angle by
which the boundary turns right between the two contacts. A sharp corner of turn t between straight edges has a
pocket r (1 / cos(t/2) - 1) deep for a disc of radius r; one rounded to r or more has none.
"""

import itertools
import math
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from parts.cached import cached_property
from parts.geometry.corner import turn_between
from parts.geometry.disk.rolling import Resting, resting
from parts.geometry.disk.sharp import Rest, Sharp, sharp_corners
from parts.geometry.loop import Loop
from parts.geometry.motion import Motion, translation
from parts.geometry.room import has_room
from parts.geometry.search.index import BoxIndex
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_POINT_MM, TIDY_DECIMALS

# Above this many segments the sharp corners are looked for at once, in arrays.
MANY_SEGMENTS = 200


@dataclass(frozen=True, slots=True)
class Pocket:
    """A stretch of one loop that a disc of `radius` can't touch.

    `stretch` is the boundary from one contact to the other; `tip` its point furthest from the disc. `turn` is
    what it turns to the right in all, `back` what it turns to the left on the way, radians, each with the
    whole turn of a corner that the disc touches: the two lips of a slot in an edge give a turn of nothing and
    a `back` of half a turn, a plain corner has none. `corners` are the indices of the loop's segments that
    start within the stretch.
    """

    loop: int
    centre: Point
    radius: float
    stretch: tuple[Segment, ...]
    tip: Point
    turn: float
    back: float
    corners: frozenset[int]

    @property
    def depth(self) -> float:
        """How far the tip is from the disc, mm."""
        return distance(self.tip, self.centre) - self.radius

    @property
    def drawn_radius(self) -> float:
        """The radius that the corner is drawn with: 0 where it is sharp, that of the arc where it is round.

        At a chamfer or a chain of short segments, that of the fillet which comes as near to the corner:
        between straight edges one of radius q leaves (r - q) (1 / cos(turn / 2) - 1).
        """
        if len(self.stretch) == 2 and not any(isinstance(segment, Arc) for segment in self.stretch):
            return 0.0
        at_tip = [k for k, s in enumerate(self.stretch) if distance(s.nearest(self.tip), self.tip) <= SAME_POINT_MM]
        kink = sum(-turn_between(self.stretch[a], self.stretch[b]) for a, b in itertools.pairwise(at_tip) if b == a + 1)
        rounds = [arc.radius for k in at_tip if isinstance(arc := self.stretch[k], Arc) and arc.bulge < 0]
        if kink >= 0.9 * self.turn:
            return 0.0
        if rounds and abs(kink) <= PARALLEL_RAD:
            return min(rounds)
        reach = 1 / math.cos(min(max(self.turn, 0.0), math.pi - PARALLEL_RAD) / 2) - 1
        return min(max(self.radius - self.depth / reach, 0.0), self.radius) if reach > 0 else 0.0


def pockets(
    loops: Sequence[Loop], radius: float, least_turn: float, leaving_out: Container[int] = ()
) -> Iterator[Pocket]:
    """Yield the pockets for a disc of `radius` mm in whose corner the boundary turns right by `least_turn` or more.

    Left out are the loops of the indices given, and places where no disc comes to rest within reach, as in an
    opening too small for it.
    """
    asked = [index for index in range(len(loops)) if index not in leaving_out and not loops[index].circle]
    if not asked:
        return
    near = _Surroundings(loops, 2 * radius)
    many = sum(len(loop.segments) for loop in loops) > MANY_SEGMENTS
    sharp = sharp_corners(loops, radius, least_turn) if many else Sharp({}, frozenset(range(len(loops))))
    known: dict[_Shape, tuple[Point, list[Pocket]]] = {}
    for index in asked:
        loop, rests = loops[index], sharp.rests.get(index, [])
        found = [_in_sharp_corner(index, loop.segments, rest) for rest in rests]
        if index in sharp.others:
            done = {rest.k for rest in rests}
            seeds = [seed for seed in _seeds(loop, radius, least_turn) if seed not in done]
            if seeds and done and _has_room(loop, radius):
                found += _in_loop(index, loop, seeds, radius, near, done)
            elif seeds and not done:
                found = _as_elsewhere(index, loop, seeds, radius, near, known)
        yield from sorted(found, key=lambda pocket: min(pocket.corners))


_Shape: TypeAlias = tuple[tuple[float, ...], ...]


def _as_elsewhere(
    index: int, loop: Loop, seeds: Sequence[int], radius: float, near: "_Surroundings",
    known: dict[_Shape, tuple[Point, list[Pocket]]],
) -> list[Pocket]:  # fmt: skip
    """The pockets around the seeds of one loop, moved from where the same loop is known, as the slots of a row are."""
    start, shape = loop.segments[0].start, _shape(loop) if near.alone(index) else ()
    if shape in known:
        there, pockets_there = known[shape]
        motion = translation(start[0] - there[0], start[1] - there[1])
        return [_moved(pocket, index, motion) for pocket in pockets_there]
    found = list(_in_loop(index, loop, seeds, radius, near, set())) if _has_room(loop, radius) else []
    if shape:
        known[shape] = start, found
    return found


def _shape(loop: Loop) -> _Shape:
    """What is the same of loops that a shift lays on each other; rounded, so that rounding parts none of them."""
    (x, y) = loop.segments[0].start
    rows = ((s.start[0] - x, s.start[1] - y, s.bulge if isinstance(s, Arc) else 0.0) for s in loop.segments)
    return tuple(tuple(round(value, TIDY_DECIMALS) for value in row) for row in rows)


def _moved(pocket: Pocket, loop: int, motion: Motion) -> Pocket:
    """The pocket of a loop that lies elsewhere."""
    stretch = tuple(motion.segment(segment) for segment in pocket.stretch)
    return replace(pocket, loop=loop, centre=motion.point(pocket.centre), stretch=stretch, tip=motion.point(pocket.tip))


def _in_sharp_corner(index: int, segments: Sequence[Segment], rest: Rest) -> Pocket:
    corner, turn = segments[rest.k].start, -turn_between(segments[rest.k - 1], segments[rest.k])
    stretch = Line(rest.before, corner), Line(corner, rest.after)
    radius = distance(rest.centre, rest.before)
    return Pocket(index, rest.centre, radius, stretch, corner, turn, 0.0, frozenset((rest.k,)))


def _in_loop(
    index: int, loop: Loop, seeds: Sequence[int], radius: float, near: "_Surroundings", done: set[int]
) -> Iterator[Pocket]:
    """Yield the pockets around the seeds of one loop, each once, but for those with corners that are done."""
    for seed in _middles_first(seeds):
        if seed in done:
            continue
        pocket = _rest(index, loop, seed, radius, near)
        if pocket is None:
            done |= _place(loop.segments, seed, math.pi / 2 * radius)
        elif done.isdisjoint(pocket.corners):
            yield pocket
            done |= pocket.corners


def _middles_first(seeds: Sequence[int]) -> Iterator[int]:
    """Yield the middle one of each row of neighbours, then the others: it has the fewest segments to its flanks."""
    for _, row in itertools.groupby(enumerate(seeds), key=lambda each: each[1] - each[0]):
        within = [seed for _, seed in row]
        yield within[len(within) // 2]
        yield from within


def _has_room(loop: Loop, radius: float) -> bool:
    """Whether the disc fits on the void's side of a loop at all."""
    return loop.counter_clockwise or has_room(loop, radius)


def _place(segments: Sequence[Segment], seed: int, way: float) -> set[int]:
    """The segments that start within `way` mm on from a seed where nothing comes to rest: the same place."""
    found, gone, k = {seed}, segments[seed].length, seed
    while gone <= way and len(found) < len(segments):
        k = (k + 1) % len(segments)
        found.add(k)
        gone += segments[k].length
    return found


class _Surroundings:
    """The segments near a segment, indexed only when first asked for: most outlines have no corner to ask at."""

    def __init__(self, loops: Sequence[Loop], reach: float) -> None:
        self._loops = loops
        self._reach = reach
        self._first = [0, *itertools.accumulate(len(loop.segments) for loop in loops)]
        self._known: dict[int, list[int]] = {}

    def of(self, loop: int, k: int) -> list[Segment]:
        """Return the segments within reach of segment k of a loop, itself among them."""
        k += self._first[loop]
        if k not in self._known:
            self._known[k] = self._index.near(self._segments[k].box, self._reach)
        return [self._segments[i] for i in self._known[k]]

    def alone(self, loop: int) -> bool:
        """Tell whether nothing of another loop is within reach of the box around a loop."""
        own = range(self._first[loop], self._first[loop + 1])
        return all(i in own for i in self._index.near(self._loops[loop].box, self._reach))

    @cached_property
    def _segments(self) -> list[Segment]:
        return [segment for each in self._loops for segment in each.segments]

    @cached_property
    def _index(self) -> BoxIndex:
        return BoxIndex([segment.box for segment in self._segments])


def _seeds(loop: Loop, radius: float, least_turn: float) -> Iterator[int]:
    """Yield the indices of segments that start at, or are, a place where a pocket of enough turn may lie.

    Either the corner at its start turns right, or it is an arc to the right, tighter than the disc. All the
    right turns within half the disc's way round must come to the turn asked for: a chain that turns less
    lies within two tangents of the disc, which are no longer than that.
    """
    segments, count = loop.segments, len(loop.segments)
    tight = [-s.sweep if isinstance(s, Arc) and _is_tight(s, radius) else 0.0 for s in segments]
    if min(loop.turns) >= -PARALLEL_RAD and not any(tight):
        return
    turns = [(-turn if turn < -PARALLEL_RAD else 0.0, along) for turn, along in zip(loop.turns, tight, strict=True)]
    for k in range(count):
        if any(turns[k]) and _gathers(segments, turns, k, math.pi * radius, least_turn):
            yield k


def _is_tight(arc: Arc, radius: float) -> bool:
    return arc.bulge < 0 and arc.radius < radius - LIMIT_SLACK_MM


def _gathers(
    segments: Sequence[Segment], turns: Sequence[tuple[float, float]], k: int, way: float, least_turn: float
) -> bool:
    """Whether the right turns within `way` mm before and after segment k come to `least_turn`."""
    count, total = len(segments), sum(turns[k])
    for step in (1, -1):
        gone, j = 0.0, k
        while total < least_turn - PARALLEL_RAD:
            gone += segments[j].length if step > 0 else segments[j - 1].length
            j = (j + step) % count
            if gone > way + LIMIT_SLACK_MM or j == k:
                break
            total += sum(turns[j])
    return total >= least_turn - PARALLEL_RAD


def _rest(index: int, loop: Loop, seed: int, radius: float, near: "_Surroundings") -> Pocket | None:
    """The pocket around a seed."""
    found = resting(loop, seed, radius, lambda k: near.of(index, k))
    pocket = found and _pocket(index, loop.segments, found)
    return pocket if pocket and pocket.depth > LIMIT_SLACK_MM else None


def _pocket(index: int, segments: Sequence[Segment], disc: Resting) -> Pocket:
    a, b, centre, stretch = disc
    count = len(segments)
    turns = [turn_between(segments[of.k - 1], segments[of.k]) for of in (a, b) if isinstance(of.on, tuple)]
    turns += [turn_between(p, q) for p, q in itertools.pairwise(stretch)]
    turns += [segment.sweep for segment in stretch if isinstance(segment, Arc)]
    tip = max(_far_points(centre, stretch), key=lambda p: distance(centre, p))
    corners = frozenset((a.k + n) % count for n in range(1, (b.k - a.k) % count + 1)) or frozenset((b.k,))
    back = math.fsum(turn for turn in turns if turn > 0)
    radius = distance(centre, a.point(centre))
    return Pocket(index, centre, radius, stretch, tip, -math.fsum(turns), back, corners)


def _far_points(centre: Point, stretch: Sequence[Segment]) -> Iterator[Point]:
    """Yield the points of a stretch that may be furthest from the centre: joints and backs of arcs."""
    for n, segment in enumerate(stretch):
        yield segment.start if n else segment.at(0.5)
        if isinstance(segment, Arc) and (away := distance(centre, segment.centre)) > SAME_POINT_MM:
            (cx, cy), k = segment.centre, segment.radius / away
            back = cx + k * (cx - centre[0]), cy + k * (cy - centre[1])
            if segment.covers(back):
                yield back
