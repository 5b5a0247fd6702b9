"""Blocks and layers of someone's own DXF, and what of it is not shown or not read."""

import math

import pytest

from parts.profile import Bend, Drill, Scribe
from tests.files.foreign import INCH, areas, circle, document, dxf, insert, line, read, with_rectangle

FIT_MM = 0.02


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
    assert [f.message for f in reading.findings] == ["1 block that isn't in the file left out."]
    assert reading.findings[0].remedy == "Save the drawing with it in it, not only pointed to."
    reading = read(dxf(circle(0, 0, 5) + insert("GONE") + insert("AWAY")))
    assert [f.message for f in reading.findings] == ["2 blocks that aren't in the file left out."]


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
    assert reading.healed == (f"took 1 line on layer {layer} as a {'bend' if kind is Bend else 'scribe'} line",)


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
        "1 hatch left out: only outlines are read.": "note",
        "1 3D face left out: only what lies flat in the plane of the drawing is read.": "warn",
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
