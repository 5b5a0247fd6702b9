"""The cap of a tube, square or round, against sums by hand (Steiner's of a parallel outline), and against shapely."""

import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.plate.cap import TEMPLATE
from tests.depth import tried
from tests.property.flattened import CHORD_ERROR_MM, points
from tests.strategies import parts_of

many = tried(200)


def rounded_box(width, height, radius):
    """Area and perimeter: the box less its four corners, each short of a square by a quarter circle."""
    return width * height - (4 - math.pi) * radius**2, 2 * (width + height) - (8 - 2 * math.pi) * radius


def moved_by(v):
    """How far the cap's edge is out from the tube's."""
    return {"over": v["step"], "inside": -v["wall"] - v["step"], "back": -v["step"]}[v["seat"]]


@many
@given(parts_of(TEMPLATE, section="square"))
def test_area_and_cut_length_are_those_by_hand(part):
    """Moving an outline by d changes its perimeter by 2 pi d and its area by d times the mean of the two, L + pi d."""
    v = part.record.parameters
    w, h, r, d = v["width"], v["height"], v["corner_radius"], moved_by(v)
    area, edge = rounded_box(w, h, r)
    if r > 0 and r + d >= 0:
        area, edge = area + d * (edge + math.pi * d), edge + 2 * math.pi * d
    else:
        area, edge = rounded_box(w + 2 * d, h + 2 * d, 0)
    assert part.measures.area_mm2 == pytest.approx(area - math.pi / 4 * v["vent"] ** 2, rel=1e-9, abs=1e-6)
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * v["vent"], rel=1e-9, abs=1e-6)
    assert part.profile.box == pytest.approx((0, 0, w + 2 * d, h + 2 * d), abs=1e-9)


@many
@given(parts_of(TEMPLATE, section="square", seat="inside"))
def test_a_cap_inside_goes_into_the_bore_with_its_gap_all_round(part):
    """The bore has the inside radius of the tube; no point of the cap is nearer to it than the gap."""
    v = part.record.parameters
    w, h = v["width"] - 2 * v["wall"], v["height"] - 2 * v["wall"]
    inner = max(v["corner_radius"] - v["wall"], 0)
    core = shapely.box(inner, inner, w - inner, h - inner) if 2 * inner < min(w, h) else None
    (edge,) = part.profile.outside
    cap = shapely.affinity.translate(shapely.Polygon(points(edge)), v["step"], v["step"])
    if core:
        bore = core.buffer(inner, quad_segs=256) if inner else core
        least = v["step"] - 2 * CHORD_ERROR_MM - inner * 1e-4  # chords of the bore bow by r (1 - cos(pi/1024))
        assert bore.buffer(1e-6).contains(cap.buffer(-1e-3))
        assert bore.exterior.distance(cap) >= least


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"seat": "inside", "wall": 30}, "wall"),
        ({"corner_radius": 31}, "corner_radius"),
        ({"seat": "inside", "step": 27}, "step"),
        ({"seat": "back", "step": 3.1}, "step"),
        ({"vent": 60}, "vent"),
        ({"vent": 10, "vent_down": 25}, "vent_down"),
        ({"corner_radius": 30, "width": 50, "height": 50}, "corner_radius"),
    ],
    ids=["no bore", "no side", "no plate", "beside the wall", "no metal", "hole over the edge", "small tube"],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-cap", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]


@many
@given(parts_of(TEMPLATE, section="round"))
def test_area_and_cut_length_of_a_disc_are_those_by_hand(part):
    v = part.record.parameters
    bore = v["tube"] - 2 * v["wall"]
    disc = {
        "over": v["tube"] + 2 * v["step"],
        "inside": bore - 2 * v["step"],
        "back": v["tube"] - 2 * v["step"],
    }[v["seat"]]
    assert part.measures.area_mm2 == pytest.approx(math.pi / 4 * (disc**2 - v["vent"] ** 2), rel=1e-9, abs=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(math.pi * (disc + v["vent"]), rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, disc, disc), abs=1e-9)
    if v["seat"] != "inside":
        assert disc >= bore - 1e-9, "it would fall into the tube"
    for vent in part.profile.inside:
        assert vent.loop.circle.centre == pytest.approx((disc / 2, disc / 2 - v["vent_down"]), abs=1e-9)


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"seat": "inside", "wall": 44.45}, "wall"),
        ({"seat": "inside", "step": 41.45}, "step"),
        ({"seat": "back", "step": 3.1}, "step"),
        ({"vent": 88.9}, "vent"),
        ({"vent": 10, "vent_down": 39.45}, "vent_down"),
    ],
    ids=["no bore", "no disc", "beside the wall", "no ring", "hole over the edge"],
)
def test_what_does_not_go_together_of_a_disc_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-cap", section="round", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
