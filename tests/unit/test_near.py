"""Pairs of boxes near each other, against every pair tried."""

import itertools
import random

import pytest

from parts.geometry.search.boxes import near_pairs

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
    boxes = [(x, y, x + draw.randint(0, 6), y + draw.randint(0, 6)) for x, y in corners]
    reach = draw.randint(0, 3)
    expected = [
        (i, j)
        for i, j in itertools.combinations(range(40), 2)
        if boxes[i][0] - boxes[j][2] <= reach
        and boxes[j][0] - boxes[i][2] <= reach
        and boxes[i][1] - boxes[j][3] <= reach
        and boxes[j][1] - boxes[i][3] <= reach
    ]
    assert sorted(near_pairs(boxes, reach)) == expected


def test_none():
    assert list(near_pairs([], 1)) == []
    assert list(near_pairs([BOX], 1)) == []
