"""Closed outlines that don't show, and those on layers for marks: told, and taken by whoever chooses their layer."""

import math

import pytest

from parts.errors import Refused, Unreadable
from parts.read import NothingToCut, read_drawing
from parts.read.limits import MOST_HIDDEN
from tests.files.foreign import areas, data, document, svg
from tests.unit.test_read_roles import told

HOLE = math.pi * 9


def plate(version="R2010"):
    made, space = document(version=version)
    space.add_lwpolyline([(0, 0), (100, 0), (100, 60), (0, 60)], close=True) if version != "R12" else [
        space.add_line(a, b)
        for a, b in (((0, 0), (100, 0)), ((100, 0), (100, 60)), ((100, 60), (0, 60)), ((0, 60), (0, 0)))
    ]
    return made, space


def hidden(how, name="HOLES", version="R2010"):
    made, space = plate(version)
    layer = made.layers.add(name, color=1)
    layer.off() if how == "switched off" else layer.freeze()
    return made, space


def read(made, **more):
    return read_drawing(data(made), "theirs.dxf", more.pop("units", "mm"), **more)


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
@pytest.mark.parametrize("how", ["switched off", "frozen"])
def test_a_hole_on_a_layer_that_does_not_show_is_told_and_can_be_chosen(how, version):
    made, space = hidden(how, version=version)
    space.add_circle((20, 20), 3, dxfattribs={"layer": "HOLES"})
    reading, name = read(made), f"HOLES ({how})"
    assert areas(reading) == ([6000.0], [])
    assert told(reading) == [("warn", f"1 closed outline on layer {name} left out, since the drawing doesn't show it.")]
    row = reading.account.layers[-1]
    assert (row.name, row.role, row.aside, row.colour, row.is_asked) == (name, "aside", 1, "#ff0000", True)
    assert [(row.layer, row.seated) for row in reading.account.left_out] == [(name, (17.0, 17.0, 23.0, 23.0))]
    for chosen in ("HOLES", "holes", name):
        taken = read(made, layers={chosen: "cut"})
        assert areas(taken) == ([6000.0], [HOLE])
        assert told(taken) == []
        assert taken.healed == (f"took 1 line on layer {name} as cut, as chosen",)
    assert told(read(made, layers={"HOLES": "aside"})) == []


def test_four_lines_make_an_outline_and_open_ones_do_not():
    made, space = hidden("switched off")
    corners = [(10, 10), (30, 10), (30, 30), (10, 30)]
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        space.add_line(a, b, dxfattribs={"layer": "HOLES"})
    assert told(read(made))[0][1].startswith("1 closed outline on layer HOLES")
    made, space = hidden("switched off")
    space.add_line((10, 10), (30, 10), dxfattribs={"layer": "HOLES"})
    reading = read(made)
    assert (told(reading), reading.healed) == ([], ("passed over 1 entity on layers switched off",))
    assert [row.name for row in reading.account.layers] == ["0", "HOLES (switched off)"]


def test_what_does_not_show_says_nothing_of_what_shows():
    """A border that is switched off lies around the part, and isn't cut for that; nor does it move the part."""
    made, space = hidden("switched off", "STOCK")
    space.add_lwpolyline([(-50, -50), (9e8, -50), (9e8, 200), (-50, 200)], close=True, dxfattribs={"layer": "STOCK"})
    reading = read(made)
    assert areas(reading) == ([6000.0], [])


def test_a_block_on_a_frozen_layer_hides_all_in_it():
    made, space = hidden("frozen")
    block = made.blocks.new("B")
    block.add_circle((0, 0), 3)
    block.add_circle((10, 0), 3, dxfattribs={"layer": "OTHER"})
    space.add_blockref("B", (20, 20), dxfattribs={"layer": "HOLES"})
    reading = read(made)
    assert told(reading)[0][1].startswith("2 closed outlines on layer HOLES (frozen) left out")
    assert areas(read(made, layers={"HOLES": "cut"})) == ([6000.0], [HOLE, HOLE])


def test_a_frozen_block_without_end_stops_nothing():
    made, space = hidden("frozen")
    block = made.blocks.new("B")
    block.add_circle((0, 0), 3)
    block.add_blockref("B", (1, 1))
    space.add_blockref("B", (20, 20), dxfattribs={"layer": "HOLES"})
    assert areas(read(made)) == ([6000.0], [])
    with pytest.raises(Unreadable, match="lie on its hidden layers; show the layer"):
        read(made, layers={"HOLES": "cut"})


