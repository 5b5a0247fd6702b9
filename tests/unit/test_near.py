"""Pairs of boxes near each other, against every pair tried."""

import itertools
import random

import pytest

from parts.geometry.search import BoxIndex, boxes, index, near_pairs, pairs_between

BOX = (0.0, 0.0, 10.0, 10.0)


@pytest.mark.parametrize(
    ("other", "reach", "near"),
    [
        ((12, 0, 20, 10), 1.999, False),
        ((12, 0, 20, 10), 2.0, True),
        ((12, 0, 20, 10), 2.001, True),
        ((0, -9, 10, -2), 2.0, True),
        ((0, -9, 10, -2.001), 2.0, False),
        ((12, 12, 20, 20), 2.0, True),
        ((3, 3, 4, 4), 0.0, True),
        ((10, 10, 20, 20), 0.0, True),
        ((10.001, 10, 20, 20), 0.0, False),
    ],
    ids=["under", "at", "over", "below at", "below under", "corner to corner", "inside", "touching", "apart"],
)
def test_two_boxes(other, reach, near):
    assert list(near_pairs([BOX, other], reach)) == ([(0, 1)] if near else [])
    assert list(near_pairs([other, BOX], reach)) == ([(0, 1)] if near else [])


@pytest.mark.parametrize("seed", range(20))
def test_every_pair_once(seed):
    draw = random.Random(seed)
    corners = [(draw.randint(0, 30), draw.randint(0, 30)) for _ in range(40)]
    of = [(x, y, x + draw.randint(0, 6), y + draw.randint(0, 6)) for x, y in corners]
    reach = draw.randint(0, 3)
    expected = [
        (i, j)
        for i, j in itertools.combinations(range(40), 2)
        if of[i][0] - of[j][2] <= reach
        and of[j][0] - of[i][2] <= reach
        and of[i][1] - of[j][3] <= reach
        and of[j][1] - of[i][3] <= reach
    ]
    assert sorted(near_pairs(of, reach)) == expected


@pytest.mark.parametrize("seed", range(5))
def test_many_boxes_in_the_same_order_as_few(seed, monkeypatch):
    draw = random.Random(seed)
    corners = [(draw.randint(0, 90), draw.randint(0, 90)) for _ in range(400)]
    of = [(x, y, x + draw.choice([0, 3, 90]), y + draw.randint(0, 6)) for x, y in corners]
    many = list(near_pairs(of, 1))
    monkeypatch.setattr(boxes, "_MANY_BOXES", len(of))
    assert many == list(near_pairs(of, 1))
    assert len(many) > 1000


@pytest.mark.parametrize(("count", "most"), [(0, 2_000), (10, 2_000), (400, 2_000), (400, 399)])
def test_boxes_near_another_in_order(count, most, monkeypatch):
    monkeypatch.setattr(index, "_MANY_BOXES", most)
    draw = random.Random(count)
    corners = [(draw.randint(0, 90), draw.randint(0, 90)) for _ in range(count)]
    of = [(x, y, x + draw.choice([0, 3, 30]), y + draw.randint(0, 6)) for x, y in corners]
    made = BoxIndex(of)
    due = {asked: [k for k, other in enumerate(of) if list(near_pairs([asked, other], 2.0))] for asked in [BOX, *of]}
    assert {asked: made.near(asked, 2.0) for asked in due} == due
    assert pairs_between([*due], of, 2.0) == [(i, k) for i, found in enumerate(due.values()) for k in found]


def test_none():
    assert list(near_pairs([], 1)) == []
    assert list(near_pairs([BOX], 1)) == []
