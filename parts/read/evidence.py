"""Evidence: what the geometry says against the names of layers.

A name is a guess. Outlines whose layer's name says other than cut are cut nevertheless where they lie around what is
cut, are all there is, or close an outline of which the rest is cut.

frame      a rectangle around a part that has openings already, as the border of a sheet is: no evidence
"""

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from typing import NamedTuple, TypeAlias

import numpy as np

from parts.errors import Unreadable
from parts.geometry import Box, Line, Loop, Segment, distance
from parts.read.heal.healing import Healed
from parts.read.layers import GROUND, Role, side
from parts.read.limits import MOST_HIDDEN, Budget
from parts.read.nest import around_each
from parts.read.outlines import Chain
from parts.read.roles import Drawn, Layer, Roles, named
from parts.tolerance import HEAL_MM

Heal = Callable[[Sequence[Chain], Budget], Healed]
"""How chains become loops."""

ENCLOSES = "since [it lies|one of them lies] around what is cut"
CHOSEN = "as chosen"
ALL_THERE_IS = "since nothing else in the drawing closes"
CLOSES = "since an outline that is cut closes with [it|them]"


def weighed(drawn: Drawn, chosen: Mapping[str, Role], heal: Heal, budget: Budget) -> Roles:
    """Return what each layer is for, with what is cut against its name; what was chosen holds against all.

    Raises:
        Refused: as `named`.
    """
    roles = named(drawn, chosen)
    for layer in roles.layers.values():
        if layer.role != "cut" and layer.chains:
            layer.healed = _by_itself(layer, heal, budget)
    guessed = [layer for layer in roles.layers.values() if layer.is_guess and layer.healed and not layer.hidden]
    if guessed:
        with suppress(Unreadable):  # what can't be looked at in time is told of as left aside
            _weigh(roles, guessed, heal, budget)
    return roles


def _weigh(roles: Roles, guessed: Sequence[Layer], heal: Heal, budget: Budget) -> None:
    """Take as cut what the geometry says is cut."""
    cut = heal(roles.cut, budget.aside())
    for layer in guessed:
        _take(layer, _closing(layer, cut, heal, budget), CLOSES)
    if any(layer.taken for layer in guessed):
        cut = heal(roles.cut, budget.aside())
    _take_enclosing(guessed, cut, budget)
    turned_down = any(layer.chosen == "aside" for layer in roles.layers.values())
    for layer in guessed if not roles.cut and not turned_down else ():
        if layer.guess == "aside":
            _take(layer, [_as_chain(loop, layer) for loop in layer.loops], ALL_THERE_IS)


def _by_itself(layer: Layer, heal: Heal, budget: Budget) -> Healed:
    """What a layer that isn't cut makes by itself; nothing where it holds too much to be looked at."""
    if not layer.hidden or sum(len(chain.segments) for chain in layer.chains) <= MOST_HIDDEN:
        with suppress(Unreadable):
            return heal(layer.chains, budget.aside())
    return Healed(loops=[(Loop(chain.segments), layer.name) for chain in layer.chains if chain.closed])


def _take(layer: Layer, chains: Sequence[Chain], why: str) -> None:
    if chains:
        layer.taken += chains
        layer.evidence += [why] if why not in layer.evidence else []


def take_back(layer: Layer, loops: Sequence[Loop]) -> None:
    """Take as cut what was chosen of a layer's outlines."""
    _take(layer, [_as_chain(loop, layer) for loop in loops], CHOSEN)


def _as_chain(loop: Loop, layer: Layer) -> Chain:
    return Chain(loop.segments, True, layer.name)


def _take_enclosing(guessed: Sequence[Layer], cut: Healed, budget: Budget) -> None:
    """Take the closed outlines of a layer of which one lies around what is cut, itself in nothing cut, and no frame."""
    if any(side(layer) == "outside" for _, layer in cut.loops):
        return  # our own layers say what the part's outside is
    every = _Inside(_chains_of(cut))
    counted = [(loop, layer, every.count_in(loop)) for layer in guessed if layer.name != GROUND for loop in layer.loops]
    around = sorted((each for each in counted if each[2]), key=lambda each: -each[0].area)
    if not around:
        return
    loops = [loop for loop, _ in cut.loops]
    whole, within = _Around(loops), _Within(every, _framed(loops, budget), around)
    frames = {loop.segments for loop, _, count in around if _is_frame(loop, count, within, budget)}
    for loop, layer, _ in around:
        if loop.segments in frames or loop not in layer.loops or whole.around(loop):
            continue
        taken = [each for each in layer.loops if each.segments not in frames] if layer.guess == "aside" else [loop]
        _take(layer, [_as_chain(each, layer) for each in taken], ENCLOSES)
        loops += taken
        whole = _Around(loops)


_Counted: TypeAlias = tuple[Loop, Layer, int]
"""An outline that may be cut, its layer, and how much that is cut lies in it."""


