"""Test bend strips: area and edge by hand, bend lines where they are said to be, marks on the metal, texts apart."""

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given

import parts
from parts.profile import Bend, Scribe
from parts.templates.gauge.test_bend import TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_labels_apart, assert_marks_clear
from tests.strategies import parts_of

some = tried(60)


@tried(200)
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_by_hand(part):
    """So many rectangles above each other; the box is their heights and the gaps between."""
    v, m = part.record.parameters, part.measures
    count, flat, width = v["strips"], v["flat"], v["width"]
    assert m.area_mm2 == pytest.approx(count * flat * width, rel=1e-9)
    assert m.cut_length_mm == pytest.approx(2 * count * (flat + width), rel=1e-9)
    assert (m.width_mm, m.height_mm) == pytest.approx((flat, count * width + (count - 1) * v["gap"]), rel=1e-12)


@some
@given(parts_of(TEMPLATE))
def test_each_strip_is_bent_on_one_line_from_edge_to_edge(part):
    v = part.record.parameters
    bends = [mark for mark in part.profile.marks if isinstance(mark, Bend)]
    assert len(bends) == v["strips"]
    for i, bend in enumerate(bends):
        low = i * (v["width"] + v["gap"])
        assert bend.line.start == pytest.approx((v["bend_line"], low))
        assert bend.line.end == pytest.approx((v["bend_line"], low + v["width"]))
        assert math.degrees(bend.angle) == pytest.approx(v["bend"])


@some
@given(parts_of(TEMPLATE))
def test_marks_lie_on_the_metal_and_texts_apart(part):
    scribed = replace(part.profile, marks=tuple(m for m in part.profile.marks if isinstance(m, Scribe)))
    assert_marks_clear(SimpleNamespace(profile=scribed), 0.0)
    parameters = TEMPLATE.parameters.model_construct(None, **dict(part.record.parameters))
    assert_labels_apart(parameters.labels, 0.0)


def test_each_strip_says_which_it_is():
    labels = TEMPLATE.parameters.read({"strips": "3", "text": "3-V24"}).labels
    assert [label.text for label in labels] == ["A 1", "3-V24 B 1", "A 2", "3-V24 B 2", "A 3", "3-V24 B 3"]


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"bend_line": 150}, "bend_line"),
        ({"bend_line": 12, "mark": 14}, "mark"),
        ({"tick": 25}, "tick"),
        ({"text": "FERNHOLLOW BRAKE NO 2 V24"[:24], "text_height": 6}, "text"),
        ({"width": 10, "text_height": 8}, "text_height"),
    ],
)
def test_what_has_no_room_is_refused_by_name(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw(TEMPLATE.slug, **values)
    assert named in {problem.parameter for problem in refused.value.problems}
