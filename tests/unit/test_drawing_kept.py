"""A drawing that follows another: laid out as that one was, where its places are still free."""

from dataclasses import replace
from itertools import combinations

import pytest

from parts.drawing import DESK, Kept, lay_out_on_screen
from parts.drawing.kept import MOST, Way
from parts.drawing.room import _overlap
from tests import library


@pytest.mark.parametrize(
    "said", ["", "0.5", "2.0 1.0", "0.0 1.0", "0.5 1.0 3:4 x", "1.0 nan", "0.5 1.0" + " 1:1" * 101]
)
def test_what_no_drawing_says_of_itself_is_not_believed(said):
    assert Kept.read(said) is None


def test_what_a_drawing_says_is_read_back():
    kept = Kept(0.8123456789, 1.25, (Way(12, 34.4), Way(0, 1e7)))
    assert Kept.read(str(kept)) == Kept(0.8123456789, 1.25, (Way(12, 34.0), Way(0, 999999.0)))
    assert Kept.read(str(Kept(1.0, 1.0, (Way(0, 1.0),) * (MOST + 1)))) is None


@pytest.mark.parametrize("slug", ["plate-base", "gusset-truss", "silhouette-flower"])
def test_a_drawing_that_follows_another_is_as_that_was_and_fills_its_window_as_well(slug):
    """By the same part again nothing moves; by any nonsense of places no lettering comes to lie on another."""
    record = library.part(slug).record
    first = lay_out_on_screen(record, DESK)
    again = lay_out_on_screen(record, replace(DESK, kept=first.kept))
    assert again.scale == pytest.approx(first.scale, rel=1e-9)
    assert [text.text for text in again.texts] == [text.text for text in first.texts]
    moved = [
        abs(a - b)
        for one, other in zip(again.texts, first.texts, strict=True)
        for a, b in zip(one.at, other.at, strict=True)
    ]
    assert max(moved) < 1e-6
    nonsense = Kept(0.31, 1.0, tuple(Way(7 * i % 50, 40.0) for i in range(len(first.kept.ways))))
    other = lay_out_on_screen(record, replace(DESK, kept=nonsense))
    assert other.scale >= 0.9 * first.scale
    assert not any(_overlap(a.outline, b.outline) for a, b in combinations(other.texts, 2))
