"""The search for necks examines a number of pairs that grows with the segments, not with their square."""

import math
import random

import numpy as np
import pytest

from parts.geometry.motion import rotation
from parts.geometry.narrow import candidates as facing
from parts.geometry.narrow import runs, width
from parts.geometry.narrow.boundary import Boundary
from parts.geometry.search import grid as cells
from parts.geometry.search.grid import near_between, near_boxes
from tests.depth import several
from tests.large_outlines import KINDS, LIMIT, narrow_places

MOST = several(6_000, 12_000)
"""Segments of the larger of two outlines."""


def examined(loops, monkeypatch) -> tuple[int, int]:
    """Boxes compared, facet pairs, segment pairs and segments looked at around chords, in all; and necks found."""
    work = 0
    spread, near = cells.spread, Boundary.near

    def counted(count):
        nonlocal work
        work += int(count.sum())
        return spread(count)

    def looked_at(boundary, asked):
        nonlocal work
        of, found = near(boundary, asked)
        work += len(found)
        return of, found

    with monkeypatch.context() as patch:
        patch.setattr(cells, "spread", counted)
        patch.setattr(facing, "spread", counted)
        patch.setattr(runs, "spread", counted)
        patch.setattr(Boundary, "near", looked_at)
        found = width.necks(loops, LIMIT)
    return work, len(found)


@pytest.mark.parametrize("turn", [0.0, 0.7], ids=["upright", "slanting"])
@pytest.mark.parametrize("kind", KINDS)
def test_work_grows_with_the_segments(kind, turn, monkeypatch):
    motion, work = rotation(turn), {}
    for size in (1_500, MOST):
        loops = [motion.loop(loop) for loop in KINDS[kind](size)]
        work[size], found = examined(loops, monkeypatch)
        assert found == narrow_places(kind, size)
    assert math.log(work[MOST] / work[1_500], MOST / 1_500) <= 1.1
    assert work[MOST] <= 600 * MOST


@pytest.mark.parametrize("reach", [0.0, 0.5, 3.0])
def test_near_boxes_against_every_pair(reach):
    rng = random.Random(3)
    corners = [(rng.uniform(-20, 20), rng.uniform(-5, 40)) for _ in range(300)]
    boxes = [(x, y, x + rng.uniform(0, 3), y + rng.expovariate(1)) for x, y in corners]
    due = {
        (i, j)
        for j, b in enumerate(boxes)
        for i, a in enumerate(boxes[:j])
        if a[0] <= b[2] + reach and b[0] <= a[2] + reach and a[1] <= b[3] + reach and b[1] <= a[3] + reach
    }
    found = [pair for i, j in near_boxes(np.array(boxes), reach) for pair in zip(i.tolist(), j.tolist(), strict=True)]
    assert len(found) == len(due)
    assert set(found) == due


@pytest.mark.parametrize("reach", [0.0, 0.5])
@pytest.mark.parametrize("count", [(3, 200), (250, 400)], ids=["few", "many"])
def test_boxes_of_two_kinds_against_every_pair(count, reach):
    """Of the second kind some are points, some a thousand times as large as others; some only touch."""
    rng = random.Random(4)

    def boxes(many: int) -> np.ndarray:
        wide = [rng.choice([0, 10 ** rng.uniform(-2, 2)]) for _ in range(many)]
        high = [rng.choice([0, rng.uniform(0, 3), 80]) for _ in range(many)]
        corners = [(round(rng.uniform(-99, 99)), rng.uniform(-20, 99)) for _ in range(many)]
        return np.array([(x, y, x + w, y + h) for (x, y), w, h in zip(corners, wide, high, strict=True)])

    a, b = boxes(count[0]), boxes(count[1])
    due = {
        (i, k)
        for i, (x0, y0, x1, y1) in enumerate(a.tolist())
        for k, (u0, v0, u1, v1) in enumerate(b.tolist())
        if x0 - reach <= u1 and u0 <= x1 + reach and y0 - reach <= v1 and v0 <= y1 + reach
    }
    i, k = near_between(a, b, reach)
    assert len(i) == len(due) > 5
    assert set(zip(i.tolist(), k.tolist(), strict=True)) == due


def test_no_boxes_are_near_none():
    none, one = np.empty((0, 4)), np.zeros((1, 4))
    assert not list(near_boxes(none, 1.0))
    found = [*near_boxes(one, 1.0), near_between(none, one), near_between(one, none)]
    assert {len(indices) for pair in found for indices in pair} == {0}
