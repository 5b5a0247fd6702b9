"""The quick check with a tape."""

import math

import pytest

from parts.errors import Refused
from parts.truing.tape import from_diagonals, quick_check, smallest_shown


def test_3_4_5_is_square():
    found = quick_check([914.4, 1219.2, 1524])
    assert found.angle.value == pytest.approx(0, abs=1e-15)
    assert found.unequal is None
    assert found.longer == 1219.2


@pytest.mark.parametrize("degrees", [-3, -0.1, 0.1, 3])
def test_both_ways_give_the_angle_that_was_drawn(degrees):
    """Corners of a parallelogram with 90 degrees + e between its sides, its lengths between points."""
    turn = math.radians(90 + degrees)
    a, b = (800.0, 0.0), (500 * math.cos(turn), 500 * math.sin(turn))
    long = math.dist(a, b)
    from_corner = math.hypot(a[0] + b[0], b[1])
    for lengths in ([800, 500, long], [800, 500, from_corner, long]):
        assert math.degrees(quick_check(lengths).angle.value) == pytest.approx(degrees, abs=1e-9)


@pytest.mark.parametrize("lengths", [(1200, 900), (600, 600), (2440, 1220)])
@pytest.mark.parametrize("triangle", [False, True])
def test_the_smallest_shown_is_where_it_starts_to_differ(lengths, triangle):
    a, b = lengths
    smallest = smallest_shown(a, b, 0.5, triangle=triangle)
    for share, shown in ((0.99, False), (1.01, True)):
        e = share * smallest
        apart, along = (math.sqrt(a * a + b * b + sign * 2 * a * b * math.sin(e)) for sign in (1, -1))
        rest = [apart] if triangle else [along, apart]
        found = quick_check([a, b, *rest], 0.5)
        assert found.angle.differs_from_zero is shown


@pytest.mark.parametrize(("off", "told"), [(2.01, False), (2.02, True)], ids=["just under", "just over"])
def test_lengths_that_do_not_go_together_are_told(off, told):
    """On a square of 1 m, u 0.5: both diagonals too long by 3.29 * 0.5 * sqrt(48) / (4 sqrt 2) = 2.015 mm."""
    d = 1000 * math.sqrt(2) + off
    found = quick_check([1000, 1000, d, d], 0.5).unequal
    assert found == (pytest.approx(2 * off, rel=0.01) if told else None)  # of one of the two, twice that


@pytest.mark.parametrize(
    ("lengths", "u", "name"),
    [
        ([1, 2], 0.5, "tape"), ([1, 2, 3, 4, 5], 0.5, "tape"), ([3, 4, 8], 0.5, "tape"), ([3, 4, 7], 0.5, "tape"),
        ([0, 4, 5], 0.5, "tape"), ([-3, 4, 5], 0.5, "tape"), ([300, 200, 600, 100], 0.5, "tape"),
        ([300, 200, 360, 360], 0.0, "u"), ([300, 200, 2e5, 360], 0.5, "tape"),
    ],
)  # fmt: skip
def test_what_is_no_piece_is_refused(lengths, u, name):
    with pytest.raises(Refused) as refused:
        quick_check(lengths, u)
    assert [problem.parameter for problem in refused.value.problems] == [name]


def test_a_common_error_of_the_tape_cancels():
    lengths = (300, 200, 360.85, 360.26)
    stretched = from_diagonals(*(1.003 * length for length in lengths), 0.1)
    assert stretched.value == pytest.approx(from_diagonals(*lengths, 0.1).value, rel=1e-9)