class _Within(NamedTuple):
    """What may lie in a frame: all that is cut, the openings of what is whole, and what may be cut."""

    cut: "_Inside"
    openings: "_Inside"
    around: Sequence[_Counted]


def _is_frame(loop: Loop, count: int, within: _Within, budget: Budget) -> bool:
    """Whether it is a rectangle around what is whole without it: a part with openings, or one outline around all."""
    budget.pairs(len(within.around))
    if not is_upright(loop):
        return False
    here = _Around([loop])
    return within.openings.count_in(loop) > 0 or any(
        n == count and other is not loop and here.around(other) and not within.cut.is_one_step_in(other)
        for other, _, n in within.around
    )


def _chains_of(cut: Healed) -> list[Sequence[Segment]]:
    return [*(loop.segments for loop, _ in cut.loops), *(chain.segments for chain in cut.open)]


class _Inside:
    """Chains that are asked whether they lie in a loop: by their boxes, then by a point of each."""

    def __init__(self, chains: Sequence[Sequence[Segment]]) -> None:
        self._points = [chain[0].at(0.5) for chain in chains]
        self._boxes = np.array([_box(chain) for chain in chains]).reshape(-1, 4)

    def count_in(self, loop: Loop) -> int:
        """Return how many of them lie in a loop."""
        x0, y0, x1, y1 = loop.box
        boxes = self._boxes
        within = (boxes[:, 0] >= x0) & (boxes[:, 1] >= y0) & (boxes[:, 2] <= x1) & (boxes[:, 3] <= y1)
        return sum(loop.contains(self._points[i]) for i in np.flatnonzero(within))

    def is_one_step_in(self, loop: Loop) -> bool:
        """Tell whether all that lies in a loop is about its middle: a countersunk or stepped hole, as often drawn."""
        x0, y0, x1, y1 = loop.box
        boxes = self._boxes
        within = (boxes[:, 0] >= x0) & (boxes[:, 1] >= y0) & (boxes[:, 2] <= x1) & (boxes[:, 3] <= y1)
        return all(is_step(self._boxes[i], loop.box) for i in np.flatnonzero(within))


class _Around:
    """Loops that are asked whether one of them lies around another."""

    def __init__(self, loops: Sequence[Loop]) -> None:
        self._loops = loops
        self._boxes = np.array([loop.box for loop in loops]).reshape(-1, 4)

    def around(self, loop: Loop) -> bool:
        """Tell whether a loop lies in one of them."""
        x0, y0, x1, y1 = loop.box
        boxes = self._boxes
        over = (boxes[:, 0] <= x0) & (boxes[:, 1] <= y0) & (boxes[:, 2] >= x1) & (boxes[:, 3] >= y1)
        return any(self._loops[int(i)].contains(loop.segments[0].at(0.5)) for i in np.flatnonzero(over))


def _box(chain: Sequence[Segment]) -> Box:
    x0, y0, x1, y1 = zip(*(segment.box for segment in chain), strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _framed(cut: Sequence[Loop], budget: Budget) -> _Inside:
    """The openings of parts that are whole without anything around them.

    A square or round opening about the middle of a loop as square counts for none: countersunk and stepped holes are
    often drawn so.
    """
    pairs = [(cut[i], cut[outer]) for i, outer in around_each(cut, budget) if outer is not None]
    return _Inside([opening.segments for opening, outer in pairs if not is_step(opening.box, outer.box)])


def is_step(one: Sequence[float], other: Sequence[float]) -> bool:
    """Tell whether two boxes are squares about one middle."""
    (a, b, c, d), (x0, y0, x1, y1) = one, other
    square = abs((c - a) - (d - b)) <= HEAL_MM and abs((x1 - x0) - (y1 - y0)) <= HEAL_MM
    return square and distance(((a + c) / 2, (b + d) / 2), ((x0 + x1) / 2, (y0 + y1) / 2)) <= HEAL_MM


def is_upright(loop: Loop) -> bool:
    """Tell whether it is an upright rectangle, as the border of a sheet is."""
    x0, y0, x1, y1 = loop.box
    lines = all(isinstance(segment, Line) for segment in loop.segments)
    return lines and abs(loop.area - (x1 - x0) * (y1 - y0)) <= HEAL_MM * loop.perimeter


def _closing(layer: Layer, cut: Healed, heal: Heal, budget: Budget) -> list[Chain]:
    """The lines of a layer that end where open lines to cut do, at both ends, if an outline closes with them."""
    loose = [end for chain in cut.open for end in (chain.segments[0].start, chain.segments[-1].end)]
    if not loose or not layer.healed:
        return []
    joins = [
        chain.segments
        for chain in layer.healed.open
        if all(
            any(distance(end, p) <= HEAL_MM for p in loose) for end in (chain.segments[0].start, chain.segments[-1].end)
        )
    ]
    found = [Chain(tuple(segments), False, layer.name) for segments in joins]
    opened = [Chain(tuple(chain.segments), False, chain.layer) for chain in cut.open]
    return found if found and heal([*opened, *found], budget.aside()).loops else []
