"""Signs, maps and symbols of any size: what is left open goes with the size and what the process leaves standing."""

import math

import pytest
import shapely

import parts
from parts.cutting import cut_for
from parts.errors import Refused
from parts.templates import template

ROOM = {"bed_x": 20000, "bed_y": 20000, "sheet_x": 20000, "sheet_y": 20000}
PLASMA = cut_for("air-plasma", "mild-steel", 3.0)


def read(slug, **values):
    return template(slug).parameters.read(values)


@pytest.mark.parametrize(("cap", "wide"), [(80, 5.0), (800, 50.0), (30, PLASMA.narrowest_bridge_mm), (8, 3.0)])
def test_bridges_are_a_sixteenth_of_the_capitals_but_no_narrower_than_the_process_leaves(cap, wide):
    assert read("sign-plate", text="O", cap_height=cap).bridge == pytest.approx(wide)


def test_bridges_are_as_wide_as_asked_and_none_where_islands_drop():
    assert read("sign-plate", text="O", tie=7).bridge == 7
    assert read("sign-plate", text="O", islands="dropped").made.bridges == ()


@pytest.mark.parametrize("width", [100, 6000])
def test_small_and_large_signs_are_drawn_as_large_as_asked(width):
    part = parts.draw("sign-plate", text="OAK", overall_width=width, thickness=2, **ROOM)
    assert part.measures.width_mm == pytest.approx(width)
    assert not any(finding.severity == "stop" for finding in part.findings)


def test_a_sign_too_small_for_its_strokes_names_the_least_size_and_that_is_drawn():
    with pytest.raises(Refused) as refused:
        read("sign-plate", text="OAK", overall_width=40)
    (problem,) = refused.value.problems
    assert problem.parameter == "overall_width"
    assert problem.message == "must be at least 66 mm for strokes wider than the 1.65 mm kerf."
    assert read("sign-plate", text="OAK", overall_width="66 mm").cap * 0.1373 >= PLASMA.kerf_mm  # as fonts.toml has it


def test_lines_below_an_arc_stand_straight_in_its_middle():
    sign = read("sign-plate", text="FERNHOLLOW | 27", curve=220, inner="straight", shape="round", holes="none")
    arc, straight = sign.lines.lines
    assert {glyph.turn for glyph in straight.glyphs} == {0.0}
    x0, y0, x1, y1 = straight.box
    assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx((0.0, -sign.lines.radius))
    apart = shapely.distance(*(shapely.union_all([shapely.Polygon(b) for b in line.boxes]) for line in (arc, straight)))
    assert apart * sign.cap > sign.bridge
    with pytest.raises(Refused, match="less of it makes the circle larger"):
        read("sign-plate", text="FH | COMMUNITY WORKSHOP", curve=220, inner="straight", holes="none")


@pytest.mark.parametrize(("size", "thickness", "detail"), [(300, 1, 4.0), (1200, 1, 8.0), (300, 10, 10 / 0.6)])
def test_the_smallest_detail_goes_with_the_root_of_the_size_and_with_the_process(size, thickness, detail):
    process = {"process": "laser"} if thickness == 1 else {}
    found = read("outline-symbol", overall_width=size, thickness=thickness, **process).smallest
    if thickness > 1:
        cut = cut_for("air-plasma", "mild-steel", thickness)
        detail = max(cut.narrowest_bridge_mm / 0.9, cut.narrowest_slot_mm / 0.6)
    assert found == pytest.approx(detail)


def test_a_symbol_has_as_few_lines_and_arcs_when_it_is_large():
    small, large = (parts.draw("outline-symbol", symbol="cat", overall_width=size, **ROOM) for size in (300, 4000))
    counts = [sum(len(loop.segments) for loop in part.profile.boundary) for part in (small, large)]
    assert counts[1] < 1.5 * counts[0] < 100
    assert math.isclose(large.measures.width_mm, 4000)


def test_letters_through_a_figure_take_the_room_that_the_process_needs():
    part = parts.draw("silhouette-fish", text="FERN")
    assert not any(finding.severity == "stop" for finding in part.findings)
