"""Protractor plate: area and edge of a half disc on a rectangle, the lines' angles, marks off the cuts and apart."""

import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.gauge.protractor import TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_marks_clear
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    r, b, c, d = v["radius"], v["base"], v["corner_radius"], v["pivot"]
    area = math.pi * (r**2 / 2 - d**2 / 4) + 2 * r * b - (2 - math.pi / 2) * c**2
    edge = math.pi * (r + d) + 2 * r + 2 * b - (4 - math.pi) * c
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((2 * r, r + b), rel=1e-12)


@many
@given(parts_of(TEMPLATE))
def test_lines_point_at_the_pivot_at_whole_steps(part):
    v = part.record.parameters
    count = round(180 / float(v["every"])) + 1
    x, y, _, _ = part.profile.box
    pivot = complex(x + v["radius"], y + v["base"])
    for i, mark in enumerate(part.profile.marks[:count]):
        (line,) = mark.path
        for end in (line.start, line.end):
            turned = math.degrees(math.atan2(*reversed((end[0] - pivot.real, end[1] - pivot.imag))))
            assert turned == pytest.approx(i * float(v["every"]), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_marks_stand_clear_of_cuts_and_numbers_of_each_other(part):
    p = TEMPLATE.parameters.read(part.record.parameters)
    assert_marks_clear(part, min(0.3 * p.text_height, p.edge_gap))
    words = [shapely.union_all([shapely.LineString([s.at(t / 8) for s in m.path for t in range(9)]) for m in a.marks])
             for a in p.labels if a.text.strip()]  # fmt: skip
    for i, word in enumerate(words):
        assert all(word.distance(other) > 0.4 * p.text_height for other in words[:i]), p.labels[i]


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"pivot": 60}, "pivot"),
        ({"corner_radius": 15.1}, "corner_radius"),
        ({"every": "10"}, "numbered"),
        ({"tick": 110}, "tick"),
        ({"text": "FERNHOLLOW WORKSHOP 12", "radius": 60}, "text"),
        ({"text_height": 13}, "text_height"),
    ],
)
def test_what_has_no_room_is_named(values, name):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("gauge-protractor", **values)
    assert name in [problem.parameter for problem in refused.value.problems]
