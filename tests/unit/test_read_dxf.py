"""DXF written by another library, and by hand where that writes none: what is read, and what is said of it."""

import math

import pytest
from ezdxf.math import OCS

from parts.errors import Problem, Refused
from parts.profile import Drill
from tests.files.foreign import UNITLESS, areas, circle, document, dxf, read, with_rectangle

FIT_MM = 0.02
RECTANGLE = [((0, 0), (100, 0)), ((100, 0), (100, 50)), ((100, 50), (0, 50)), ((0, 50), (0, 0))]


# ------------------------------------------------------------------ units


@pytest.mark.parametrize(
    ("code", "unit_mm", "units"),
    [(1, 25.4, "in"), (2, 304.8, "in"), (4, 1, "mm"), (5, 10, "mm"), (6, 1000, "mm"), (9, 0.0254, "in"),
     (10, 914.4, "in"), (14, 100, "mm")],
    ids=["in", "ft", "mm", "cm", "m", "thou", "yd", "dm"],
)  # fmt: skip
def test_the_unit_in_the_header(code, unit_mm, units):
    reading = read(dxf(circle(3, 3, 2), units=code))
    assert reading.units == units
    assert reading.profile.outside[0].circle.diameter == pytest.approx(4 * unit_mm, rel=1e-12)


@pytest.mark.parametrize("code", [UNITLESS, 3, 12, 99], ids=["unitless", "miles", "nanometres", "unknown"])
def test_a_unit_that_is_not_said_is_asked_for(code):
    with pytest.raises(Refused) as refused:
        read(dxf(circle(3, 3, 2), units=code))
    (problem,) = refused.value.problems
    assert (problem.parameter, problem.value) == ("units", "theirs.dxf")
    assert problem.message.endswith("choose mm or inches. It is 4 mm x 4 mm, or 4 in x 4 in.")


def test_r12_has_nowhere_to_say_its_unit():
    made, space = document(version="R12")
    space.add_circle((0, 0), 2)
    with pytest.raises(Refused) as refused:
        read(made)
    message = "The file doesn't say its units: choose mm or inches. It is 4 mm x 4 mm, or 4 in x 4 in."
    assert refused.value.problems == (Problem("units", "theirs.dxf", message),)
    for units, unit_mm in (("mm", 1), ("in", 25.4)):
        reading = read(made, units)
        assert (reading.units, reading.findings) == (units, ())
        assert reading.profile.outside[0].circle.diameter == pytest.approx(4 * unit_mm)


# ------------------------------------------------------------------ exploded outlines


@pytest.mark.parametrize(
    ("gap", "joined"), [(0.04, True), (0.1 - 1e-9, True), (0.1, True), (0.1 + 1e-5, False), (0.12, False)], ids=str
)
def test_a_gap_is_joined_up_to_its_limit(gap, joined):
    made, space = document()
    for start, end in [((0, 0), (100, 0)), ((100, gap), (100, 50)), *RECTANGLE[2:]]:
        space.add_line(start, end)
    reading = read(made)
    if joined:
        assert [loop.area for loop in reading.profile.outside] == [pytest.approx(5000, abs=1e-9)]
        assert reading.healed == (f"joined 1 gap of up to {round(gap, 3):g} mm",)
        assert reading.findings == ()
        return
    assert reading.profile.outside == ()
    (finding,) = reading.findings
    assert (finding.rule, finding.severity, finding.limit) == ("loops", "stop", 0.1)
    assert finding.measured == pytest.approx(gap, abs=1e-9)
    assert math.dist(finding.at, (100, 0)) <= gap
    said = "0.12 mm" if gap > 0.11 else "a little more than 0.1 mm"
    assert finding.message == f"The outline is open here by {said}."
    assert "SCRIBE" in finding.remedy
    assert sum(len(chain) for chain in reading.open) == 4


def test_lines_in_any_order_and_direction_make_the_loop():
    made, space = document()
    for index in (2, 0, 3, 1):
        start, end = RECTANGLE[index]
        space.add_line(*((end, start) if index % 2 else (start, end)))
    reading = read(made)
    assert areas(reading) == ([5000], [])
    assert (reading.healed, reading.findings, reading.segments) == ((), (), 4)


def test_doubled_contained_and_pointlike_lines_are_dropped():
    made, space = document()
    for start, end in RECTANGLE:
        space.add_line(start, end)
    space.add_line((100, 0), (0, 0))  # the whole edge, the other way
    space.add_line((20, 0), (60, 0))  # inside an edge
    space.add_line((0, 50), (0, 20))  # from a corner along an edge
    space.add_line((33, 33), (33, 33))
    reading = read(made)
    assert areas(reading) == ([5000], [])
    assert reading.healed == ("dropped 3 doubled lines", "dropped 1 line of no length")
    assert reading.findings == ()


def test_edges_that_overlap_in_part_are_one_edge():
    made, space = document()
    for start, end in [((0, 0), (70, 0)), ((30, 0), (100, 0)), *RECTANGLE[1:]]:
        space.add_line(start, end)
    reading = read(made)
    assert areas(reading) == ([5000], [])
    assert reading.findings == ()


