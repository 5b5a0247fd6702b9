"""Figures by name in plates and frames: within their shape, clear of border and holes, as large as asked, lettered."""

import math

import pytest
import shapely

import parts
from parts.artwork import metal_of
from parts.errors import Refused
from parts.templates import template
from tests.depth import several, some_of

SHAPES = ("rounded", "rectangle", "scalloped", "oval", "round", "shield")
ROUND = ("oval", "round")
FEW = several(1, 2)
CASES = [
    (shape, made_as, holes)
    for shape in SHAPES
    for made_as in ("plate", "framed")
    for holes in ("none", "top", "sides", "corners")
    if not (holes == "corners" and shape in ROUND)
]


def values_of(shape, made_as, holes, **more):
    border = {"border": 6} if made_as == "plate" else {}
    return {
        "symbol": "bird", "made_as": made_as, "shape": shape, "holes": holes, "margin": 70, "overall_width": 500,
        **border, **more,
    }  # fmt: skip


@pytest.mark.parametrize(("shape", "made_as", "holes"), some_of(8, CASES))
def test_a_figure_is_clear_of_all_that_is_at_the_edge(shape, made_as, holes):
    """Areas and distances by shapely, of what is cut and of what was to be seen."""
    values = values_of(shape, made_as, holes)
    part, p = parts.draw("outline-symbol", **values), template("outline-symbol").parameters.read(values)
    assert [f.message for f in part.findings if f.severity == "stop"] == []
    (edge,) = part.profile.outside
    assert part.measures.width_mm == pytest.approx(500, abs=1e-6)
    plate, figure = metal_of([edge]), p.placed
    bores = [opening for opening in part.profile.inside if opening.name == "hole"]
    assert len(bores) == {"none": 0, "top": 1, "sides": 2, "corners": 2 if shape == "shield" else 4}[holes]
    assert figure.within(plate)
    assert shapely.distance(figure, plate.boundary) >= {"oval": 20}.get(shape, 69.5)
    for opening in bores:
        bore = metal_of([opening.loop])
        assert shapely.distance(bore, plate.boundary) > p.bridge - 0.01
        assert shapely.distance(bore, figure) > p.bridge
    metal = metal_of([edge, *(opening.loop for opening in part.profile.inside)])
    kept = shapely.intersection(figure, metal).area / figure.area
    assert kept == pytest.approx(1.0, abs=0.01) if made_as == "framed" else kept < 0.15  # what bridges take of it


@pytest.mark.parametrize("made_as", ["plate", "framed"])
def test_a_plate_of_both_sizes_has_the_figure_as_large_as_fits(made_as):
    values = values_of("rectangle", made_as, "none", overall_width=600, overall_height=300)
    p = template("outline-symbol").parameters.read(values)
    assert p.size == (600, 300)
    x0, y0, x1, y1 = p.placed.bounds
    assert (x0 + x1) / 2 == pytest.approx(300)
    assert (y0, 300 - y1) == pytest.approx((70, 70), abs=1.0)
    part = parts.draw("outline-symbol", **values)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((600, 300))


def test_a_height_alone_says_how_large_a_plate_is():
    for shape in SHAPES:
        values = values_of(shape, "plate", "none", overall_width=0, overall_height=400)
        assert parts.draw("outline-symbol", **values).measures.height_mm == pytest.approx(400, abs=1e-6), shape


@pytest.mark.parametrize(
    ("more", "parameter", "message"),
    [
        ({"margin": 20}, "margin", "must be at least 33.5 mm to keep the figure off what is at the edge."),
        ({"shape": "round", "holes": "corners"}, "holes", "can't be in the corners: this shape has none."),
        ({"shape": "round", "overall_height": 400}, "overall_height", "must be 500 mm too: a round plate is as high"),
        ({"border_in": 5}, "border_in", "must be at least 10 mm to leave as much metal as a bridge has."),
        ({"holes": "top", "hole_in": 20}, "hole_in", "must be at least 37 mm to keep metal around the holes."),
        ({"made_as": "framed", "holes": "top", "frame": 26}, "frame", "must be at least 27 mm to keep metal around"),
        ({"made_as": "framed", "holes": "top", "frame": 30, "hole_in": 17}, "hole_in", "must be at most 16.5 mm"),
        ({"overall_width": 150}, "overall_width", "must be at least 160 mm for a figure that can be seen."),
        ({"corner_radius": 270}, "corner_radius", "must be at most 2"),
    ],
)
def test_what_has_no_room_is_refused_with_what_has(more, parameter, message):
    with pytest.raises(Refused) as refused:
        parts.draw("outline-symbol", **{**values_of("rounded", "plate", "none"), **more})
    problem = refused.value.problems[0]
    assert (problem.parameter, problem.message[: len(message)]) == (parameter, message)


def test_a_name_stands_in_the_room_below_the_figure():
    values = values_of("rounded", "plate", "none", below=90, text="ROBIN")
    part, p = parts.draw("outline-symbol", **values), template("outline-symbol").parameters.read(values)
    low = p.placed.bounds[1]
    letters = [opening.loop.box for opening in part.profile.inside if opening.name == "letter"]
    assert letters
    assert max(box[3] for box in letters) < low
    middle = (min(box[0] for box in letters) + max(box[2] for box in letters)) / 2
    assert middle == pytest.approx(250, abs=10)


def test_a_map_can_be_lettered_as_a_piece():
    part = parts.draw("outline-map", place="Ohio", overall_width=400, text="OHIO")
    assert len(part.profile.outside) == 1
    assert {opening.name for opening in part.profile.inside} == {"letter"}
    assert not [f for f in part.findings if f.severity == "stop"]


def test_a_bridge_of_a_figure_is_moved_by_its_name():
    values = {"symbol": "campfire", "made_as": "plate", "overall_width": 300}
    plain = parts.draw("outline-symbol", **values)
    tie = plain.profile.ties[0]
    assert tie.key.startswith("figure.")
    moved = parts.draw("outline-symbol", **values, bridges=f"{tie.key}:{tie.offset + 0.2:.3f}")
    other = next(each for each in moved.profile.ties if each.key == tie.key)
    assert math.dist(tie.start, other.start) > 1
    for wrong in ("figure.9.9.top:0.1", "1.1.top:0.1"):
        with pytest.raises(Refused, match="isn't there or has no room there; there are: figure"):
            parts.draw("outline-symbol", **values, bridges=wrong)


def test_what_lies_over_a_neck_and_touches_other_metal_is_made_as_wide_as_a_bridge():
    """A made bridge's foot by a strait: the metal laid over one neck made another of 1 mm."""
    sign = {"text": "ÈMrf", "font": "stencil", "cap_height": 120, "tie": 3, "corners": "sharp", "join": "ring"}
    for slug, values in [("sign-letters", sign), ("outline-map", {"place": "Greece", "overall_width": 1000})][:FEW]:
        part = parts.draw(slug, **values)
        assert len(part.profile.outside) == 1
        assert [f.message for f in part.findings if f.severity == "stop"] == []
