"""The border of a sheet on the layer of the part is asked about, and left out by who says so; a plate isn't."""

import math

import pytest

import parts
from tests.files.foreign import areas, circle, dxf, line
from tests.unit.test_own import box
from tests.unit.test_read_roles import read, told

PART = box(60, 40, 50, 60) + circle(60, 70, 5) + circle(100, 90, 5)
PART_CUT = ([2400.0], [math.pi * 25] * 2)
SLOT = box(60, 8, 50, 60)


def asked(entities, **more):
    return [f for f in read(entities, **more).findings if "border of the sheet" in f.message]


@pytest.mark.parametrize(
    "border",
    [box(420, 297), box(297, 210), box(250, 150), box(390, 277, 20, 10), box(279.4, 215.9)],
    ids=["A3", "A4", "no sheet's size", "frame of A3", "letter"],
)
def test_a_border_around_a_part_with_holes_is_asked_about_and_left_out(border):
    (finding,) = asked(border + PART)
    assert finding.severity == "warn"
    assert finding.message.startswith("The rectangle around everything, ")
    ((name, value),) = finding.changes
    said, _, role = value.rpartition("=")
    assert (name, role) == ("outline", "aside")
    numbers = tuple(map(float, said.split(",")))
    reading = read(border + PART, outlines={numbers: False})
    assert areas(reading) == PART_CUT
    assert told(reading) == []
    assert reading.healed[-1] == "left out 1 outline, as chosen"
    assert asked(border + PART, outlines={numbers: True}) == []


def test_a_border_of_two_lines_is_asked_about_twice():
    both = asked(box(297, 210) + box(267, 190, 20, 10) + PART)
    assert [f.changes[0][1] for f in both] == ["0,0,297,210=aside", "20,10,287,200=aside"]
    outlines = {(0, 0, 297, 210): False, (20, 10, 287, 200): False}
    assert areas(read(box(297, 210) + box(267, 190, 20, 10) + PART, outlines=outlines)) == PART_CUT


def test_a_border_of_a_sheets_size_needs_no_holes_in_the_part():
    assert len(asked(box(297, 210) + SLOT)) == 1
    assert asked(box(300, 210) + SLOT) == []


@pytest.mark.parametrize(
    "drawn",
    [
        box(297, 210) + circle(20, 20, 5) + circle(250, 180, 5),
        box(300, 200) + circle(60, 60, 10) + circle(60, 60, 5),
        box(300, 200) + box(20, 20, 50, 50) + circle(60, 60, 5),
        box(300, 200) + box(260, 160, 20, 20) + box(200, 120, 50, 40),
        box(100, 60) + box(90, 50, 5, 5) + circle(50, 30, 10),
        PART,
        PART + box(60, 40, 150, 60) + circle(160, 70, 5),
        box(60, 40, 50, 60) + line(0, 0, 420, 0) + line(420, 0, 420, 297),
    ],
    ids=["plate with holes", "countersunk", "countersunk square", "nested window", "narrow ring", "part", "two parts",
         "open border"],
)  # fmt: skip
def test_a_plate_is_not_asked_about(drawn):
    assert asked(drawn) == []


def test_our_own_layers_say_what_is_outside():
    drawn = box(420, 297).replace("\n8\n0\n", "\n8\nOUTSIDE\n") + PART.replace("\n8\n0\n", "\n8\nINSIDE\n")
    assert asked(drawn) == []


def test_it_is_asked_in_the_drawings_own_units():
    scaled = box(16, 11) + box(4, 3, 2, 2) + circle(3, 3, 0.2)
    checked = parts.check(dxf(scaled, units=1), "p.dxf", thickness="6 mm")
    (finding,) = [f for f in checked.part.findings if "border" in f.message]
    assert "16 in x 11 in" in finding.message
    assert finding.changes == (("outline", "0,0,16,11=aside"),)
    checked = parts.check(dxf(scaled, units=1), "p.dxf", thickness="6 mm", outlines=["0,0,16,11=aside"])
    assert checked.part.measures.width_mm == pytest.approx(4 * 25.4)
