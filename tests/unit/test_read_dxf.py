"""DXF written by another library, and by hand where that writes none: what is read, and what is said of it."""

import math

import pytest
from ezdxf.math import OCS

from parts.errors import Problem, Refused
from parts.profile import Bend, Drill, Scribe
from parts.read import Reading, read_drawing
from tests.files.foreign import INCH, MM, UNITLESS, circle, data, document, dxf, insert, line

FIT_MM = 0.02
RECTANGLE = [((0, 0), (100, 0)), ((100, 0), (100, 50)), ((100, 50), (0, 50)), ((0, 50), (0, 0))]


def read(made, units=None) -> Reading:
    return read_drawing(made if isinstance(made, bytes) else data(made), "theirs.dxf", units)


def areas(reading: Reading) -> tuple[list[float], list[float]]:
    return (
        [pytest.approx(loop.area, rel=1e-12) for loop in reading.profile.outside],
        [pytest.approx(o.loop.area, rel=1e-12) for o in reading.profile.inside],
    )


def with_rectangle(units: int = MM):
    made, space = document(units)
    space.add_lwpolyline([(0, 0), (100, 0), (100, 50), (0, 50)], close=True)
    return made, space


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
    ("gap", "joined"), [(0.04, True), (0.05 - 1e-9, True), (0.05 + 1e-6, False), (0.06, False)], ids=str
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
    assert (finding.rule, finding.severity, finding.limit) == ("loops", "stop", 0.05)
    assert finding.measured == pytest.approx(gap, abs=1e-9)
    assert math.dist(finding.at, (100, 0)) <= gap
    assert finding.message == f"The outline is open here by {round(gap, 3):g} mm."
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
    assert reading.healed == ("took 1 line on layer Drill holes as drill centres",)


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


# ------------------------------------------------------------------ blocks


@pytest.mark.parametrize("turn", [0, 30, 90])
@pytest.mark.parametrize(("sx", "sy"), [(1, 1), (2, 2), (-2, 2), (2, -2), (-1, -1), (2, 3), (-0.5, 1.5)], ids=str)
def test_a_block_scaled_mirrored_and_turned(sx, sy, turn):
    """Where ezdxf places the same corner; areas grow by both scales."""
    made, space = document()
    shape = made.blocks.new("B", base_point=(3, 4))
    shape.add_lwpolyline([(0, -5, 1), (0, 5, 0), (-20, 5, 0), (-20, -5, 0)], format="xyb", close=True)
    shape.add_circle((-8, 0), 3)
    ref = space.add_blockref("B", (100, 50), dxfattribs={"xscale": sx, "yscale": sy, "rotation": turn})
    reading = read(made)
    (outside,), (inside,) = reading.profile.outside, reading.profile.inside
    exact = abs(sx) == abs(sy)
    slack = 1e-9 if exact else FIT_MM * outside.perimeter
    assert outside.area == pytest.approx((200 + math.pi * 12.5) * abs(sx * sy), abs=slack)
    assert inside.loop.area == pytest.approx(math.pi * 9 * abs(sx * sy), abs=slack)
    assert (inside.loop.circle is not None) == exact
    corners = [ref.matrix44().transform((x, y, 0)) for x, y in ((-20, 5), (-20, -5))]
    apart = math.dist(*((c.x, c.y) for c in corners))
    assert any(s.length == pytest.approx(apart) for s in outside.segments)


def test_rows_and_columns_of_a_block_in_a_block():
    made, space = document()
    made.blocks.new("HOLE").add_circle((0, 0), 2)
    row = made.blocks.new("ROW")
    row.add_blockref("HOLE", (0, 0), dxfattribs={"column_count": 3, "column_spacing": 10})
    space.add_lwpolyline([(-50, -10), (90, -10), (90, 60), (-50, 60)], close=True)
    space.add_blockref("ROW", (5, 5), dxfattribs={"row_count": 2, "row_spacing": 20, "rotation": 90})
    reading = read(made)
    centres = sorted(tuple(round(v, 6) for v in o.loop.circle.centre) for o in reading.profile.inside)
    # turned by 90 degrees: columns run up, rows to the left
    assert centres == sorted((55.0 - 20 * r, 15.0 + 10 * c) for r in range(2) for c in range(3))


def test_layer_0_in_a_block_is_the_layer_of_the_insert():
    made, space = with_rectangle()
    mark = made.blocks.new("M")
    mark.add_line((10, 10), (20, 10))
    mark.add_line((10, 20), (20, 20), dxfattribs={"layer": "BEND"})
    space.add_blockref("M", (0, 0), dxfattribs={"layer": "SCRIBE"})
    marks = read(made).profile.marks
    assert [type(m) for m in marks] == [Scribe, Bend]


def test_a_block_that_is_not_there_is_said():
    reading = read(dxf(circle(0, 0, 5) + insert("GONE")))
    assert [f.message for f in reading.findings] == ["1 block that isn't in the file left out: it isn't read."]


# ------------------------------------------------------------------ layers, and what isn't shown or read


def test_layers_by_our_names():
    text = (
        circle(50, 50, 40, "OUTSIDE") + circle(50, 50, 5, "INSIDE") + line(20, 50, 30, 50, "SCRIBE")
        + line(50, 20, 50, 30, "bend") + "0\nPOINT\n8\nDRILL\n10\n60\n20\n60\n" + circle(50, 50, 500, "NOTES")
    )  # fmt: skip
    reading = read(dxf(text))
    assert [type(m) for m in reading.profile.marks] == [Scribe, Bend, Drill]
    assert areas(reading) == ([math.pi * 1600], [math.pi * 25])
    assert (reading.healed, reading.findings) == ((), ())


