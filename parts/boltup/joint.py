"""A joint: which hole of one part lies over which of the other, and how the other lies on the first.

Where nothing is said of how they lie, it is the motion that brings the most holes over one another: of the outermost
two holes of the part with fewer, each pair of the other is tried. Holes more than a bolt off, and what their slots
travel, aren't partners. Among motions that bring as many together so closely, the one that turns least is taken.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, permutations

from parts.boltup.holes import Hole
from parts.errors import Problem, Refused
from parts.fasteners import said_bolt
from parts.geometry import Motion, distance
from parts.tolerance import LIMIT_SLACK_MM

MOST_BOLTS = 60
"""Holes of one part that are compared."""
_ALIKE_MM = 1e-6
_MOST_BASES = 20


@dataclass(frozen=True)
class Pair:
    """A hole of either part and the bolt through them: `b` where it lies over `a`, `own` as it is in its own part."""

    a: Hole
    b: Hole
    own: Hole
    bolt: float

    @property
    def clearance(self) -> float:
        """How far the two holes may be off one another and still take the bolt, mm, where both are round."""
        return (self.a.width + self.b.width) / 2 - self.bolt


@dataclass(frozen=True)
class Joint:
    """The pairs, the motion that brings the second part over the first, and the holes that have no partner."""

    pairs: tuple[Pair, ...]
    motion: Motion
    alone_a: tuple[str, ...] = ()
    alone_b: tuple[str, ...] = ()


def joint_of(a: Sequence[Hole], b: Sequence[Hole], bolt_mm: float = 0.0, *, flipped: bool = False) -> Joint:
    """Return how the holes of two parts lie over one another.

    Args:
        a: holes of the first part.
        b: those of the second, in its own frame.
        bolt_mm: the bolt; 0 for what the holes are declared for.
        flipped: whether the second lies face down.

    Raises:
        Refused: one has no holes, or too many, none lie over another, or they are for other bolts.
    """
    for letter, holes in (("a", a), ("b", b)):
        if not 1 <= len(holes) <= MOST_BOLTS:
            why = f"has {len(holes)} holes for the bolt" if holes else "has no hole for a bolt that is known"
            more = "." if holes else "; say which with bolt, such as M10."
            raise Refused((Problem(letter, "", f"{why}: 1 to {MOST_BOLTS} can be compared{more}"),))
    reach = max(hole.bolt or bolt_mm for hole in (*a, *b))
    motion, partners = _best(a, b, reach, flipped)
    if not partners:
        raise Refused((Problem("b", "", "has no holes that lie over those of A, however it is turned."),))
    pairs = tuple(_pair(a[i], b[k], motion, bolt_mm) for i, k in sorted(partners))
    met_a, met_b = {i for i, _ in partners}, {k for _, k in partners}
    return Joint(
        pairs,
        motion,
        tuple(hole.name for i, hole in enumerate(a) if i not in met_a),
        tuple(hole.name for k, hole in enumerate(b) if k not in met_b),
    )


def _pair(a: Hole, b: Hole, motion: Motion, bolt_mm: float) -> Pair:
    bolts = {round(hole.bolt, 6) for hole in (a, b) if hole.bolt}
    if not bolt_mm and len(bolts) > 1:
        small, large = sorted(bolts)
        sizes = " and ".join(said_bolt(size, "mm") for size in (small, large))
        why = f"is for another bolt than {b.name} of B: {sizes}; say bolt."
        raise Refused((Problem("bolt", a.name, why),))
    return seated(Pair(a, b.moved(motion), b, bolt_mm or bolts.pop()), motion)


def seated(pair: Pair, motion: Motion) -> Pair:
    """Return the pair with each curved slot taken where the other's hole lies; `motion` is that of the second part."""
    a = pair.a.seated(pair.a.fraction_near(pair.b.at), pair.clearance)
    own = pair.own.seated(pair.b.fraction_near(a.at), pair.clearance)
    return replace(pair, a=a, b=own.moved(motion), own=own)


def _best(a: Sequence[Hole], b: Sequence[Hole], reach: float, flipped: bool) -> tuple[Motion, list[tuple[int, int]]]:
    """The motion of B that brings the most holes together, and which those are."""
    best: tuple[tuple[float, ...], Motion, list[tuple[int, int]]] = ((math.inf,), Motion(), [])
    for motion in _motions(a, b, reach, flipped):
        met = list(_met(a, b, motion, reach))
        centred = _centred(a, b, motion, met)
        met = list(_met(a, b, centred, reach))
        off = max((distance(a[i].at, centred.point(b[k].at)) for i, k in met), default=0.0)
        turn = abs(math.atan2(centred.sin, centred.cos))
        score = (-len(met), round(off / _ALIKE_MM) * _ALIKE_MM, turn)
        if score < best[0]:
            best = score, centred, met
    return best[1], best[2]


