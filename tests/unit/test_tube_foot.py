"""A foot hollowed to a tube: against the tube itself, drawn by shapely."""

import pytest
import shapely

import parts
from tests.property.flattened import assert_can_be_cut, assert_measured, points

TUBES = [
    ("bracket-weld-tab", {"width": 40, "tube": 48.3}),
    ("bracket-weld-tab", {"width": 40, "tube": 48.3, "snipe": 6, "tube_gap": 0}),
    ("bracket-weld-tab", {"width": 60, "tube": 114.3, "end": "square", "snipe": 10, "holes": 2, "row": "across"}),
    ("bracket-clevis-ear", {"foot": 50, "tube": 60.3, "head": 40, "rise": 45, "bolt": "M12"}),
    ("bracket-clevis-ear", {"foot": 50, "tube": 50, "tube_gap": 0.1, "straight": 0, "shoulder": 0}),
]


@pytest.mark.parametrize(("slug", "values"), TUBES)
def test_the_hollow_lies_round_the_tube_with_the_gap_everywhere(slug, values):
    part = parts.draw(slug, **values)
    assert_can_be_cut(part)
    assert_measured(part)
    v = part.record.parameters
    height = v.get("height") or v["rise"]
    (hole, *_) = part.profile.inside
    x = (part.profile.box[0] + part.profile.box[2]) / 2
    crown = hole.loop.circle.centre[1] - height  # the top of the hollow, which heights are measured from
    tube = shapely.Point(x, crown - v["tube_gap"] - v["tube"] / 2).buffer(v["tube"] / 2, quad_segs=4000)
    plate = shapely.Polygon(points(part.profile.outside[0]))
    assert plate.distance(tube) == pytest.approx(v["tube_gap"], abs=1e-4)
    assert plate.intersection(tube).area == pytest.approx(0, abs=5e-3)  # the flattening of the plate
    foot = v.get("width", v.get("foot")) - 2 * v.get("snipe", 0)
    grown = tube.buffer(v["tube_gap"] + 1e-3, quad_segs=4000)
    assert grown.intersection(plate).bounds[0] == pytest.approx(x - foot / 2, abs=1e-2)


@pytest.mark.parametrize(("slug", "name"), [("bracket-weld-tab", "width"), ("bracket-clevis-ear", "foot")])
def test_a_foot_no_narrower_than_the_tube_is_refused(slug, name):
    fitting = {"bolt": "M6", "tube": 60, "tube_gap": 1, "height" if name == "width" else "rise": 60}
    assert parts.draw(slug, **fitting, **{name: 61.9})
    with pytest.raises(parts.Refused) as caught:
        parts.draw(slug, **fitting, **{name: 62})
    assert [(p.parameter, p.message) for p in caught.value.problems] == [
        (name, "must be less than 62 mm to stand on this tube.")
    ]
