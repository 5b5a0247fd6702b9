"""The chance that all bolts enter, the worst hole, and the clearance that makes it safe.

    growth      how much wider the holes of both parts would have to be for all bolts to enter; at 0 or less they do
    worst hole  the one without which the chance is greatest: if its bolt entered whatever happens
    safe        the growth with which the chance is the one that is wanted

In closed form where there is one (`closed`), else by trials drawn at random (`errors`), the same ones every time.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.boltup.assumed import assumed
from parts.boltup.closed import below, held_chance, two_chance
from parts.boltup.errors import Setting, biases, drawn_trials, room_spreads, rooms, slack, spreads
from parts.boltup.laid import Array, Trials, growth
from parts.geometry import distance

TRIALS, MOST_TRIALS = 20_000, 200_000
SEED = 1
_SURE = 6.0
# Standard deviations from which on it is sure that a bolt passes a hole: 1 in 10^9.
_MOST_LOOKED_AT, _FEWEST_LOOKED_AT = 40_000, 100
_SURE_TO = 1.5
# At most two standard deviations of the difference of two shares, times the root of the number they are taken from.
_WIDEST_MM = 1000.0


@dataclass(frozen=True)
class Answer:
    """The chance with its 95 % interval, what it would be without each pair, and the growth that makes it safe, mm.

    `method` is `closed form` or `trials`, of which there are `trials`; `wanted` is the chance that counts as safe.
    Chances without a pair that differ by less than `unsure` can't be told apart.
    """

    chance: float
    low: float
    high: float
    without: tuple[float, ...]
    grow_mm: float
    wanted: float
    method: str
    trials: int = 0
    seed: int = 0
    unsure: float = 1e-6

    @property
    def worst(self) -> tuple[int, ...]:
        """The pairs without which the chance is greatest; all of them where none stands out."""
        most = max(self.without)
        return tuple(k for k, each in enumerate(self.without) if most - each <= self.unsure)


def answer(of: Setting, wanted: float | None = None, trials: int = TRIALS, seed: int = SEED) -> Answer:
    """Return whether two parts bolt up.

    Args:
        of: how they meet.
        wanted: the chance that counts as safe; the one of the data unless given.
        trials: how many are drawn where there is no closed form.
        seed: what they are drawn from.
    """
    wanted = assumed().wanted.chance if wanted is None else wanted
    if form := _closed(of):
        chance = form(0.0, None)
        without = tuple(form(0.0, k) for k in range(len(of.joint.pairs)))
        return Answer(chance, chance, chance, without, _least_growth(form, wanted), wanted, "closed form")
    return by_trials(of, wanted, trials, seed)


def _closed(of: Setting) -> Callable[[float, int | None], float] | None:
    """The chance in closed form, of a growth and a pair to leave out; None where there is none."""
    pairs, moving = of.joint.pairs, [of.a.table, of.b.table]
    if any(pair.a.is_slot or pair.b.is_slot for pair in pairs) or any(any(table.uncertainty) for table in moving):
        return None
    if not of.is_held and len(pairs) == 1:
        return lambda grow, left: 1.0 if left == 0 else math.prod(_passes(m + grow, s) for m, s in slack(of))
    if any(mean < _SURE * s or mean < 0 for mean, s in slack(of)):
        return None
    room, spread, wide, off = rooms(of), spreads(of), room_spreads(of), biases(of)
    if of.is_held:
        bias = [math.hypot(*each) if math.hypot(*each) > _NO_BIAS_MM else 0.0 for each in off]
        if any(b and w and s for b, w, s in zip(bias, wide, spread, strict=True)):
            return None
        rows = list(zip(spread, bias, room, wide, strict=True))
        return lambda grow, left: math.prod(
            held_chance(s, b, r + of.share * grow, w) for k, (s, b, r, w) in enumerate(rows) if k != left
        )
    if len(pairs) != 2:
        return None
    (ax, ay), (bx, by) = pairs[0].b.at, pairs[1].b.at
    (px, py), (qx, qy) = ((x + dx, y + dy) for (x, y), (dx, dy) in zip(((ax, ay), (bx, by)), off, strict=True))
    apart = distance((px, py), (qx, qy)) - distance((ax, ay), (bx, by))
    return lambda grow, left: (
        two_chance(math.hypot(*spread), abs(apart), sum(room) + 2 * of.share * grow, math.hypot(*wide))
        if left is None
        else 1.0
    )


_NO_BIAS_MM = 1e-9


def _passes(mean: float, spread: float) -> float:
    return below(mean / spread) if spread else float(mean >= 0)


def _least_growth(form: Callable[[float, int | None], float], wanted: float) -> float:
    """The growth with which a closed form comes to the chance that is wanted; of holes with more room less than 0."""
    low, high = -_WIDEST_MM, _WIDEST_MM
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if form(middle, None) >= wanted else (middle, high)
    return high


def by_trials(of: Setting, wanted: float, count: int = TRIALS, seed: int = SEED) -> Answer:
    """Return the answer that trials drawn at random give."""
    trials, lacking = drawn_trials(of, count, seed)
    needed = np.maximum(growth(trials, wanted, held=of.is_held) / of.share, lacking)
    enters = needed <= 0
    chance = float(enters.mean())
    low, high = _interval(chance, count)
    without, unsure = _without(of, trials, lacking, enters)
    grow = float(np.quantile(needed, wanted, method="higher"))
    return Answer(chance, low, high, without, grow, wanted, "trials", count, seed, unsure)


def _without(of: Setting, trials: Trials, lacking: Array, enters: NDArray[np.bool_]) -> tuple[tuple[float, ...], float]:
    """The chance without each pair: of trials that fail, how many pass then; and what it is sure to."""
    n, chance = len(of.joint.pairs), float(enters.mean())
    failing = np.flatnonzero(~enters)[: max(_MOST_LOOKED_AT // n**2, _FEWEST_LOOKED_AT)]
    if n == 1 or not len(failing):
        return (1.0,) * n, 0.0
    some, lack = trials.only(failing), lacking[failing]
    passing = [np.maximum(growth(some.without(k), held=of.is_held) / of.share, lack) <= 0 for k in range(n)]
    without = tuple(chance + (1 - chance) * float(each.mean()) for each in passing)
    return without, (1 - chance) * _SURE_TO / math.sqrt(len(failing))


def _interval(chance: float, count: int) -> tuple[float, float]:
    """The 95 % interval of a share by Wilson's score."""
    z = 1.959964
    middle = (chance + z * z / (2 * count)) / (1 + z * z / count)
    half = z / (1 + z * z / count) * math.sqrt(chance * (1 - chance) / count + (z / (2 * count)) ** 2)
    return max(middle - half, 0.0), min(middle + half, 1.0)