def _motions(a: Sequence[Hole], b: Sequence[Hole], reach: float, flipped: bool) -> Iterator[Motion]:
    """Every motion worth a try: two holes of the one over two of the other, about as far apart."""
    if min(len(a), len(b)) == 1:
        yield from (_over(a[i], b[k], 0.0, flipped) for i in range(len(a)) for k in range(len(b)))
        return
    few, many = (a, b) if len(a) <= len(b) else (b, a)
    bases = sorted(combinations(range(len(few)), 2), key=lambda two: -distance(few[two[0]].at, few[two[1]].at))
    for i, j in bases[:_MOST_BASES]:
        apart, found = distance(few[i].at, few[j].at), False
        for p, q in permutations(range(len(many)), 2):
            if abs(distance(many[p].at, many[q].at) - apart) <= 2 * reach and apart > LIMIT_SLACK_MM:
                found = True
                on_a, on_b = ((i, j), (p, q)) if few is a else ((p, q), (i, j))
                yield _aligned((a[on_a[0]], a[on_a[1]]), (b[on_b[0]], b[on_b[1]]), flipped)
        if found and len(few) > 2 * _MOST_BASES:
            return


def _aligned(a: tuple[Hole, Hole], b: tuple[Hole, Hole], flipped: bool) -> Motion:
    flip = -1.0 if flipped else 1.0
    along_a = math.atan2(a[1].at[1] - a[0].at[1], a[1].at[0] - a[0].at[0])
    along_b = math.atan2(flip * (b[1].at[1] - b[0].at[1]), b[1].at[0] - b[0].at[0])
    turn = math.remainder(along_a - along_b, 2 * math.pi)
    middle_a, middle_b = (replace(two[0], at=_middle([hole.at for hole in two])) for two in (a, b))
    return _over(middle_a, middle_b, turn, flipped)


def _over(a: Hole, b: Hole, turn: float, flipped: bool) -> Motion:
    """The motion that turns B and brings a place of it over one of A."""
    motion = Motion((0.0, 0.0), math.cos(turn), math.sin(turn), flipped)
    x, y = motion.point(b.at)
    return replace(motion, shift=(a.at[0] - x, a.at[1] - y))


def _met(a: Sequence[Hole], b: Sequence[Hole], motion: Motion, reach: float) -> Iterator[tuple[int, int]]:
    """The holes that lie within reach of one another, each with the nearest that nobody has yet."""
    there = [motion.point(hole.at) for hole in b]
    far = [hole.reach for hole in b]
    near = [
        (apart, i, k)
        for i, hole in enumerate(a)
        for k, at in enumerate(there)
        for apart in [distance(hole.at, at)]
        if apart <= reach + hole.reach + far[k]
    ]
    taken_a, taken_b = set[int](), set[int]()
    for _, i, k in sorted(near):
        if i not in taken_a and k not in taken_b:
            taken_a.add(i)
            taken_b.add(k)
            yield i, k


def _centred(a: Sequence[Hole], b: Sequence[Hole], motion: Motion, met: list[tuple[int, int]]) -> Motion:
    """The motion with the pairs' middles brought over one another, and turned to their least squares."""
    if not met:
        return motion
    flip = -1.0 if motion.mirrored else 1.0
    here = [a[i].at for i, _ in met]
    there = [(b[k].at[0], flip * b[k].at[1]) for _, k in met]
    (ax, ay), (bx, by) = _middle(here), _middle(there)
    c = math.fsum((x - ax) * (u - bx) + (y - ay) * (v - by) for (x, y), (u, v) in zip(here, there, strict=True))
    s = math.fsum((y - ay) * (u - bx) - (x - ax) * (v - by) for (x, y), (u, v) in zip(here, there, strict=True))
    size = math.hypot(c, s)
    cos, sin = (c / size, s / size) if len(met) > 1 and size > LIMIT_SLACK_MM else (motion.cos, motion.sin)
    return Motion((ax - cos * bx + sin * by, ay - sin * bx - cos * by), cos, sin, motion.mirrored)


def _middle(places: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return math.fsum(x for x, _ in places) / len(places), math.fsum(y for _, y in places) / len(places)
