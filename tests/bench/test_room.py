"""About where the largest circle is: the search over cells beside the flattened view, by the number of segments.

Run by `python -m pytest tests/bench/test_room.py --benchmark-only`. A comb is the hardest for both: as much room
in every gap. The search over cells is quicker up to about a hundred segments, seven times in a stripe of four; beyond,
what it compares grows with the square.
"""

import pytest

from parts.geometry.draft import polygon
from parts.geometry.inscribed import inscribed
from parts.geometry.loop import Loop
from parts.geometry.segments import Segments
from parts.geometry.view import polygon as flattened
from parts.geometry.view import roomiest

STRIPE = Loop.through([(0, 0, 0.2), (10, 80, 0), (15, 80, -0.2), (5, 0, 0)])


def comb(gaps: int) -> Loop:
    """Gaps of one width, 4 mm apart, above a bar."""
    teeth = [(4.0 * i + dx, y) for i in range(gaps) for dx, y in ((0, 1), (0, 20), (3, 20), (3, 1))]
    return polygon([*teeth, (4.0 * gaps, 1), (4.0 * gaps, 0), (0, 0)])


LOOPS = {"stripe": STRIPE} | {f"comb of {gaps}": comb(gaps) for gaps in (4, 8, 16, 32)}


@pytest.mark.parametrize("loop", LOOPS.values(), ids=LOOPS)
def test_cells(benchmark, loop):
    found = benchmark(lambda: inscribed(Segments.of(loop.segments), loop.box))
    assert found.radius > 1.4


@pytest.mark.parametrize("loop", LOOPS.values(), ids=LOOPS)
def test_flattened(benchmark, loop):
    assert loop.contains(benchmark(lambda: roomiest(flattened(loop))))
