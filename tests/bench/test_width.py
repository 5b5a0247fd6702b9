"""The search for narrow places beside one opening by GEOS (shapely's defaults) of the same outline, in the same run.

Run by `python -m pytest tests/bench/test_width.py --benchmark-only -s`. Seconds are of the processor, the least of
three tries, so that other work on the machine counts little; loops and polygon are made beforehand for both.
"""

import math
import time
from collections.abc import Callable

import pytest

from parts.geometry import view
from parts.geometry.narrow.width import necks
from tests.large_outlines import KINDS, LIMIT, narrow_places

SIZES = (1_000, 10_000, 100_000)
OF_OPENING, EXPONENT = 3.0, 1.15


def seconds(of: Callable[[], object]) -> float:
    start = time.process_time()
    of()
    return time.process_time() - start


def searched(kind: str, size: int) -> tuple[float, int]:
    """Seconds of one search of loops just made, whose segments know nothing of themselves yet; necks found."""
    loops, found = KINDS[kind](size), []
    spent = seconds(lambda: found.extend(necks(loops, LIMIT)))
    return spent, len(found)


@pytest.mark.parametrize("kind", KINDS)
def test_beside_an_opening(kind, benchmark):
    """At most three times the opening at 100,000 segments; ten times the segments, at most 10^1.15 the time."""
    spent = {}
    for size in SIZES:
        tries = [searched(kind, size) for _ in range(3)]
        spent[size] = min(span for span, _ in tries)
        assert tries[0][1] == narrow_places(kind, size)
    outside, *inside = KINDS[kind](SIZES[-1])
    polygon = view.polygon(outside, inside)
    opening = seconds(lambda: polygon.buffer(-LIMIT / 2).buffer(LIMIT / 2))  # once: on the plate it takes a minute
    exponent = math.log10(spent[SIZES[-1]] / spent[SIZES[1]])
    benchmark.pedantic(necks, args=(KINDS[kind](SIZES[0]), LIMIT), rounds=3)
    print(  # noqa: T201 - what it is run for
        f"\n{kind}: {', '.join(f'{spent[size]:.4f} s' for size in SIZES)}, growth {exponent:.2f}, goal {EXPONENT}; "
        f"opening {opening:.3f} s: {spent[SIZES[-1]] / opening:.2f}, goal {OF_OPENING}"
    )
    assert exponent <= EXPONENT
    assert spent[SIZES[-1]] <= OF_OPENING * opening
