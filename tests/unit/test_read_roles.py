"""What the lines of a layer are for: by its name, by the geometry against it, and as chosen; outlines left out."""

import math

import pytest
from ezdxf.colors import aci2rgb

import parts
from parts.errors import Problem, Refused
from parts.read import NothingToCut, ReadDrawing, read_drawing
from parts.read.dxf.colours import of_index
from parts.read.layers import GROUND, ROLES, role, says_both
from parts.read.limits import Budget
from tests.files.foreign import areas, circle, dxf, line, svg
from tests.unit.test_own import box


def on(layer: str, entities: str) -> str:
    """The same entities on a layer."""
    return entities.replace("\n8\n0\n", f"\n8\n{layer}\n")


def read(entities: str, **more) -> ReadDrawing:
    return read_drawing(dxf(entities), "theirs.dxf", **more)


def told(reading: ReadDrawing) -> list[tuple[str, str]]:
    return [(finding.severity, finding.message) for finding in reading.findings]


HOLE = circle(50, 30, 10)
PLATE = ([6000.0], [math.pi * 100])


# ------------------------------------------------------------------ names


@pytest.mark.parametrize(
    "name", ["Center Bore", "TEXT-CUT", "CENTRE HOLES", "text_cut", "TEXTCUT", "Hidden slots", "construction holes",
             "CUT TEXT", "fold cut", "centre-line cuts", "engrave cut"],
)  # fmt: skip
def test_a_name_that_also_says_hole_bore_slot_or_cut_is_cut_and_said(name):
    assert (role(name), says_both(name)) == ("cut", True)
    reading = read(box(100, 60) + circle(50, 30, 10, name))
    assert areas(reading) == PLATE
    assert reading.healed == (f"took 1 line on layer {name} as cut, as its name says too",)
    assert told(reading) == []


@pytest.mark.parametrize(
    ("name", "what"),
    [("HOLE DIM", "aside"), ("hole-text", "aside"), ("CENTERLINES HOLES", "aside"), ("HOLE MARKS", "scribe"),
     ("acute guide", "aside"), ("whole text", "aside"), ("DRILL HOLES", "drill"), ("centre punch", "drill"),
     ("NOTES", "aside"), ("0", "cut"), ("HATCH", "cut"), ("BENCHMARK", "cut")],
)  # fmt: skip
def test_whose_lines_they_are_says_nothing_of_cutting(name, what):
    assert (role(name), says_both(name)) == (what, False)


# ------------------------------------------------------------------ evidence


@pytest.mark.parametrize(
    "name", ["BORDER", "BORDERS", "TITLE", "DIM", "NOTES", "ANNOTATION", "Engrave", "fold", "drill", "SCRIBE", "BEND"]
)
def test_what_lies_around_what_is_cut_is_cut(name):
    reading = read(on(name, box(100, 60)) + HOLE)
    assert areas(reading) == PLATE
    assert reading.healed == (f"took 1 outline on layer {name} as cut, since it lies around what is cut",)
    assert (told(reading), reading.profile.marks) == ([], ())


def test_all_there_is_is_cut():
    reading = read(on("BORDERS", box(100, 60) + box(50, 60, 150)))
    assert areas(reading) == ([6000.0, 3000.0], [])
    assert reading.healed == ("took 2 outlines on layer BORDERS as cut, since nothing else in the drawing closes",)


def test_a_side_on_another_layer_closes_the_outline():
    sides = line(0, 0, 100, 0) + line(100, 0, 100, 60) + line(100, 60, 0, 60) + line(0, 60, 0, 0, "DIM")
    reading = read(sides + line(0, 30, 140, 30, "DIM"))
    assert areas(reading) == ([6000.0], [])
    assert reading.healed == ("took 1 outline on layer DIM as cut, since an outline that is cut closes with it",)
    assert told(reading) == [("warn", "1 line on layer DIM left out, by its name no outline.")]


