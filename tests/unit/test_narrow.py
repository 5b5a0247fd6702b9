"""Narrow places searched once and asked often: the same answer whatever was asked before."""

import pytest

from parts.geometry.draft import circle, rectangle
from parts.geometry.narrow import memo as module
from parts.geometry.narrow.memo import narrow
from parts.geometry.narrow.width import necks
from parts.profile import Profile, openings

PLATE = rectangle((0, 0), 100, 30)
HOLES = [circle((10, 15), 10), circle((23, 15), 10), circle((40, 15), 10), circle((60, 15), 26)]
"""Between holes 3 and 7 mm, from the large one to the next 2 mm, and to both edges 2 mm; 5 mm at the left."""


@pytest.fixture
def searches(monkeypatch) -> list[float]:
    """The limits that were searched for, from now on; nothing is known from before."""
    module._known.cache_clear()
    limits: list[float] = []

    def counted(loops, limit):
        limits.append(limit)
        return necks(loops, limit)

    monkeypatch.setattr(module, "necks", counted)
    return limits


def plate() -> Profile:
    return Profile((PLATE,), openings(HOLES, "hole", "hole"))


@pytest.mark.parametrize("limits", [(8, 4, 2.5), (2.5, 4, 8), (4, 8, 2.5, 4)])
def test_any_order_of_limits_gives_what_a_search_gives(limits, searches):
    profile = plate()
    for limit in limits:
        assert profile.necks(limit) == necks(profile.boundary, limit)
    assert searches == [limit for i, limit in enumerate(limits) if limit > max(limits[:i], default=0)]


def test_a_neck_at_a_lower_limit_passes(searches):
    profile = plate()
    assert len(profile.necks(8)) > len(profile.necks(3.5)) > len(profile.necks(3.0)) > 0
    assert max(neck.width for neck in profile.necks(3.0)) == pytest.approx(2)
    assert searches == [8]


def test_the_same_profile_drawn_again_is_known(searches):
    assert plate().necks(5) == plate().necks(5)
    assert searches == [5]


def test_large_ones_are_not_compared(searches, monkeypatch):
    monkeypatch.setattr(module, "KNOWN_AGAIN", 3)
    assert plate().necks(5) == plate().necks(5)
    assert searches == [5, 5]


def test_narrow_says_what_necks_says():
    assert narrow(plate().boundary).under(6) == necks(plate().boundary, 6)