def test_more_than_is_looked_at_stops_nothing():
    made, space = hidden("frozen")
    for i in range(MOST_HIDDEN + 50):
        space.add_circle((i, 500), 0.4, dxfattribs={"layer": "HOLES"})
    reading = read(made)
    assert areas(reading) == ([6000.0], [])
    assert told(reading)[0][1].startswith("5,000 closed outlines")


def test_many_hidden_layers_are_told_at_once():
    made, space = plate()
    for i in range(5):
        made.layers.add(f"L{i}").off()
        space.add_circle((10 + 15 * i, 20), 3, dxfattribs={"layer": f"L{i}"})
    ((severity, message),) = told(read(made))
    assert severity == "warn"
    assert message == (
        "5 closed outlines on 5 layers that the drawing doesn't show left out: L0 (switched off): 1, L1 (switched "
        "off): 1, L2 (switched off): 1, L3 (switched off): 1 and L4 (switched off): 1."
    )


def test_a_drawing_of_hidden_layers_alone_says_which():
    made, space = document()
    made.layers.add("PART").off()
    space.add_circle((0, 0), 3, dxfattribs={"layer": "PART"})
    with pytest.raises(NothingToCut, match=r"choose again what is cut of layer PART \(switched off\)"):
        read(made)
    assert areas(read(made, layers={"PART": "cut"})) == ([HOLE], [])


def test_an_unknown_layer_is_refused_with_those_there_are():
    made, space = hidden("frozen")
    space.add_circle((20, 20), 3, dxfattribs={"layer": "HOLES"})
    with pytest.raises(Refused) as refused:
        read(made, layers={"BORES": "cut"})
    assert "it has 0 and HOLES (frozen)" in refused.value.problems[0].message


@pytest.mark.parametrize(
    ("name", "guess", "words"),
    [("SCRIBE", "scribe", "a scribe line"), ("BEND", "bend", "a bend line"), ("ETCH", "scribe", "a scribe line"),
     ("ENGRAVE", "scribe", "a scribe line"), ("DRILL", "drill", "a drill centre")],
)  # fmt: skip
def test_a_hole_on_a_layer_for_marks_is_asked_about_until_its_role_is_chosen(name, guess, words):
    made, space = plate()
    space.add_circle((20, 20), 3, dxfattribs={"layer": name})
    reading = read(made)
    assert told(reading) == [("warn", f"1 closed outline on layer {name} taken as {words}.")]
    row = reading.account.layers[-1]
    assert (row.marked, row.is_asked) == (1, True)
    for role in (guess, "aside"):
        assert told(read(made, layers={name: role})) == []
    assert areas(read(made, layers={name: "cut"})) == ([6000.0], [HOLE])


# ------------------------------------------------------------------ SVG

SVG_PLATE = '<rect width="90" height="40"/>'


@pytest.mark.parametrize(
    "group",
    ['<g id="Holes" style="display:none"><circle cx="20" cy="20" r="3"/></g>',
     '<g xmlns:x="urn:x" x:label="Holes" display="none"><g transform="translate(20 20)"><circle r="3"/></g></g>',
     '<g id="Holes" opacity="0"><path d="M17 20a3 3 0 0 1 6 0a3 3 0 0 1 -6 0z"/></g>',
     '<g id="Holes"><circle cx="20" cy="20" r="3" visibility="hidden"/></g>',
     '<g id="Holes" display="none"><g id="Engrave"><circle cx="20" cy="20" r="3"/></g></g>'],
    ids=["style", "label", "opacity", "visibility", "in another"],
)  # fmt: skip
def test_a_hole_in_a_group_that_does_not_show_is_told_and_can_be_chosen(group):
    def read_svg(**more):
        return read_drawing(svg(SVG_PLATE + group), "theirs.svg", **more)

    reading, name = read_svg(), "Holes (switched off)"
    assert areas(reading) == ([3600.0], [])
    assert told(reading) == [("warn", f"1 closed outline on layer {name} left out, since the drawing doesn't show it.")]
    assert reading.healed == ("passed over 1 entity that isn't shown",)
    assert reading.account.layers[-1].name == name
    taken = read_svg(layers={"Holes": "cut"})
    assert areas(taken) == ([3600.0], [HOLE])
    assert (told(taken), taken.healed) == ([], (f"took 1 line on layer {name} as cut, as chosen",))


def test_what_does_not_show_and_lies_on_no_layer_is_counted():
    reading = read_drawing(svg(f'{SVG_PLATE}<g display="none"><circle cx="20" cy="20" r="3"/></g>'), "theirs.svg")
    assert (told(reading), reading.healed) == ([], ("passed over 1 entity that isn't shown",))
