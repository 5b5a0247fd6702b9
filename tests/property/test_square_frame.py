"""Test frame: area and edge as pieces worked out by hand, the rectangle of its holes, marks off the cuts."""

import itertools
import math

import pytest
from hypothesis import given

import parts
from parts.templates.square.frame import TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_labels_apart, assert_marks_clear
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    x, y, w, outer, inner = v["size_x"], v["size_y"], v["bar"], v["corner_out"], v["corner_in"]
    area = 2 * w * (x + y - 2 * w) - (4 - math.pi) * (outer**2 - inner**2) - math.pi * v["hole"] ** 2
    edge = 4 * (x + y - 2 * w) - (8 - 2 * math.pi) * (outer + inner) + 4 * math.pi * v["hole"]
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((x, y), rel=1e-12)


@many
@given(parts_of(TEMPLATE))
def test_holes_make_an_exact_rectangle_with_the_diagonal_scribed(part):
    v = part.record.parameters
    boxes = [o.loop.box for o in part.profile.inside if o.name == "datum hole"]
    a, b, c, d = (((s[0] + s[2]) / 2, (s[1] + s[3]) / 2) for s in boxes)
    assert math.dist(a, c) == pytest.approx(math.dist(b, d), rel=1e-12)
    assert math.dist(a, b) == pytest.approx(math.dist(c, d), rel=1e-12) == pytest.approx(v["size_x"] - 2 * v["inset"])
    assert math.dist(b, c) == pytest.approx(v["size_y"] - 2 * v["inset"])


@many
@given(parts_of(TEMPLATE))
def test_marks_stand_clear_of_cuts_and_of_each_other(part):
    p = TEMPLATE.parameters.read(part.record.parameters)
    assert_marks_clear(part, 0.45 * p.text_height)
    assert_labels_apart(p.labels, 0.9 * p.text_height)


def test_the_diagonal_of_a_3_4_5_frame_is_scribed_whole():
    p = TEMPLATE.parameters.read({"size_x": 450, "size_y": 350})
    assert p.diagonal_text == "D 500"
    assert len(list(itertools.chain(p.labels))) == 4


@pytest.mark.parametrize(
    ("values", "name", "message"),
    [
        ({"bar": 200}, "bar", "must be less than 200 mm to leave a window."),
        ({"inset": 5}, "inset", "must be more than 5 mm to keep the holes inside the edges."),
        ({"inset": 45}, "inset", "must be less than 45 mm to keep the holes on the bars."),
        ({"corner_in": 151}, "corner_in", "must be at most 150 mm in the window."),
        ({"corner_out": 51, "inset": 30}, "corner_out", "must be at most 50 mm for the bars to keep their width."),
        ({"text_height": 26}, "text_height", "must be at most 25 mm for the marks to have room."),
    ],
)
def test_what_has_no_room_is_named_with_its_limit(values, name, message):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("square-frame", **values)
    assert [(p.parameter, p.message) for p in refused.value.problems] == [(name, message)]
