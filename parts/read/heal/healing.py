"""Heal: chains as drawn -> loops, with a note of everything that was put right on the way, and by how much.

Put right is only what can't change the part by more than the tolerance: ends that all but meet are joined, what is
drawn twice is left once, what has no length or all but none is dropped, steps and spikes are taken out. A chain that
still is open stays so, and is handed on.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from parts.geometry import Loop, Segment, distance
from parts.read.heal.chains import Chained, OpenChain, chain, join_loose_ends, snap
from parts.read.heal.jogs import without_jogs
from parts.read.heal.mend import Mend, off_by
from parts.read.heal.net import net_of
from parts.read.heal.overlaps import drop_overlaps
from parts.read.heal.recognise import Recognised, recognised
from parts.read.layers import side
from parts.read.limits import Budget
from parts.read.outlines import Chain, encloses
from parts.tolerance import HEAL_MM, SAME_END_MM

# Points of a loop that are looked at before it is taken for another one drawn again.
_LOOKED_AT = 24
# A loop drawn again is off by no more than this part of its size: a small hole isn't its neighbour.
_AGAIN = 1 / 5
# A loop this much longer than wide is a sliver where it is no wider than the tolerance; shorter, it is a small hole.
_SLENDER = 5
# Open chains up to which it is tried whether fewer are left with all that is near made one.
_MOST_OPEN = 100
# Open chains times loops up to which it is looked whether the ones lie on the others.
_MOST_LAIN_ON = 100_000


@dataclass(slots=True)
class Healed:
    """Loops with the layers they lie on, the chains left open, and what was done."""

    loops: list[tuple[Loop, str]] = field(default_factory=list)
    open: list[OpenChain] = field(default_factory=list)
    mends: list[Mend] = field(default_factory=list)
    recognised: Recognised = field(default_factory=Recognised)


def heal(chains: Sequence[Chain], budget: Budget, tolerance: float = HEAL_MM) -> Healed:
    """Return the loops that the chains of cut lines make; `tolerance` is the most that is put right, mm.

    Raises:
        Unreadable: if too much lies too close together to be told apart.
    """
    reach = tolerance + 2 * SAME_END_MM  # two ends at the tolerance may each be rounded away from the other
    healed = _healed(chains, reach, budget, is_snapped=False)
    if not 0 < len(healed.open) <= _MOST_OPEN:
        return healed
    snapped = _healed(chains, reach, budget, is_snapped=True)
    return snapped if len(snapped.open) < len(healed.open) else healed


def _healed(chains: Sequence[Chain], reach: float, budget: Budget, is_snapped: bool) -> Healed:
    """What the chains make where loose ends alone are joined, or where all that is within reach is one point first."""
    drawn = [(Loop(c.segments), c.layer) for c in chains if c.closed]
    net = net_of((segment, c.layer) for c in chains if not c.closed for segment in c.segments)
    healed, chained = Healed(), Chained()
    if net.edges:
        healed.mends += snap(net, reach, budget) if is_snapped else []
        on_loops = [segment for loop, _ in drawn for segment in loop.segments]
        healed.mends += drop_overlaps(net, on_loops, reach, budget)
        healed.mends += [mend for mend in join_loose_ends(net, reach, budget) if mend.size_mm > SAME_END_MM]
        chained = chain(net, budget)
        drawn += [(Loop(segments), layer) for segments, layer in chained.closed if _is_loop(segments)]
    tidied = [(_tidied(loop, layer, reach, healed, budget), layer) for loop, layer in drawn]
    sound = [*_without_slivers(tidied, reach, healed, budget)]
    left = [*chained.open, *_empty(chained)]
    lain_on = sound if len(left) * len(sound) <= _MOST_LAIN_ON else []
    for open_chain in left:
        _take_open(open_chain, lain_on, reach, healed, budget)
    known = ((_known(loop, layer, reach, healed), layer) for loop, layer in sound)
    healed.loops = [*_once_each(known, reach, healed, budget)]
    return healed


def _is_loop(segments: Sequence[Segment]) -> bool:
    return len(segments) > 1 and encloses(segments)


def _empty(chained: Chained) -> Iterator[OpenChain]:
    """Yield the closed chains that enclose nothing."""
    for segments, layer in chained.closed:
        if not _is_loop(segments):
            yield OpenChain(segments, layer, "empty", segments[0].start)


def _take_open(
    open_chain: OpenChain, loops: Sequence[tuple[Loop, str]], reach: float, healed: Healed, budget: Budget
) -> None:
    """Drop a chain that is no longer than a gap that would be joined, or lies on outlines; hand on any other."""
    length = sum(segment.length for segment in open_chain.segments)
    if length <= reach and open_chain.why in ("open", "tail"):
        healed.mends.append(Mend("tail" if open_chain.why == "tail" else "stray", length, open_chain.at))
    elif (off := _off_loops(open_chain.segments, loops, reach, budget)) is not None:
        healed.mends.append(Mend("double", off, open_chain.at))
    else:
        healed.open.append(open_chain)


def _off_loops(
    segments: Sequence[Segment], loops: Sequence[tuple[Loop, str]], reach: float, budget: Budget
) -> float | None:
    """How far segments are off the loops that they lie on; None where they lie on none."""
    farthest = 0.0
    for segment in segments:
        x0, y0, x1, y1 = segment.box
        near = [
            other
            for loop, _ in loops
            if loop.box[0] <= x1 + reach and loop.box[2] >= x0 - reach
            and loop.box[1] <= y1 + reach and loop.box[3] >= y0 - reach
            for other in loop.segments
        ]  # fmt: skip
        budget.pairs(len(loops) + len(near))
        off = off_by(segment, near) if near else math.inf
        if off > reach:
            return None
        farthest = max(farthest, off)
    return farthest


def _tidied(loop: Loop, layer: str, reach: float, healed: Healed, budget: Budget) -> Loop:
    """The loop without jogs; one on our own layers as it is."""
    if side(layer) is not None:
        return loop
    loop, mends = without_jogs(loop, reach, budget)
    healed.mends += mends
    return loop


def _known(loop: Loop, layer: str, reach: float, healed: Healed) -> Loop:
    """The loop with circles and arcs for what they are; one on our own layers, which are exact, as it is."""
    return loop if side(layer) is not None else recognised(loop, reach, healed.recognised)


def _without_slivers(
    drawn: Sequence[tuple[Loop, str]], reach: float, healed: Healed, budget: Budget
) -> Iterator[tuple[Loop, str]]:
    """Yield the loops that a jet could go round; a line drawn twice and joined at its ends is none, nor is a speck."""
    slivers = [(loop, layer) for loop, layer in drawn if side(layer) is None and _is_sliver(loop, reach)]
    thin = {id(loop) for loop, _ in slivers}
    kept = [(loop, layer) for loop, layer in drawn if id(loop) not in thin]
    for loop, layer in slivers:
        x0, y0, x1, y1 = loop.box
        if max(x1 - x0, y1 - y0) <= reach:
            healed.mends.append(Mend("stray", max(x1 - x0, y1 - y0), loop.segments[0].start))
        else:
            sliver = OpenChain(loop.segments, layer, "empty", loop.segments[0].start)
            _take_open(sliver, kept, reach, healed, budget)
    yield from kept


def _is_sliver(loop: Loop, reach: float) -> bool:
    """Whether a loop is no larger than the tolerance, or long and no wider than that."""
    x0, y0, x1, y1 = loop.box
    long = max(x1 - x0, y1 - y0)
    width = loop.area / max(long, loop.perimeter / 2)
    return long <= reach or (width <= reach and long > _SLENDER * width and loop.area <= reach * long)


def _once_each(
    drawn: Iterator[tuple[Loop, str]], reach: float, healed: Healed, budget: Budget
) -> Iterator[tuple[Loop, str]]:
    """Yield the loops in order without those drawn again; one of its size at its place must be within reach."""
    seen: dict[tuple[int, int], list[Loop]] = {}
    for loop, layer in drawn:
        x, y = (round(v / reach) for v in loop.box[:2])
        near = [other for dx in (-1, 0, 1) for dy in (-1, 0, 1) for other in seen.get((x + dx, y + dy), ())]
        budget.pairs(1 + len(near))
        off = next((off for other in near if (off := _off_again(loop, other, reach)) is not None), None)
        if off is None:
            seen.setdefault((x, y), []).append(loop)
            yield loop, layer
        else:
            healed.mends.append(Mend("outline", off, loop.segments[0].start))


def _off_again(loop: Loop, other: Loop, reach: float) -> float | None:
    """How far a loop is off another that it is drawn over again; None where it isn't."""
    if any(abs(a - b) > reach for a, b in zip(loop.box, other.box, strict=True)):
        return None
    if abs(loop.area - other.area) > reach * loop.perimeter:
        return None
    x0, y0, x1, y1 = loop.box
    step = max(len(loop.segments) // _LOOKED_AT, 1)
    points = [p for segment in loop.segments[::step] for p in (segment.start, segment.at(0.5))]
    off = max(min(distance(s.nearest(p), p) for s in other.segments) for p in points)
    return off if off <= min(reach, max(x1 - x0, y1 - y0) * _AGAIN) else None
