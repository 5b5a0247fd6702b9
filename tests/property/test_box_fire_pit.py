"""Fire pit panels, put together in numbers: every slot takes the plate of the other panel, and all stand level."""

import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.box.fire_pit import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points
from tests.strategies import parts_of

many = tried(100)


def panels(part):
    """Each panel without its air slots, its lower left corner at the origin."""
    for loop in part.profile.outside:
        x, y, _, _ = loop.box
        yield shapely.affinity.translate(shapely.Polygon(points(loop)), -x, -y)


@many
@given(parts_of(TEMPLATE))
def test_panels_stand_in_each_other_level(part):
    """Cut where they cross, at the middle of a slot: a panel from above is metal below half the height, and vice versa.

    Where one has metal the other has none, over all of the plate's thickness; between the two nothing is left open but
    the round ends.
    """
    v = part.record.parameters
    plate, height = v["measured"] or v["thickness"], v["height"]
    left, right, front, back = panels(part)
    assert max(a.symmetric_difference(b).area for a, b in ((front, back), (left, right))) < 1e-6
    for panel, from_top in ((front, True), (left, False)):
        x0, _, x1, _ = panel.bounds
        for middle in (v["inset"], x1 - x0 - v["inset"]):
            low, high = (height / 2, height) if from_top else (0, height / 2)
            room = shapely.box(middle - plate / 2, low, middle + plate / 2, high)
            assert panel.intersection(room).area < 1e-6, "the other panel's plate has room, down to half the height"
            wide = shapely.box(middle - 10 * plate, (low + high) / 2, middle + 10 * plate, (low + high) / 2 + 1e-3)
            gap = wide.difference(panel).area / 1e-3
            side = min(10 * plate, middle, x1 - x0 - middle)
            slot = gap - (2 * 10 * plate - min(10 * plate, middle) - min(10 * plate, x1 - x0 - middle))
            if side < 10 * plate or x1 - x0 > 2 * (v["inset"] + 10 * plate):
                assert slot == pytest.approx(plate + 2 * v["clearance"], abs=1e-3)
            line = shapely.LineString([(middle, 0), (middle, height)]).intersection(panel)
            round_end = (plate + 2 * v["clearance"]) / 2
            assert line.length == pytest.approx(height / 2 - round_end, abs=1e-3)


@pytest.mark.parametrize("thickness", [3, 5, 6, 8])
def test_two_panels_put_together_share_no_metal(thickness):
    """In space at their place: at the crossing each has metal only where the other's slot is, and both stand on 0."""
    part = parts.draw("box-fire-pit", thickness=thickness)
    left, _, front, _ = panels(part)
    v = part.record.parameters
    across = {}
    for name, panel in (("front", front), ("left", left)):
        strip = shapely.box(v["inset"] - thickness / 2, -1, v["inset"] + thickness / 2, v["height"] + 1)
        across[name] = panel.intersection(strip)
        assert panel.bounds[1] == pytest.approx(0, abs=1e-9)
    (_, a0, _, a1), (_, b0, _, b1) = across["front"].bounds, across["left"].bounds
    assert (a0, b1) == pytest.approx((0, v["height"]), abs=1e-6)
    assert a1 <= v["height"] / 2 <= b0, "one ends below where the other begins"
    assert b0 - a1 < thickness + 2 * v["clearance"], "and no more is open than the round ends"


@many
@given(parts_of(TEMPLATE))
def test_air_slots_have_their_area(part):
    v = part.record.parameters
    a, b = sorted((v["air_width"], v["air_height"]))
    each = math.pi / 4 * a**2 + (b - a) * a
    found = sum(opening.loop.area for opening in part.profile.inside)
    assert found == pytest.approx(4 * v["air"] * each, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(
    ("values", "named"),
    [({"inset": 12}, "inset"), ({"inset": 348}, "inset"), ({"leg": 60}, "leg"), ({"foot": 176}, "foot"),
     ({"air_pitch": 100}, "air_pitch"), ({"air_up": 310}, "air_up"), ({"air_pitch": 12}, "air_pitch")],
)  # fmt: skip
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("box-fire-pit", **values)
    assert named in [problem.parameter for problem in refused.value.problems]
