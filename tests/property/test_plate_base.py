"""The base plate against sums made by hand: a rounded rectangle less its circles."""

import math
from itertools import product

import pytest
from hypothesis import given

import parts
from parts.templates.plate.base import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    w, h, r, hole = v["width"], v["height"], v["corner_radius"], published_hole(v, "bolt", "hole")
    holes = 2 * v["holes_x"] + 2 * v["holes_y"] - 4  # a corner hole stands in two rows
    area = w * h - (4 - math.pi) * r**2 - math.pi / 4 * (holes * hole**2 + v["middle"] ** 2)
    edge = 2 * (w + h) - (8 - 2 * math.pi) * r + math.pi * (holes * hole + v["middle"])
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, w, h), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_anchors_stand_evenly_along_all_four_sides(part):
    v = part.record.parameters
    xs, ys = (
        [inset + i * (side - 2 * inset) / (count - 1) for i in range(count)]
        for side, inset, count in (
            (v["width"], v["inset_x"], v["holes_x"]),
            (v["height"], v["inset_y"], v["holes_y"]),
        )
    )
    wanted = [(x, y) for x, y in product(xs, ys) if x in (xs[0], xs[-1]) or y in (ys[0], ys[-1])]
    centres = [o.loop.circle.centre for o in part.profile.inside if o.name == "anchor hole"]
    assert len(centres) == len(wanted)
    assert all(min(math.dist(at, other) for other in centres) < 1e-9 * max(1, *at) for at in wanted)


@many
@given(parts_of(TEMPLATE, post="rectangle") | parts_of(TEMPLATE, post="round"))
def test_the_post_is_scribed_about_the_middle_and_clear_of_the_anchors(part):
    v = part.record.parameters
    (mark,) = part.profile.marks
    x, y = v["width"] / 2, v["height"] / 2
    a, b = v["post_x"] / 2, (v["post_y"] if v["post"] == "rectangle" else v["post_x"]) / 2
    xs, ys = zip(*((cx, cy) for s in mark.path for cx, cy in (s.box[:2], s.box[2:])), strict=True)
    assert (min(xs), min(ys), max(xs), max(ys)) == pytest.approx((x - a, y - b, x + a, y + b), abs=1e-6)
    assert mark.path[-1].end == mark.path[0].start
    r = v["post_radius"] if v["post"] == "rectangle" else a
    long = 2 * math.pi * a if v["post"] == "round" else 4 * (a + b) - (8 - 2 * math.pi) * r
    assert math.fsum(s.length for s in mark.path) == pytest.approx(long, rel=1e-9)
    for hole in (o.loop.circle for o in part.profile.inside if o.name == "anchor hole"):
        dx, dy = (abs(c - m) - e + r for c, m, e in zip(hole.centre, (x, y), (a, b), strict=True))
        gap = min(max(dx, dy), 0.0) + math.hypot(max(dx, 0), max(dy, 0)) - r  # from a rounded box
        assert gap > hole.diameter / 2 - 1e-9


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"inset_x": 94}, "inset_x"),
        ({"inset_y": 94}, "inset_y"),
        ({"corner_radius": 101}, "corner_radius"),
        ({"middle": 190}, "middle"),
        ({"inset_x": 5}, "inset_x"),
        ({"post": "round", "post_x": 190}, "post_x"),
        ({"post": "rectangle", "post_y": 210}, "post_y"),
        ({"post": "round", "post_x": 50, "middle": 50}, "middle"),
    ],
    ids=[
        "into each other",
        "into each other, upright",
        "radius over all",
        "opening over all",
        "over the edge",
        "post on an anchor",
        "post over all",
        "opening under the post's wall",
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-base", **values)
    assert named in {problem.parameter for problem in refused.value.problems}
