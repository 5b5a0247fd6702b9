"""The adapter plate against sums made by hand, and its holes apart as complex numbers say."""

import cmath
import itertools
import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.adapter import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)


def pattern(v, which):
    """The centres of a pattern as complex numbers, from its parameters alone."""
    turn = cmath.rect(1, math.radians(v[f"{which}_turn"]))
    if v[which] == "circle":
        n = v[f"{which}_holes"]
        return [turn * cmath.rect(v[f"{which}_circle"] / 2, 2 * math.pi * i / n) for i in range(n)]
    return [turn * complex(x * v[f"{which}_x"], y * v[f"{which}_y"]) / 2 for x in (-1, 1) for y in (-1, 1)]


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    w, h, r = v["width"], v["height"], v["corner_radius"]
    if v["form"] == "round":
        h, r = w, w / 2
    area, edge = w * h - (4 - math.pi) * r**2, 2 * (w + h) - (8 - 2 * math.pi) * r
    rounds = [v["bore"]]
    for which in ("first", "second"):
        rounds += [published_hole(v, f"{which}_bolt", f"{which}_hole")] * len(pattern(v, which))
    assert part.measures.area_mm2 == pytest.approx(area - math.pi / 4 * sum(d**2 for d in rounds), rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * sum(rounds), rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, w, h), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_every_hole_is_where_its_pattern_says_and_clear_of_all_others(part):
    v = part.record.parameters
    middle = complex(v["width"], v["width"] if v["form"] == "round" else v["height"]) / 2
    drawn = [(complex(*o.loop.circle.centre) - middle, o.loop.circle.diameter) for o in part.profile.inside]
    asked = [at for which in ("first", "second") for at in pattern(v, which)]
    holes = drawn[1:] if v["bore"] else drawn
    assert len(holes) == len(asked)
    assert all(min(abs(at - hole) for hole, _ in holes) < 1e-6 for at in asked)
    for (a, d), (b, e) in itertools.combinations(drawn, 2):
        assert abs(a - b) > (d + e) / 2


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"corner_radius": 81}, ["corner_radius"]),
        ({"bore": 160}, ["bore"]),
        ({"bore": 81}, ["bore"]),
        ({"first_x": 11}, ["first_x"]),
        ({"second_circle": 12}, ["second_circle", "bore"]),
        ({"first_x": 150}, ["first_x"]),
        ({"first": "circle", "first_circle": 150}, ["first_circle"]),
        ({"second_circle": 165, "second_turn": 45}, ["second_turn"]),
        ({"second": "rectangle", "second_x": 115, "second_y": 115}, ["second_x"]),
        ({"form": "round", "first_x": 120}, ["first_x"]),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-adapter", **values)
    assert sorted(problem.parameter for problem in refused.value.problems) == sorted(named)


def test_the_remedy_of_holes_that_meet_is_right():
    meeting = {"first": "circle", "first_circle": 100, "second_circle": 95}
    with pytest.raises(parts.Refused):
        parts.draw("plate-adapter", **meeting)
    assert parts.draw("plate-adapter", **meeting, second_turn=45)
