"""Bed corner targets: area and edge by hand, crosses where they are asked for, marks on the metal."""

import math

import pytest
from hypothesis import given

import parts
from parts.profile import Scribe
from parts.templates.square.targets import TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_labels_apart, assert_marks_clear
from tests.strategies import parts_of

some = tried(60)


@tried(200)
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_by_hand(part):
    """Four rounded squares, less four holes; the box is the distance of the crosses and one plate."""
    v, m = part.record.parameters, part.measures
    r, hole = v["corner_radius"], v["hole"] if v["middle"] == "hole" else 0.0
    assert m.area_mm2 == pytest.approx(4 * (v["size"] ** 2 - (4 - math.pi) * r**2 - math.pi * hole**2 / 4), rel=1e-9)
    assert m.cut_length_mm == pytest.approx(4 * (4 * v["size"] - (8 - 2 * math.pi) * r + math.pi * hole), rel=1e-9)
    assert (m.width_mm, m.height_mm) == pytest.approx((v["across"] + v["size"], v["up"] + v["size"]), rel=1e-12)


@some
@given(parts_of(TEMPLATE, number=0.0, middle="scribed"))
def test_crosses_stand_at_the_corners_of_a_rectangle(part):
    v = part.record.parameters
    lines = [mark.path[0] for mark in part.profile.marks if isinstance(mark, Scribe)]
    assert len(lines) == 8
    level, upright = lines[0::2], lines[1::2]
    middles = [((a.start[0] + a.end[0]) / 2, (b.start[1] + b.end[1]) / 2) for a, b in zip(level, upright, strict=True)]
    low_left, low_right, up_left, up_right = middles
    assert math.dist(low_left, low_right) == pytest.approx(v["across"])
    assert math.dist(low_left, up_left) == pytest.approx(v["up"])
    assert math.dist(low_left, up_right) == pytest.approx(math.hypot(v["across"], v["up"]))
    assert math.dist(low_right, up_left) == pytest.approx(math.dist(low_left, up_right))


@some
@given(parts_of(TEMPLATE))
def test_marks_lie_on_the_metal(part):
    assert_marks_clear(part, 0.0)


@pytest.mark.parametrize(
    ("values", "parameter"),
    [
        ({"across": 90}, "across"), ({"up": 60}, "up"), ({"corner_radius": 46}, "corner_radius"), ({"arm": 45}, "arm"),
        ({"middle": "hole", "hole": 36}, "hole"), ({"number": 14}, "number"),
    ],
)  # fmt: skip
def test_what_has_no_room_is_named(values, parameter):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("square-targets", **values)
    assert [problem.parameter for problem in refused.value.problems] == [parameter]


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"text": "FERNHOLLOW TABLE ONE"}, "a plate has room for"),
        ({"arm": 9, "number": 8.5}, "take the arrows off"),
        ({"middle": "hole", "hole": 30, "size": 100}, "take the arrows off"),
    ],
)
def test_marks_without_room_are_told(values, said):
    with pytest.raises(parts.Refused, match=said):
        parts.draw("square-targets", **values)


@some
@given(parts_of(TEMPLATE))
def test_labels_stand_apart(part):
    p = TEMPLATE.parameters.read(part.record.parameters)
    assert_labels_apart(p.labels, 0.3 * p.number)


def test_every_plate_has_its_number_the_text_and_the_letters_of_the_axes():
    p = TEMPLATE.parameters.read({"text": "FERN 1"})
    assert [label.text for label in p.labels] == [t for n in "1234" for t in (n, "FERN 1", "X", "Y")]
