"""Colours of layers by name, from a DXF's indices, true colours, layers and blocks, and from what an SVG paints."""

import ezdxf
import pytest

from parts.read import read_drawing
from parts.read.colour_names import colour_name
from tests.files.foreign import data, document, svg


@pytest.mark.parametrize(
    ("colour", "name"),
    [("", ""), ("#ff0000", "red"), ("#000080", "navy"), ("#fe0102", "red"), ("#ff7f00", "orange"),
     ("#4c2600", "brown"), ("#101010", "black"), ("#828282", "gray"), ("#f9f9f9", "white"), ("#bebebe", "gray"),
     ("#7fffd0", "green"), ("#00bfff", "blue"), ("#8000ff", "purple"), ("#ff0080", "magenta"),
     ("#ffbfbf", "light red"), ("#004000", "dark green")],
)  # fmt: skip
def test_a_colour_has_a_plain_name(colour, name):
    assert colour_name(colour) == name


def colours(made, **more):
    reading = read_drawing(data(made), "theirs.dxf", "mm", **more)
    return {row.name: row.colour_name for row in reading.account.layers}


def test_colours_of_a_dxf_by_layer_index_and_true_colour():
    made, space = document()
    made.layers.add("A", color=5)
    made.layers.add("B", color=1, true_color=ezdxf.rgb2int((255, 128, 0)))
    made.layers.add("C", color=3)
    space.add_circle((0, 0), 50, dxfattribs={"layer": "A"})
    space.add_circle((0, 0), 20, dxfattribs={"layer": "B"})
    space.add_circle((0, 0), 10, dxfattribs={"layer": "C", "color": 6})
    assert colours(made) == {"A": "blue", "B": "orange", "C": "magenta"}


def test_a_colour_left_to_the_block_is_that_of_the_insert():
    made, space = document()
    block = made.blocks.new("B")
    block.add_circle((0, 0), 5, dxfattribs={"color": 0, "layer": "X"})
    outer = made.blocks.new("OUTER")
    outer.add_blockref("B", (0, 0), dxfattribs={"color": 0})
    space.add_circle((0, 0), 50)
    space.add_blockref("OUTER", (0, 0), dxfattribs={"color": 4})
    assert colours(made)["X"] == "cyan"


def test_groups_of_an_svg_by_their_names_and_strokes():
    body = (
        '<g id="Rim" stroke="#ff0000" fill="none"><circle cx="50" cy="50" r="40"/></g>'
        '<g id="Bores" style="fill:rgb(0,0,255)"><circle cx="50" cy="50" r="4"/></g>'
    )
    reading = read_drawing(svg(body), "theirs.svg")
    assert {row.name: row.colour_name for row in reading.account.layers} == {"Rim": "red", "Bores": "blue"}
