"""Necks against brute force over every pair of pieces of boundary: none missed, none invented, to 1e-6 mm."""

import itertools
import math
from collections import Counter

import numpy as np
import pytest

from parts.geometry.loop import Loop
from parts.geometry.narrow import boundary
from parts.geometry.narrow.width import Neck, necks
from parts.geometry.segment import Line
from tests.depth import first_number, several
from tests.property.random_profiles import region
from tests.property.width_pairs import SAME_MM, Place, fans, places, same_ends

WIDTH_MM = 1e-6
COUNT, MANY = several(12, deep=2000), several(6, deep=500)
"""Profiles to compare, by the search over few segments and by that over many; the whole claim is for 2000."""
LEFT_OUT = several(30, deep=2000)
"""Profiles of which every pair of segments is looked at."""
FIRST = first_number()
"""Number of the first of them."""


def differences(loops: list[Loop], limit: float, counts: Counter[str]) -> list[str]:
    """What is missed, invented, told twice or told of with another width, each a sentence; counts by the way."""
    found, due = necks(loops, limit), places(loops, limit)
    of_fans = fans(loops)
    told: Counter[int] = Counter()
    said = []
    for neck in found:
        index = next((i for i, place in enumerate(due) if _is(neck, place)), None)
        if index is not None:
            told[index] += 1
        elif any(_on_fan(neck, *fan) for fan in of_fans):
            counts["fans"] += 1
        else:
            said.append(f"invented: {neck}")
    for i, place in enumerate(due):
        counts["places" if place.sure else "doubtful"] += 1
        if place.sure and not told[i]:
            said.append(f"missed: {place}")
        if place.sure and told[i] > 1:
            said.append(f"told {told[i]} times: {place}")
    return said


def _is(neck: Neck, place: Place) -> bool:
    if abs(neck.width - place.width) > WIDTH_MM:
        return False
    on_run = any(run.off(neck.middle) <= SAME_MM for run in place.runs)
    return on_run or (len(place.chords) > 0 and same_ends(place.chords, np.array([neck.start, neck.end])))


def _on_fan(neck: Neck, corner: tuple[float, float], radius: float) -> bool:
    apart = min(math.dist(corner, end) for end in (neck.start, neck.end))
    return apart <= SAME_MM and abs(neck.width - radius) <= WIDTH_MM


ONCE_WRONG = (172, 452, 632, 985, 1462, 1652, 1960, 2446, 2666, 3411, 31391, 31434, 101013, 212675)
"""Numbers of profiles that one of the two searches has been wrong about."""


@pytest.mark.parametrize(("few", "count"), [(boundary.MANY_SEGMENTS, COUNT), (0, MANY)], ids=["few", "many"])
def test_none_missed_none_invented(few, count, monkeypatch):
    """By the search over few segments, and by that over many."""
    monkeypatch.setattr(boundary, "MANY_SEGMENTS", few)
    counts: Counter[str] = Counter()
    wrong = {}
    for seed in (*range(FIRST, FIRST + count), *ONCE_WRONG):
        loops, limit = region(seed)
        if said := differences(loops, limit, Counter() if seed in ONCE_WRONG else counts):
            wrong[seed] = said
    assert not wrong, f"{len(wrong)} of {count} and {len(ONCE_WRONG)}: {dict(list(wrong.items())[:3])}"
    assert counts["doubtful"] + counts["fans"] <= counts["places"] / 15, counts


def test_no_pair_left_out_of_few_has_a_neck(monkeypatch):
    """With every pair of segments looked at, the necks of the metal and of the void are the same to the last bit."""
    asked = [(loops, limit) for loops, limit in map(region, range(FIRST, FIRST + LEFT_OUT))]
    asked += [([loop.reversed() for loop in loops], limit) for loops, limit in asked]
    told = [necks(loops, limit) for loops, limit in asked]
    monkeypatch.setattr(boundary, "few_facing_pairs", every_pair)
    assert told == [necks(loops, limit) for loops, limit in asked]
    assert sum(map(len, told)) > LEFT_OUT


def every_pair(loops, _):
    """All pairs but those of lines that meet at a corner, between which there is none."""
    segments = [segment for loop in loops for segment in loop.segments]
    for (i, a), (j, b) in itertools.combinations(enumerate(segments), 2):
        if not (isinstance(a, Line) and isinstance(b, Line) and (a.end == b.start or b.end == a.start)):
            yield i, j