def test_our_layers_state_the_side_even_where_it_is_wrong():
    """A hole drawn outside the part stays a hole, for the rules to find."""
    reading = read(dxf(circle(50, 50, 40, "OUTSIDE") + circle(150, 50, 5, "INSIDE")))
    assert areas(reading) == ([math.pi * 1600], [math.pi * 25])


def test_lines_beside_our_layers_are_cut_and_noted():
    reading = read(dxf(circle(50, 50, 40, "OUTSIDE") + circle(50, 50, 5, "odd")))
    assert areas(reading) == ([math.pi * 1600], [math.pi * 25])
    (finding,) = reading.findings
    assert finding.severity == "note"
    assert finding.message == "1 line on layer odd, beside OUTSIDE and INSIDE, taken as cut."


@pytest.mark.parametrize(
    ("layer", "kind"),
    [("Engrave 1", Scribe), ("etching", Scribe), ("part_marking", Scribe), ("BEND-UP", Bend), ("fold", Bend),
     ("engraved text", Scribe)],
    ids=str,
)  # fmt: skip
def test_layers_by_the_trades_words_are_marks(layer, kind):
    reading = read(dxf(circle(50, 50, 40) + line(40, 50, 60, 50, layer)))
    (mark,) = reading.profile.marks
    assert isinstance(mark, kind)
    assert reading.healed == (f"took 1 line on layer {layer} as {'bend' if kind is Bend else 'scribe'} lines",)


@pytest.mark.parametrize(
    "layer", ["CENTER", "centre lines", "Center marks", "dim", "Construction", "TEXT", "Defpoints"]
)
def test_layers_that_are_no_outline_are_left_out_with_a_note(layer):
    reading = read(dxf(circle(50, 50, 40) + line(0, 50, 100, 50, layer)))
    assert (reading.profile.marks, reading.open) == ((), ())
    (finding,) = reading.findings
    assert (finding.severity, finding.message) == (
        "note", f"1 line on layer {layer} left out, by its name no outline.",
    )  # fmt: skip


@pytest.mark.parametrize("layer", ["BENCHMARK", "Demarcation", "0", "unfolded", "BEND RELIEF", "centrepiece", "dimple"])
def test_words_inside_other_words_mean_nothing(layer):
    reading = read(dxf(circle(50, 50, 40) + circle(50, 50, 5, layer)))
    assert areas(reading) == ([math.pi * 1600], [math.pi * 25])


def test_what_the_drawing_does_not_show_is_passed_over_and_said():
    made, space = with_rectangle()
    made.layers.add("frozen").freeze()
    made.layers.add("off").off()
    space.add_circle((10, 10), 2, dxfattribs={"layer": "frozen"})
    space.add_circle((20, 10), 2, dxfattribs={"layer": "off"})
    space.add_circle((30, 10), 2, dxfattribs={"invisible": 1})
    made.layout("Layout1").add_circle((40, 10), 2)
    reading = read(made)
    assert areas(reading) == ([5000], [])
    assert sorted(reading.healed) == [
        "passed over 1 entity on a paper layout", "passed over 1 entity on frozen layers",
        "passed over 1 entity on layers switched off", "passed over 1 entity set invisible",
    ]  # fmt: skip


def test_what_is_not_read_is_named():
    made, space = with_rectangle()
    space.add_text("GATE", dxfattribs={"insert": (5, 6)})
    space.add_mtext("LEFT")
    space.add_hatch().paths.add_polyline_path([(0, 0), (1, 0), (1, 1)])
    space.add_3dface([(0, 0, 0), (1, 0, 0), (1, 1, 1), (0, 1, 1)])
    found = {f.message: f.severity for f in read(made).findings}
    assert found == {
        "2 texts left as text: letters aren't outlines.": "warn",
        "1 filled area left out: only outlines are read.": "note",
        "1 3D entity left out: only what lies flat in the plane of the drawing is read.": "warn",
    }


def test_a_part_far_from_the_origin_is_brought_back_and_noted():
    made, space = document()
    space.add_lwpolyline([(1e6, 2e6), (1e6 + 100, 2e6), (1e6 + 100, 2e6 + 50)], close=True)
    reading = read(made)
    assert areas(reading) == ([2500], [])
    assert reading.profile.box == pytest.approx((0, 0, 100, 50), abs=1e-9)
    (finding,) = reading.findings
    assert (finding.severity, finding.at) == ("note", (0, 0))
    assert finding.message == "The part lies 2,236 m from the drawing's origin and was moved to it."


def test_a_negative_inch_drawing_is_seated_at_its_lower_left():
    reading = read(dxf(circle(-10, -20, 2, "0"), units=INCH))
    assert reading.profile.box == pytest.approx((0, 0, 101.6, 101.6), abs=1e-12)


def test_names_of_any_alphabet_and_old_code_pages():
    text = line(0, 0, 10, 0, "Gravur-Größe").encode("cp1252")
    reading = read(dxf(circle(5, 5, 20)).replace(b"0\nENDSEC\n0\nEOF", text + b"0\nENDSEC\n0\nEOF"))
    assert areas(reading) == ([math.pi * 400], [])
    assert len(reading.open) == 1  # by its name a layer to cut, so the line is one that closes nothing
