"""Errors of a joint: what each pair of holes is off by chance and besides, and the room that its bolt has.

Where a hole is threaded or holds a stud, its bolt stands in the second part, and only the first part's hole gives room.
"""

import math
from dataclasses import dataclass

import numpy as np

from parts.boltup.accuracy import Accuracy
from parts.boltup.joint import Joint
from parts.boltup.laid import Array, Slots, Trials
from parts.boltup.table import TableErrors
from parts.geometry import Motion, Point
from parts.truing import Errors


@dataclass(frozen=True)
class Setting:
    """How two parts meet: their joint, how true each is, and how they lie.

    `is_held` is whether they lie where they are drawn, rather than shifted and turned until the bolts go in;
    `is_fixed` whether the bolts stand in the second; `is_one_table` whether one table cut both, with the same errors.
    """

    joint: Joint
    a: Accuracy
    b: Accuracy
    is_held: bool = False
    is_fixed: bool = False
    is_one_table: bool = False

    @property
    def share(self) -> float:
        """How much the room grows where every hole is made wider by 1 mm."""
        return 0.5 if self.is_fixed else 1.0


def spreads(of: Setting) -> list[float]:
    """Return the standard deviation along each axis of what each pair is off, mm."""
    return [math.hypot(a, b) for a, b in zip(of.a.position, of.b.position, strict=True)]


def rooms(of: Setting) -> list[float]:
    """Return the mean room of each pair, mm."""
    wider_a, wider_b = of.a.table.wider, of.b.table.wider
    if of.is_fixed:
        return [(pair.a.width + wider_a - pair.bolt) / 2 for pair in of.joint.pairs]
    return [(pair.a.width + wider_a + pair.b.width + wider_b) / 2 - pair.bolt for pair in of.joint.pairs]


def room_spreads(of: Setting) -> list[float]:
    """Return the standard deviation of each pair's room, mm."""
    return [(a if of.is_fixed else math.hypot(a, b)) / 2 for a, b in zip(of.a.size, of.b.size, strict=True)]


def slack(of: Setting) -> list[tuple[float, float]]:
    """Return by how much each hole that a bolt has to pass is wider than it: mean and standard deviation, mm."""
    parts = [(of.a, [pair.a for pair in of.joint.pairs])]
    parts += [] if of.is_fixed else [(of.b, [pair.b for pair in of.joint.pairs])]
    bolts = [pair.bolt for pair in of.joint.pairs]
    return [
        (hole.width + accuracy.table.wider - bolt, size)
        for accuracy, holes in parts
        for hole, size, bolt in zip(holes, accuracy.size, bolts, strict=True)
    ]


def biases(of: Setting) -> list[Point]:
    """Return what each pair is off as drawn and by the tables' errors, mm."""
    return [
        (pair.a.at[0] + a[0] - pair.b.at[0] - b[0], pair.a.at[1] + a[1] - pair.b.at[1] - b[1])
        for pair in of.joint.pairs
        for a in [_put(of.a.table.value, pair.a.at)]
        for b in [_turned(of.joint.motion, _put(of.b.table.value, pair.own.at))]
    ]


def _put(errors: Errors, at: Point) -> Point:
    x, y = _puts(errors, at)
    return float(x), float(y)


def _puts(errors: Errors | tuple[Array, ...], at: Point) -> tuple[Array, Array]:
    """How far a table puts a point from where it is drawn; of errors that are arrays, arrays."""
    sx, sy, e = (np.asarray(each) for each in errors[:3])
    along = (1 + sy) * at[1]
    return sx * at[0] - along * np.sin(e), along * np.cos(e) - at[1]


def _turned(motion: Motion, by: tuple[float, float]) -> Point:
    (x0, y0), (x, y) = motion.point((0.0, 0.0)), motion.point(by)
    return x - x0, y - y0


def drawn_trials(of: Setting, count: int, seed: int) -> tuple[Trials, Array]:
    """Return trials drawn at random, the same of the same seed, and by how much a hole of each is under its bolt."""
    chance = np.random.default_rng(seed)
    pairs = of.joint.pairs
    spread = np.array(spreads(of))[:, None]
    off_x, off_y = (spread * chance.standard_normal((len(pairs), count)) for _ in "xy")
    for sign, (x, y) in zip((1.0, -1.0), _by_tables(of, count, chance), strict=True):
        off_x, off_y = off_x + sign * x, off_y + sign * y
    off_x += np.array([pair.a.at[0] - pair.b.at[0] for pair in pairs])[:, None]
    off_y += np.array([pair.a.at[1] - pair.b.at[1] for pair in pairs])[:, None]
    over_a = _over(of.a, [pair.a.width - pair.bolt for pair in pairs], count, chance)
    over_b = _over(of.b, [pair.b.width - pair.bolt for pair in pairs], count, chance)
    room = over_a / 2 if of.is_fixed else (over_a + over_b) / 2
    room = room - np.array([pair.a.narrowed + (0.0 if of.is_fixed else pair.b.narrowed) for pair in pairs])[:, None] / 2
    lacking = -(over_a if of.is_fixed else np.minimum(over_a, over_b)).min(axis=0)
    x, y = (np.array([pair.a.at[axis] for pair in pairs]) for axis in (0, 1))
    return Trials(off_x, off_y, room, x - x.mean(), y - y.mean(), _slots(of)), lacking


def _by_tables(of: Setting, count: int, chance: np.random.Generator) -> list[tuple[Array, Array]]:
    """What the tables' errors do to the places of either part, as arrays of pairs by trials."""
    errors_a = _errors(of.a.table, count, chance)
    errors_b = errors_a if of.is_one_table else _errors(of.b.table, count, chance)
    a = [_puts(errors_a, pair.a.at) for pair in of.joint.pairs]
    motion, flip = of.joint.motion, -1.0 if of.joint.motion.mirrored else 1.0
    b = [_puts(errors_b, pair.own.at) for pair in of.joint.pairs]
    turned = [(motion.cos * x - motion.sin * flip * y, motion.sin * x + motion.cos * flip * y) for x, y in b]
    return [(np.stack([x for x, _ in each]), np.stack([y for _, y in each])) for each in (a, turned)]


def _errors(table: TableErrors, count: int, chance: np.random.Generator) -> tuple[Array, ...]:
    pairs = list(zip(table.value, table.uncertainty, strict=True))[:3]
    if not any(u for _, u in pairs):
        return tuple(np.array([value]) for value, _ in pairs)
    return tuple(value + u * chance.standard_normal(count) for value, u in pairs)


def _over(of: Accuracy, nominal: list[float], count: int, chance: np.random.Generator) -> Array:
    """How much wider than their bolts the holes of a part are."""
    size = np.array(of.size)[:, None]
    made = np.array(nominal)[:, None] + of.table.wider + size * chance.standard_normal((len(nominal), count))
    return made + of.table.wider_u * chance.standard_normal(count) if of.table.wider_u else made


def _slots(of: Setting) -> Slots | None:
    pairs = of.joint.pairs
    if not any(pair.a.is_slot or (pair.b.is_slot and not of.is_fixed) for pair in pairs):
        return None
    u = np.array([pair.a.travel for pair in pairs])
    v = np.array([(0.0, 0.0) if of.is_fixed else pair.b.travel for pair in pairs])
    return Slots(u[:, 0], u[:, 1], v[:, 0], v[:, 1])
