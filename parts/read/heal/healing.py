"""Heal: chains as drawn -> loops, with a note of everything that was put right on the way, and by how much.

Put right is only what can't change the part by more than the tolerance: ends that all but meet are joined, what is
drawn twice is left once, what has no length or all but none is dropped, steps and spikes are taken out. A chain that
still is open stays so, and is handed on.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from parts.geometry import Loop, distance
from parts.read.heal.chains import OpenChain, chain, join_loose_ends
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
    drawn = [(Loop(c.segments), c.layer) for c in chains if c.closed]
    net = net_of((segment, c.layer) for c in chains if not c.closed for segment in c.segments)
    healed = Healed()
    if net.edges:
        on_loops = [segment for loop, _ in drawn for segment in loop.segments]
        healed.mends += drop_overlaps(net, on_loops, reach, budget)
        healed.mends += [mend for mend in join_loose_ends(net, reach, budget) if mend.size_mm > SAME_END_MM]
        chained = chain(net, budget)
        for open_chain in chained.open:
            _take_open(open_chain, reach, healed)
        for segments, layer in chained.closed:
            if len(segments) > 1 and encloses(segments):
                drawn.append((Loop(segments), layer))
            else:
                healed.open.append(OpenChain(segments, layer, "empty", segments[0].start))
    tidied = [(_tidied(loop, layer, reach, healed, budget), layer) for loop, layer in drawn]
    sound = [*_without_slivers(tidied, reach, healed, budget)]
    known = ((_known(loop, layer, reach, healed), layer) for loop, layer in sound)
    healed.loops = [*_once_each(known, reach, healed, budget)]
    return healed


def _take_open(open_chain: OpenChain, reach: float, healed: Healed) -> None:
    """Drop a chain that is no longer than a gap that would be joined, by itself or hanging from an outline."""
    length = sum(segment.length for segment in open_chain.segments)
    if length <= reach and open_chain.why in ("open", "tail"):
        healed.mends.append(Mend("tail" if open_chain.why == "tail" else "stray", length, open_chain.at))
    else:
        healed.open.append(open_chain)


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
        budget.pairs(len(loop.segments) * sum(len(other.segments) for other, _ in kept))
        off = [off_by(s, (t for other, _ in kept for t in other.segments)) for s in loop.segments] if kept else []
        if max(x1 - x0, y1 - y0) <= reach:
            healed.mends.append(Mend("stray", max(x1 - x0, y1 - y0), loop.segments[0].start))
        elif off and max(off) <= reach:
            healed.mends.append(Mend("double", max(off), loop.segments[0].start))
        else:
            healed.open.append(OpenChain(loop.segments, layer, "empty", loop.segments[0].start))
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
