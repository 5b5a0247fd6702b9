"""Tips of loops of few segments: where there are none is told without arrays, and the same as with them."""

import importlib

from parts.geometry.narrow import tips
from tests.depth import several
from tests.property.random_profiles import region

COUNT = several(25, deep=2000)


def test_few_segments_have_the_tips_that_arrays_find(monkeypatch):
    asked = []
    for loops, limit in map(region, range(COUNT)):
        both_ways = (way for loop in loops for way in (loop, loop.reversed()))
        asked += [(loop, reach) for loop in both_ways for reach in (limit, 4 * limit)]
    told = [tips(loop, reach) for loop, reach in asked]
    monkeypatch.setattr(importlib.import_module("parts.geometry.narrow.tips"), "_FEW_SEGMENTS", 0)
    assert told == [tips(loop, reach) for loop, reach in asked]
    assert sum(map(len, told)) > COUNT
    assert sum(not found for found in told) > COUNT