def test_a_closed_outline_left_aside_is_a_warning_with_its_places():
    reading = read(box(100, 60) + circle(30, 30, 6, "DIM") + circle(50, 30, 3, "DIM") + line(0, 90, 100, 90, "DIM"))
    (finding,) = reading.findings
    assert (finding.severity, finding.rule) == ("warn", "reading")
    assert finding.message == "2 closed outlines and 1 line on layer DIM left out, by its name no outline of the part."
    assert finding.remedy == "Choose what layer DIM is: cut, or aside if it isn't the part's outline."
    assert len(finding.also) == 1


def test_a_closed_outline_is_no_bend_line():
    reading = read(box(100, 60) + circle(30, 30, 6, "FOLD"))
    assert told(reading) == [("warn", "1 closed outline on layer FOLD taken as a bend line.")]


@pytest.mark.parametrize("plate", ["0", "BORDER"])
def test_the_border_of_a_sheet_around_a_whole_part_is_left_out_with_a_warning(plate):
    sheet = on("BORDER" if plate == "0" else "TITLE", box(297, 210, -50, -50))
    reading = read(on(plate, box(100, 60)) + circle(30, 30, 6) + circle(70, 30, 6) + sheet)
    assert areas(reading) == ([6000.0], [math.pi * 36] * 2)
    assert [severity for severity, _ in told(reading)] == ["warn"]


def test_a_countersink_left_aside_is_no_hole_of_its_own():
    reading = read(on("BORDER", box(100, 60)) + HOLE + circle(50, 30, 15, "HIDDEN"))
    assert areas(reading) == PLATE
    assert told(reading) == [
        ("warn", "1 closed outline on layer HIDDEN left out, by its name no outline of the part."),
    ]  # fmt: skip


def test_our_notes_around_a_part_of_ours_are_notes_and_on_it_are_asked_about():
    ours = circle(50, 50, 40, "OUTSIDE")
    assert told(read(ours + circle(50, 50, 500, "NOTES"))) == []
    assert [severity for severity, _ in told(read(ours + circle(50, 50, 5, "NOTES")))] == ["warn"]


def test_what_takes_too_long_to_look_at_is_left_aside_with_a_warning():
    budget = Budget()
    half = budget.aside()
    assert half._until < budget._until


# ------------------------------------------------------------------ what is chosen


@pytest.mark.parametrize("what", ROLES)
def test_a_chosen_role_holds_against_name_and_geometry(what):
    reading = read(box(100, 60) + circle(50, 30, 10, "DIM"), layers={"dim": what})
    marks = [type(mark).__name__ for mark in reading.profile.marks]
    assert areas(reading) == (PLATE if what == "cut" else ([6000.0], []))
    assert marks == {"cut": [], "aside": [], "drill": ["Drill"]}.get(what, ["Scribe"])
    said = {"aside": "left out 1 line on layer DIM", "cut": "took 1 line on layer DIM as cut"}
    said |= {w: f"took 1 line on layer DIM as {n}" for w, n in
             (("scribe", "a scribe line"), ("bend", "a bend line"), ("drill", "a drill centre"))}  # fmt: skip
    assert reading.healed == (f"{said[what]}, as chosen",)
    assert told(reading) == []


def test_a_layer_around_all_is_left_out_where_that_is_chosen():
    reading = read(on("BORDER", box(100, 60)) + HOLE, layers={"BORDER": "aside"})
    assert areas(reading) == ([math.pi * 100], [])


def test_capitals_count_where_a_layer_is_called_exactly_so():
    drawn = box(100, 60) + circle(30, 30, 6, "dim") + circle(70, 30, 6, "DIM")
    assert len(read(drawn, layers={"dim": "cut"}).profile.inside) == 1
    assert len(read(drawn, layers={"Dim": "cut"}).profile.inside) == 2


