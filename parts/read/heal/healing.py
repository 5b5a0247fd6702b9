"""Heal: chains as drawn -> loops, with a sentence for everything that was put right on the way.

Put right is only what can't change the part: ends that all but meet are joined, what is drawn twice is left
once, what has no length or all but none is dropped. A chain that still is open stays so, and is handed on.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from parts.geometry import Loop, distance
from parts.read.heal.chains import OpenChain, chain, join_loose_ends
from parts.read.heal.net import net_of
from parts.read.heal.overlaps import drop_overlaps
from parts.read.limits import Budget
from parts.read.outlines import Chain, encloses
from parts.tolerance import JOIN_MM, SAME_END_MM

# Points of a loop that are looked at before it is taken for another one drawn again.
_LOOKED_AT = 24


@dataclass(slots=True)
class Healed:
    """Loops with the layers they lie on, the chains left open, and what was done."""

    loops: list[tuple[Loop, str]] = field(default_factory=list)
    open: list[OpenChain] = field(default_factory=list)
    gaps: list[float] = field(default_factory=list)
    doubled_lines: int = 0
    doubled_loops: int = 0
    strays: int = 0


def heal(chains: Sequence[Chain], budget: Budget) -> Healed:
    """Return the loops that the chains of cut lines make.

    Raises:
        Unreadable: if too much lies too close together to be told apart.
    """
    drawn = [(Loop(c.segments), c.layer) for c in chains if c.closed]
    net = net_of((segment, c.layer) for c in chains if not c.closed for segment in c.segments)
    healed = Healed()
    if net.edges:
        on_loops = [segment for loop, _ in drawn for segment in loop.segments]
        healed.doubled_lines = drop_overlaps(net, on_loops, budget)
        healed.gaps = [gap for gap in join_loose_ends(net, budget) if gap > SAME_END_MM]
        chained = chain(net, budget)
        healed.open = [chain for chain in chained.open if not _is_stray(chain)]
        healed.strays = len(chained.open) - len(healed.open)
        for segments, layer in chained.closed:
            if len(segments) > 1 and encloses(segments):
                drawn.append((Loop(segments), layer))
            else:
                healed.open.append(OpenChain(segments, layer, "empty", segments[0].start))
    healed.loops = list(_once_each(drawn, budget))
    healed.doubled_loops = len(drawn) - len(healed.loops)
    return healed


def _is_stray(open_chain: OpenChain) -> bool:
    """Whether it lies by itself, and is no longer than a gap that would be joined."""
    return open_chain.why == "open" and sum(segment.length for segment in open_chain.segments) <= JOIN_MM


def _once_each(drawn: Sequence[tuple[Loop, str]], budget: Budget) -> Iterable[tuple[Loop, str]]:
    """The loops in order without those drawn again; one of its size at its place must be within JOIN_MM."""
    seen: dict[tuple[int, int], list[Loop]] = {}
    for loop, layer in drawn:
        x, y = (round(v / JOIN_MM) for v in loop.box[:2])
        near = [other for dx in (-1, 0, 1) for dy in (-1, 0, 1) for other in seen.get((x + dx, y + dy), ())]
        budget.pairs(1 + len(near))
        if not any(_is_again(loop, other) for other in near):
            seen.setdefault((x, y), []).append(loop)
            yield loop, layer


def _is_again(loop: Loop, other: Loop) -> bool:
    if any(abs(a - b) > JOIN_MM for a, b in zip(loop.box, other.box, strict=True)):
        return False
    if abs(loop.area - other.area) > JOIN_MM * loop.perimeter:
        return False
    x0, y0, x1, y1 = loop.box
    within = min(JOIN_MM, max(x1 - x0, y1 - y0) / 20)  # a small hole isn't its neighbour
    step = max(len(loop.segments) // _LOOKED_AT, 1)
    points = [p for segment in loop.segments[::step] for p in (segment.start, segment.at(0.5))]
    return all(min(distance(s.nearest(p), p) for s in other.segments) <= within for p in points)
