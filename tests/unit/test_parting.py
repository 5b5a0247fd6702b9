"""The flat cut along bend lines: pieces and what bends take, against areas by hand; what can't be cut is named."""

import math

import pytest

from parts.errors import GeometryError
from parts.forming import Fold, parted
from parts.geometry import Line, circle, rectangle
from parts.profile import Bend, Opening, Profile

T, R, K = 2.0, 3.0, 0.4
FOLD = Fold(math.pi / 2, R, T, K)
TAKEN = math.pi / 2 * (R + K * T)  # bend allowance, Machinery's Handbook
PLATE = rectangle((0, 0), 100, 60)


def cut(*lines, holes=()):
    profile = Profile((PLATE,), tuple(Opening(loop, "hole", "") for loop in holes))
    return parted(profile, [(Bend(Line(*ends), FOLD.angle, R, True, K), FOLD) for ends in lines])


def areas(found):
    return sorted(piece.area for piece in found.pieces)


@pytest.mark.parametrize("ends", [((40, 0), (40, 60)), ((40, 60), (40, 0))], ids=["up", "down"])
def test_one_line_parts_a_plate_into_two_rectangles_less_half_the_allowance_each(ends):
    found = cut(ends)
    assert areas(found) == pytest.approx([(40 - TAKEN / 2) * 60, (60 - TAKEN / 2) * 60], rel=1e-12)
    left, right = (found.pieces[i].area for i in found.beside[0])
    assert (left < right) is (ends[0][1] == 0), "left of the line as it runs"
    assert [sum(edge.seam is not None for edge in piece.outside) for piece in found.pieces] == [1, 1]
    assert [len(piece.outside) for piece in found.pieces] == [4, 4], "no side runs out and back"


def test_a_window_across_the_line_leaves_two_spans_of_one_bend():
    found = cut(((40, 0), (40, 60)), holes=[rectangle((25, 20), 30, 20)])
    assert [(span.start, span.end) for span in found.spans] == [(0, 20), (40, 60)]
    assert len(found.pieces) == 2
    window = 30 * 20 - TAKEN * 20
    assert math.fsum(areas(found)) == pytest.approx(100 * 60 - TAKEN * 60 - window, rel=1e-12)
    assert set(found.beside[0]) == set(found.beside[1])


def test_a_hole_beside_the_line_stays_with_its_piece():
    found = cut(((40, 0), (40, 60)), holes=[circle((70, 30), 10)])
    (holed,) = (piece for piece in found.pieces if piece.inside)
    assert holed.area == pytest.approx((60 - TAKEN / 2) * 60 - 25 * math.pi, rel=1e-12)


def test_beside_a_round_relief_the_metal_beyond_the_line_stays_with_its_pieces():
    """The line ends on the circle; the circle only touches what the bend takes, and all area is accounted for."""
    found = cut(((40, 8), (40, 60)), holes=[circle((40, 4), 8.0)])  # which touches the edge of the plate too
    assert len(found.pieces) in (1, 2)
    assert math.fsum(areas(found)) == pytest.approx(6000 - TAKEN * 52 - 16 * math.pi, rel=1e-12)


@pytest.mark.parametrize(
    ("ends", "holes", "said"),
    [
        (((40, 0), (40, 40)), (), "the bend line doesn't part it"),
        (((40, 10), (40, 60)), (), "the bend line doesn't part it"),
        (((40, 0), (40, 60)), [circle((40, 30), 20)], "runs into the bend line, which isn't cut square there"),
        (((40, 0), (40, 60)), [circle((40 + TAKEN / 2 + 1.999, 30), 4)], "runs into the bend line"),
        (((40, 0), (44, 60)), (), "runs into the bend line"),
    ],
    ids=["ends early", "begins late", "hole on it", "hole in the bend", "slanted"],
)
def test_what_can_not_be_cut_is_named(ends, holes, said):
    with pytest.raises(GeometryError, match=said):
        cut(ends, holes=holes)


def test_a_hole_that_only_touches_the_bend_is_let_be():
    assert len(cut(((40, 0), (40, 60)), holes=[circle((40 + TAKEN / 2 + 2, 30), 4)]).pieces) == 2