def test_an_unknown_layer_and_a_bad_role_are_named():
    with pytest.raises(Refused) as refused:
        read(box(100, 60) + circle(50, 30, 10, "DIM"), layers={"DUM": "cut"})
    assert refused.value.problems == (Problem("layer", "DUM", "is no layer of this drawing; it has 0 and DIM."),)
    with pytest.raises(Refused) as refused:
        parts.check(dxf(HOLE), "x.dxf", thickness=3, layers=["0=cutt", "DIM"])
    written = "must be written NAME=ROLE, the role cut, scribe, bend, drill or aside."
    assert refused.value.problems == (Problem("layer", "0=cutt", written), Problem("layer", "DIM", written))
    with pytest.raises(Refused) as refused:
        parts.check(dxf(HOLE), "x.dxf", thickness=3, layers=["0=cut", "0=bend"])
    assert refused.value.problems == (Problem("layer", "0=bend", "is given another role before; give it one."),)


def test_where_nothing_is_left_to_cut_the_layers_are_told():
    with pytest.raises(NothingToCut) as nothing:
        read(box(100, 60) + circle(50, 30, 10, "DIM"), layers={"0": "aside", "DIM": "aside"})
    assert str(nothing.value) == (
        "theirs.dxf can't be read: nothing in it is left to cut; choose again what is cut of layers 0 and DIM."
    )
    assert [(row.name, row.role, row.aside) for row in nothing.value.account.layers] == [
        ("0", "aside", 1), ("DIM", "aside", 1),
    ]  # fmt: skip


# ------------------------------------------------------------------ outlines


def test_an_outline_is_left_out_and_taken_back_by_its_box():
    drawn = box(100, 60) + HOLE + circle(20, 20, 5, "DIM")
    reading = read(drawn, outlines={(40, 20, 60, 40): False, (15, 15, 25, 25): True})
    assert areas(reading) == ([6000.0], [math.pi * 25])
    assert reading.healed == ("took 1 outline on layer DIM as cut, as chosen", "left out 1 outline, as chosen")
    rows = [(row.layer, row.box, row.cut, row.chosen, bool(row.segments)) for row in reading.account.outlines]
    assert rows == [
        ("0", (0, 0, 100, 60), True, False, False), ("0", (40, 20, 60, 40), False, True, True),
        ("DIM", (15, 15, 25, 25), True, True, False),
    ]  # fmt: skip


def test_a_plate_left_out_leaves_what_lies_in_it():
    reading = read(box(100, 60) + HOLE, outlines={(0, 0, 100, 60): False})
    assert areas(reading) == ([math.pi * 100], [])
    (left_out,) = reading.account.left_out
    assert left_out.seated == pytest.approx((-40, -20, 60, 40))


@pytest.mark.parametrize("off", [0.0, 0.19, -0.19, 0.21])
def test_a_box_is_known_within_what_healing_moves(off):
    boxes = {(0.0 + off, 0, 100, 60): False}
    if abs(off) > 0.2:
        with pytest.raises(Refused, match="is the box of no closed outline here"):
            read(box(100, 60) + HOLE, outlines=boxes)
    else:
        assert len(read(box(100, 60) + HOLE, outlines=boxes).account.left_out) == 1


def test_a_box_is_in_the_drawings_own_units_and_place():
    drawn = dxf(box(4, 2, 1000, 1000) + circle(1002, 1001, 0.5), units=1)
    reading = read_drawing(drawn, "far.dxf")
    assert [row.box for row in reading.account.outlines] == [
        pytest.approx((1000, 1000, 1004, 1002)), pytest.approx((1001.5, 1000.5, 1002.5, 1001.5)),
    ]  # fmt: skip
    text = ",".join(str(v) for v in reading.account.outlines[1].box)
    assert len(parts.check(drawn, "far.dxf", thickness=3, outlines=[f"{text}=aside"]).part.profile.inside) == 0


@pytest.mark.parametrize("text", ["1,2,3=cut", "a,b,c,d=cut", "1,2,3,4=bend", "1,2,3,4", "1_0,2,3,4=cut"])
def test_an_outline_written_wrongly_is_named(text):
    with pytest.raises(Refused) as refused:
        parts.check(dxf(HOLE), "x.dxf", thickness=3, outlines=[text])
    assert refused.value.problems[0].parameter == "outline"


