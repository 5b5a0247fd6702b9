"""The motor mount against sums made by hand: a rounded box less circles, each drawn out by the travel."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.motor import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    """A circle of d drawn out by t sweeps d t more, and its edge is 2 t longer."""
    v = part.record.parameters
    w, h, r = v["width"], v["height"], v["corner_radius"]
    motor, mount = published_hole(v, "motor_bolt", "motor_hole"), published_hole(v, "bolt", "hole")
    motors = 4 if v["pattern"] == "square" else v["motor_holes"]
    mounts = {"corners": 4, "foot": 2, "none": 0}[v["mounts"]]
    sliding = [v["pilot"], *[motor] * motors]
    cut = sum(math.pi / 4 * d**2 + d * v["travel"] for d in sliding) + mounts * math.pi / 4 * mount**2
    rims = sum(math.pi * d + 2 * v["travel"] for d in sliding) + mounts * math.pi * mount
    assert part.measures.area_mm2 == pytest.approx(w * h - (4 - math.pi) * r**2 - cut, rel=1e-9, abs=1e-6)
    edge = 2 * (w + h) - (8 - 2 * math.pi) * r
    assert part.measures.cut_length_mm == pytest.approx(edge + rims, rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, w, h), abs=1e-9)
    assert part.profile.inside[0].name == "pilot hole"
    assert len(part.profile.inside) == 1 + motors + mounts


def middle(loop):
    x0, y0, x1, y1 = loop.box
    return complex((x0 + x1) / 2, (y0 + y1) / 2)


@many
@given(parts_of(TEMPLATE))
def test_motor_bolts_stand_round_the_pilot_and_slots_run_one_way(part):
    v = part.record.parameters
    pilot, *rest = part.profile.inside
    shaft = middle(pilot.loop)
    assert abs(shaft - complex(v["width"] / 2, v["up"])) < 1e-9
    out = v["circle"] / 2 if v["pattern"] == "circle" else v["square"] / math.sqrt(2)
    bolts = [o for o in rest if o.name == "motor hole"]
    arms = [middle(o.loop) - shaft for o in bolts]
    assert [abs(arm) for arm in arms] == pytest.approx([out] * len(arms), rel=1e-9)
    for arm in arms:  # mirrored in the upright line through the shaft
        assert min(abs(complex(-arm.real, arm.imag) - other) for other in arms) < 1e-6
    for opening in (pilot, *bolts):
        x0, y0, x1, y1 = opening.loop.box
        longer = (y1 - y0) - (x1 - x0)
        assert longer == pytest.approx(v["travel"] if v["slide"] == "up" else -v["travel"], abs=1e-9)


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"circle": 85}, "circle"),
        ({"circle": 250}, "circle"),
        ({"circle": 250, "width": 300}, "circle"),
        ({"pattern": "square", "square": 60}, "square"),
        ({"travel": 70, "height": 300, "up": 150, "motor_holes": 8, "circle": 120}, "travel"),
        ({"up": 39}, "up"),
        ({"up": 145}, "up"),
        ({"inset_x": 5.5}, "inset_x"),
        ({"inset_y": 5.5}, "inset_y"),
        ({"inset_x": 85}, "inset_x"),
        ({"inset_y": 85}, "inset_y"),
        ({"corner_radius": 91}, "corner_radius"),
    ],
    ids=[
        "in pilot",
        "too wide",
        "too tall",
        "square in pilot",
        "slots",
        "foot",
        "top",
        "left",
        "below",
        "across",
        "upright",
        "radius",
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-motor", **values)
    assert named in {problem.parameter for problem in refused.value.problems}