def test_a_doubled_arc_and_a_doubled_hole_are_dropped():
    made, space = with_rectangle()
    space.add_circle((30, 25), 8)
    space.add_circle((30, 25), 8)
    for start, end in ((0, 180), (180, 360), (0, 180), (20, 80)):
        space.add_arc((70, 25), 10, start, end)
    reading = read(made)
    assert areas(reading) == ([5000], [math.pi * 64, math.pi * 100])
    assert reading.healed == ("dropped 2 doubled lines", "dropped 1 outline drawn twice")
    assert reading.findings == ()


def test_a_loose_line_on_a_closed_outline_is_doubled():
    made, space = with_rectangle()
    space.add_line((10, 0), (50, 0))
    reading = read(made)
    assert areas(reading) == ([5000], [])
    assert reading.healed == ("dropped 1 doubled line",)


# ------------------------------------------------------------------ entities


def test_arcs_end_where_ezdxf_says():
    made, space = document()
    arc = space.add_arc((20, 10), 30, 33.3, 288.8)
    space.add_line(arc.end_point, arc.start_point)
    (loop,) = read(made).profile.outside
    sweep = math.radians(288.8 - 33.3)
    assert loop.area == pytest.approx(900 * (sweep - math.sin(sweep)) / 2, rel=1e-9)


def test_bulges_of_a_polyline_of_r12_and_of_a_light_one():
    slot = [(0, 0, 0), (40, 0, 1), (40, 10, 0), (0, 10, 1)]
    due = pytest.approx(400 + math.pi * 25, rel=1e-12)
    for version in ("R12", "R2010"):
        made, space = document(version=version)
        if version == "R12":
            space.add_polyline2d(slot, format="xyb", close=True)
        else:
            space.add_lwpolyline(slot, format="xyb", close=True)
        assert [loop.area for loop in read(made, "mm").profile.outside] == [due]


def test_an_open_polyline_whose_ends_meet_is_a_loop():
    made, space = document()
    space.add_lwpolyline([(0, 0), (100, 0), (100, 50), (0, 50), (0, 0)])
    assert areas(read(made)) == ([5000], [])


@pytest.mark.parametrize(("major", "ratio"), [((40, 0), 0.5), ((30, 40), 0.1), ((-7, 3), 0.9)], ids=str)
def test_an_ellipse_against_its_closed_form(major, ratio):
    made, space = document()
    space.add_ellipse((5, 6), major, ratio)
    reading = read(made)
    (loop,) = reading.profile.outside
    assert loop.area == pytest.approx(math.pi * ratio * math.hypot(*major) ** 2, abs=FIT_MM * loop.perimeter)
    assert reading.healed == (f"read 1 ellipse as {len(loop.segments)} arcs and lines within 0.02 mm",)


def test_half_an_ellipse_closed_by_a_line():
    made, space = document()
    ellipse = space.add_ellipse((0, 0), (50, 0), 0.4, 0, math.pi)
    space.add_line(ellipse.start_point, ellipse.end_point)
    (loop,) = read(made).profile.outside
    assert loop.area == pytest.approx(math.pi * 50 * 20 / 2, abs=FIT_MM * loop.perimeter)


def test_an_ellipse_as_wide_as_high_is_a_circle():
    made, space = document()
    space.add_ellipse((0, 0), (12, 5), 1)
    reading = read(made)
    assert reading.profile.outside[0].circle.diameter == pytest.approx(26, rel=1e-12)
    assert reading.healed == ()


def spline_points(spline, count=2000):
    """Points along a spline as ezdxf evaluates it."""
    tool = spline.construction_tool()
    return [(p.x, p.y) for p in tool.points(tool.params(count))]


@pytest.mark.parametrize("degree", [2, 3, 5])
def test_a_closed_spline_by_control_points(degree):
    made, space = document()
    space.add_lwpolyline([(-50, -50), (150, -50), (150, 150), (-50, 150)], close=True)
    spline = space.add_spline(degree=degree)
    spline.set_closed([(0, 0, 0), (60, -30, 0), (100, 0, 0), (120, 60, 0), (60, 90, 0), (0, 60, 0)], degree=degree)
    reading = read(made)
    (hole,) = reading.profile.inside
    points = [(x + 50, y + 50) for x, y in spline_points(spline)]
    assert max(min(math.dist(s.nearest(p), p) for s in hole.loop.segments) for p in points) <= FIT_MM
    assert reading.healed[0].startswith("read 1 spline as ")


def test_a_rational_spline_that_is_a_circle_is_a_circle():
    made, space = document()
    spline = space.add_rational_spline([(10, 0), (10, 10), (0, 10)], [1, math.sqrt(0.5), 1], degree=2)
    assert spline.construction_tool().point(0.3).magnitude == pytest.approx(10)
    space.add_line((0, 10), (0, 0))
    space.add_line((0, 0), (10, 0))
    (loop,) = read(made).profile.outside
    assert loop.area == pytest.approx(math.pi * 25, rel=1e-9)
    assert len(loop.segments) <= 4