# ------------------------------------------------------------------ colours and backgrounds


def test_colours_of_an_index_are_those_of_another_reader():
    """Full shades of every hue, and the named ones; 7 is black or white as the sheet is."""
    for index in [*range(1, 7), 8, *(10 * hue + shade for hue in range(1, 25) for shade in range(4))]:
        own = of_index(index)
        assert [int(own[i : i + 2], 16) for i in (1, 3, 5)] == pytest.approx(aci2rgb(index), abs=1), index
    assert (of_index(0), of_index(256)) == ("", "")


def colours(reading: ReadDrawing) -> list[tuple[str, str, int]]:
    return [(row.name, row.colour, row.count) for row in reading.account.layers]


def test_a_layer_has_its_colour():
    table = "0\nSECTION\n2\nTABLES\n0\nLAYER\n2\nDIM\n70\n0\n62\n3\n0\nENDSEC\n"
    drawn = dxf(box(100, 60) + circle(50, 30, 10, "DIM")).replace(
        b"0\nSECTION\n2\nENTITIES", table.encode() + b"0\nSECTION\n2\nENTITIES"
    )
    assert colours(read_drawing(drawn, "x.dxf")) == [("0", "", 4), ("DIM", "#00ff00", 1)]


def test_without_layers_colours_are_layers():
    lines = box(100, 60).replace("\n8\n0\n", "\n8\n0\n62\n1\n") + HOLE.replace("\n8\n0\n", "\n8\n0\n62\n5\n")
    reading = read(lines)
    assert colours(reading) == [("red", "#ff0000", 4), ("blue", "#0000ff", 1)]
    assert areas(reading) == PLATE
    assert areas(read(lines, layers={"blue": "scribe"})) == ([6000.0], [])
    assert colours(read(on("A", lines))) == [("A", "#ff0000", 5)]


DRAWN = '<g fill="none" stroke-width="0.1"><rect width="50" height="40" stroke="red"/>{}</g>'


def test_an_svgs_colours_are_its_layers_where_it_has_none():
    drawn = svg(DRAWN.format('<circle cx="20" cy="20" r="5" style="stroke:#00f"/>'))
    reading = read_drawing(drawn, "x.svg")
    assert colours(reading) == [("red", "#ff0000", 1), ("blue", "#0000ff", 1)]
    assert len(read_drawing(drawn, "x.svg", layers={"blue": "scribe"}).profile.marks) == 1


PAGE = '<rect width="100" height="100" {}/><circle cx="50" cy="50" r="20"/>'


@pytest.mark.parametrize("how", ['fill="#fff"', 'fill="white" stroke="none"', 'style="fill:#fafafa"'])
def test_a_white_rectangle_as_large_as_the_page_is_its_background(how):
    reading = read_drawing(svg(PAGE.format(how)), "x.svg")
    assert areas(reading) == ([math.pi * 400], [])
    said = f"1 closed outline on layer {GROUND} left out: a white rectangle as large as the page."
    assert told(reading) == [("warn", said)]
    back = read_drawing(svg(PAGE.format(how)), "x.svg", layers={GROUND: "cut"})
    assert areas(back) == ([10000.0], [math.pi * 400])
    assert told(back) == []


@pytest.mark.parametrize(
    ("how", "said"), [('fill="#333"', True), ('fill="none" stroke="#000" stroke-width="0.1"', False)]
)
def test_another_rectangle_as_large_as_the_page_is_the_plate(how, said):
    reading = read_drawing(svg(PAGE.format(how)), "x.svg")
    assert areas(reading) == ([10000.0], [math.pi * 400])
    assert any("background" in sentence for sentence in reading.healed) == said


def test_a_white_rectangle_that_is_all_there_is_is_the_plate():
    assert areas(read_drawing(svg('<rect width="100" height="100" fill="#fff"/>'), "x.svg")) == ([10000.0], [])
