"""How boxes near each other are found, each way at each number of boxes, in the same run.

Run by `python -m pytest tests/bench/test_near.py --benchmark-only -s`. Microseconds of the processor, the least of some
tries. Boxes are those of a round outline in short segments, and of a plate with holes, slots and long sides, which is
harder for a sweep. The way that is taken is at most three times as dear as the best: of an outline few boxes are open
at a time, so that a sweep a box at a time stays quick; of a plate it is eight times as dear as in batches
at 20,000 boxes.
"""

import itertools
import math
import random
import time
from collections.abc import Callable

import numpy as np
import pytest

from parts.geometry.search import BoxIndex, boxes, grid, index, near_pairs
from parts.geometry.search.grid import near_between, near_boxes
from parts.geometry.segment import Box
from parts.geometry.view import BoxTree

SIZES = (4, 20, 100, 200, 400, 1_000, 4_000, 20_000)
REACH = 2.0
DEARER = 3.0


def outline(count: int) -> list[Box]:
    """Of short lines round a circle."""
    points = [(count * math.cos(t), count * math.sin(t)) for t in np.linspace(0, 2 * math.pi, count + 1)]
    return [(min(a, c), min(b, d), max(a, c), max(b, d)) for (a, b), (c, d) in itertools.pairwise(points)]


def plate(count: int) -> list[Box]:
    """Of four sides, and of small, wide and no size within."""
    rng, side = random.Random(1), 10 * math.sqrt(count)
    corners = [(rng.uniform(0, side), rng.uniform(0, side)) for _ in range(count - 4)]
    within = [(x, y, x + rng.choice([0, 8, 8, 30]), y + rng.choice([0, 8, 8])) for x, y in corners]
    return [(0, 0, side, 0), (side, 0, side, side), (0, side, side, side), (0, 0, 0, side), *within]


KINDS = {"outline": outline, "plate": plate}


def spent(of: Callable[[], object], times: int) -> float:
    """Microseconds of one call, of the quickest of some tries of so many."""
    tries = []
    for _ in range(4):
        start = time.process_time()
        for _ in range(times):
            of()
        tries.append((time.process_time() - start) / times * 1e6)
    return min(tries)


def told(title: str, ways: dict[str, float]) -> None:
    print(f"\n{title}: {', '.join(f'{way} {figure:.0f}' for way, figure in ways.items())} us", end="")  # noqa: T201


@pytest.mark.parametrize("count", SIZES)
@pytest.mark.parametrize("kind", KINDS)
def test_pairs_of_one_list(kind, count, benchmark):
    of, times = KINDS[kind](count), max(1, 2_000 // count)
    ways = {
        "sweep": lambda: list(boxes._swept(of, REACH)),
        "sweep in batches": lambda: list(boxes._swept_in_batches(of, REACH)),
        "rows": lambda: [pair for i, j in near_boxes(np.array(of), REACH) for pair in zip(i.tolist(), j.tolist())],  # noqa: B905
        "tree": lambda: BoxTree(np.array(of)).meetings(np.array(of)),
        "taken": lambda: list(near_pairs(of, REACH)),
    }
    took = {way: spent(do, times) for way, do in ways.items()}
    told(f"{count} boxes, {kind}", took)
    benchmark.pedantic(ways["taken"], rounds=1)
    assert took["taken"] <= DEARER * min(took.values()) + 1


@pytest.mark.parametrize("counts", [(1, 50), (1, 20_000), (10, 1_000), (100, 100), (300, 300), (1_000, 1_000)])
def test_pairs_of_two_lists(counts, benchmark, monkeypatch):
    a, b = (np.array(plate(max(count, 4))[:count]) for count in counts)
    took = {"taken": spent(lambda: near_between(a, b, REACH), 1)}
    took["tree"] = spent(lambda: BoxTree(b).meetings(a), 1)
    for way, few in (("rows", 0), ("all", 10**9)):
        monkeypatch.setattr(grid, "_FEW_PAIRS", few)
        monkeypatch.setattr(grid, "_FEW_BOXES", 0)
        took[way] = spent(lambda: near_between(a, b, REACH), 1)
    told(f"{counts[0]} and {counts[1]} boxes", took)
    benchmark.pedantic(near_between, args=(a, b, REACH), rounds=1)
    assert took["taken"] <= DEARER * min(took.values()) + 20


@pytest.mark.parametrize("count", SIZES)
def test_one_box_asked_about(count, benchmark, monkeypatch):
    of = plate(count)
    asked = random.Random(2).choices(of, k=50)
    took = {}
    taken, most = (index._SOME_BOXES, index._MANY_BOXES), 10**9
    for way, some, many in (("taken", *taken), ("tree", 0, 0), ("arrays", 0, most), ("one by one", most, most)):
        monkeypatch.setattr(index, "_SOME_BOXES", some)
        monkeypatch.setattr(index, "_MANY_BOXES", many)
        made = BoxIndex(of)
        took[way] = spent(lambda made=made: [made.near(box, REACH) for box in asked], 1) / len(asked)
    told(f"one of {count} boxes", took)
    benchmark.pedantic(made.near, args=(asked[0], REACH), rounds=1)
    assert took["taken"] <= DEARER * min(took.values()) + 1