def test_a_spline_by_points_on_it_passes_them():
    made, space = with_rectangle()
    on_it = [(20, 10), (35, 16), (50, 10), (56, 28), (38, 37), (20, 28), (20, 10)]
    space.add_spline(on_it)
    reading = read(made)
    (hole,) = reading.profile.inside
    assert max(min(math.dist(s.nearest(p), p) for s in hole.loop.segments) for p in on_it) <= FIT_MM
    assert reading.healed == (f"read 1 spline as {len(hole.loop.segments)} arcs and lines within 0.02 mm",)


def test_a_damaged_spline_is_left_out_and_said():
    text = "0\nSPLINE\n8\n0\n70\n8\n71\n3\n40\n0\n40\n1\n10\n0\n20\n0\n10\n5\n20\n5\n"
    reading = read(dxf(circle(0, 0, 5) + text))
    (finding,) = reading.findings
    assert (finding.rule, finding.severity) == ("reading", "warn")
    assert finding.message == "1 damaged spline left out: it isn't read."


def test_points_are_drill_centres_of_no_stated_size():
    made, space = with_rectangle()
    space.add_point((30, 20))
    space.add_circle((60, 20), 3, dxfattribs={"layer": "Drill holes"})
    reading = read(made)
    assert reading.profile.marks == (Drill(pytest.approx((60, 20)), pytest.approx(6)), Drill((30, 20), 0.0))
    assert reading.healed == ("took 1 line on layer Drill holes as a drill centre",)


@pytest.mark.parametrize("kind", ["circle", "arc", "lwpolyline", "polyline2d", "ellipse", "insert"])
def test_a_mirrored_extrusion_turns_x_over(kind):
    """Against ezdxf's own coordinate system of the entity."""
    made, space = document()
    up, down = {"extrusion": (0, 0, 1)}, {"extrusion": (0, 0, -1)}
    space.add_lwpolyline([(-200, -100), (200, -100), (200, 100), (-200, 100)], close=True)
    at = OCS((0, 0, -1)).to_wcs((50, 20, 0))
    if kind == "circle":
        space.add_circle((50, 20), 5, dxfattribs=down)
    elif kind == "arc":
        space.add_arc((50, 20), 5, 0, 90, dxfattribs=down)
        space.add_line((at.x - 5, at.y), (at.x, at.y))
        space.add_line((at.x, at.y), (at.x, at.y + 5))
    elif kind == "ellipse":
        space.add_ellipse((at.x, at.y), (5, 0), 0.5, 0, math.pi / 2, dxfattribs=down)
        space.add_line((at.x + 5, at.y), (at.x, at.y))
        space.add_line((at.x, at.y), (at.x, at.y - 2.5))
    elif kind == "insert":
        made.blocks.new("B").add_circle((0, 0), 5, dxfattribs=up)
        space.add_blockref("B", (50, 20), dxfattribs=down)
    else:
        getattr(space, f"add_{kind}")([(45, 20, 0), (55, 20, 1)], format="xyb", close=True, dxfattribs=down)
    reading = read(made)
    (hole,) = reading.profile.inside
    x0, y0, x1, y1 = hole.loop.box
    assert reading.findings == ()
    assert x0 - 1e-9 <= at.x + 200 <= x1 + 1e-9
    assert y0 - 1e-9 <= at.y + 100 <= y1 + 1e-9


def test_what_lies_at_a_slant_is_not_flattened():
    made, space = with_rectangle()
    space.add_circle((50, 25), 5, dxfattribs={"extrusion": (0, 0.6, 0.8)})
    space.add_line((0, 0, 0), (10, 0, 5))
    space.add_polyline3d([(0, 0, 0), (10, 0, 0), (10, 10, 3)])
    reading = read(made)
    assert areas(reading) == ([5000], [])
    (finding,) = reading.findings
    assert finding.severity == "warn"
    assert finding.message.startswith("3 3D entities left out")


def test_the_size_of_a_drawing_without_units_is_that_of_its_outline():
    """Not of an arc's ends, a spline's controls, nor of a frame that isn't cut; a cubic's extreme worked by hand."""
    made, space = document(units=0)
    space.add_lwpolyline([(0, 0, 1), (100, 0, 1)], format="xyb", close=True)
    space.add_lwpolyline([(-500, -500), (500, -500), (500, 500)], dxfattribs={"layer": "DIMENSION"})
    with pytest.raises(Refused) as refused:
        read(made)
    assert "It is 100 mm x 100 mm, or 100 in x 100 in" in refused.value.problems[0].message
    made, space = document(units=0)
    space.add_open_spline([(0, 0, 0), (0, 40, 0), (60, 40, 0), (60, 0, 0)], degree=3)
    space.add_line((0, 0), (60, 0))
    with pytest.raises(Refused) as refused:
        read(made)
    assert "It is 60 mm x 30 mm, or 60 in x 30 in" in refused.value.problems[0].message
