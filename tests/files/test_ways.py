"""Which way the loops of a file run, how circles and drilled holes are drawn: seen by readers that didn't write them.

The square side of a plasma cut is the right-hand one with the usual clockwise swirl of the gas, so the outside goes
clockwise and openings counter-clockwise: tests/reference/cutting_practice.csv, `square side`, of a course slide.
"""

import csv
import io
import math
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest

import parts
from parts.errors import DataError
from parts.export import dxf, svg
from parts.geometry.draft import circle, rectangle
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc
from parts.profile import Drill, Opening, Profile
from parts.read import read_drawing
from tests.files import readers
from tests.files.records import MADE, VERSIONS, in_file, plate, special

REFERENCE = Path(__file__).parents[1] / "reference" / "cutting_practice.csv"
SHAPES = ("slots", "keyhole", "crescent", "lens", "three pieces", "relieved corner", "almost a circle", "shallow arc")
QUARTER = math.tan(math.pi / 8)


def cut_by(name, process):
    """One of the profiles made by hand, as a process cuts it."""
    job = parts.draw("gusset-triangle", process=process).record.job
    return replace(special(name), job=job)


def ways(found):
    """Whether each loop that isn't a circle runs clockwise, by layer."""
    return {
        layer: {read.signed < 0 for read in found.get(layer, []) if read.kind.upper() != "CIRCLE" and read.signed}
        for layer in ("OUTSIDE", "INSIDE")
    }


def seen(record):
    """What each reader says of the record's files."""
    text = dxf.write(record)
    yield ways(readers.by_ezdxf(text))
    yield ways(readers.by_svg(svg.write(record)).groups)
    circles = {layer: [r.kind == "CIRCLE" for r in reads] for layer, reads in readers.by_ezdxf(text).items()}
    flat = readers.by_gdal(text)  # which has no word of what was a circle
    yield ways(
        {layer: [r for r, c in zip(reads, circles[layer], strict=True) if not c] for layer, reads in flat.items()}
    )


def test_the_published_way_is_the_one_built_in():
    _, *lines = REFERENCE.read_text(encoding="utf-8").splitlines()
    (row,) = [row for row in csv.DictReader(lines) if row["quantity"] == "square side"]
    assert (row["process"], row["note"]) == ("plasma", "outside contours clockwise, inside contours counter-clockwise")
    for process in ("air-plasma", "fine-plasma"):
        assert parts.draw("gusset-triangle", process=process).record.job.cut.square_side == "right"


@pytest.mark.parametrize(("version", "units"), MADE)
@pytest.mark.parametrize("name", SHAPES)
def test_by_plasma_the_outside_is_clockwise_and_openings_are_not(name, version, units):
    for found in seen(in_file(cut_by(name, "air-plasma"), version, units)):
        assert found["OUTSIDE"] == {True}
        assert found["INSIDE"] <= {False}


@pytest.mark.parametrize("process", ["laser", "oxy-fuel", "waterjet"])
@pytest.mark.parametrize("name", SHAPES)
def test_without_a_square_side_the_material_is_on_the_left(name, process):
    for found in seen(cut_by(name, process)):
        assert found["OUTSIDE"] == {False}
        assert found["INSIDE"] <= {True}


def test_a_torch_that_swirls_the_other_way_goes_the_other_way(tmp_path, monkeypatch):
    own = tmp_path / "shop.toml"
    own.write_text('[processes.air-plasma.square_side]\nside = "left"\nsource = "coupon, both faces measured"\n')
    monkeypatch.setenv("PLATEWRIGHT_SHOP", str(own))
    (found, *_) = seen(cut_by("slots", "air-plasma"))
    assert found == {"OUTSIDE": {False}, "INSIDE": {True}}


def test_another_word_for_the_side_is_refused(tmp_path, monkeypatch):
    own = tmp_path / "shop.toml"
    own.write_text('[processes.laser.square_side]\nside = "starboard"\n')
    monkeypatch.setenv("PLATEWRIGHT_SHOP", str(own))
    with pytest.raises(DataError, match=r"processes\.laser\.square_side\.side.*right.*left.*either"):
        parts.draw("gusset-triangle")


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("pieces", [2, 3, 4, 8])
def test_a_full_circle_in_pieces_is_one_circle(pieces, version):
    step = 2 * math.pi / pieces
    hole = Loop.through(
        (50 + 10 * math.cos(i * step), 40 + 10 * math.sin(i * step), math.tan(step / 4)) for i in range(pieces)
    )
    assert all(isinstance(segment, Arc) for segment in hole.segments)
    window = rectangle((20, 20), 12, 12, 6)  # corners rounded to all there is
    record = replace(special("slots"), profile=plate(100, 80, hole, window).seated(), dxf_version=version)
    text = dxf.write(record)
    first, second = readers.document(text).query('CIRCLE[layer=="INSIDE"]')
    assert (*first.dxf.center.vec2, first.dxf.radius) == pytest.approx((50, 40, 10))
    assert (*second.dxf.center.vec2, second.dxf.radius) == pytest.approx((26, 26, 6))


def test_quarters_of_a_circle_in_someones_drawing_are_one_circle():
    document = ezdxf.new("R2010", units=4)  # millimetres
    document.modelspace().add_lwpolyline([(0, 0), (60, 0), (60, 60), (0, 60)], close=True)
    for start in (0, 90, 180, 270):
        document.modelspace().add_arc((30, 30), 12.5, start, start + 90)
    stream = io.StringIO()
    document.write(stream)
    read = read_drawing(stream.getvalue().encode(), "quarters.dxf").profile
    (ring,) = readers.document(dxf.write(replace(special("slots"), profile=read.seated()))).query("CIRCLE")
    assert (*ring.dxf.center.vec2, ring.dxf.radius) == pytest.approx((30, 30, 12.5))


# ------------------------------------------------------------------ drilled holes

DRILLED = Profile(
    (rectangle((0, 0), 120, 60),),
    (Opening(circle((60, 30), 30), "bore"),),
    marks=(Drill((15, 15), 6.5), Drill((105, 15), 8.0), Drill((105, 15), 3.0), Drill((15, 45), 0.0)),
)


@pytest.mark.parametrize(("version", "units"), MADE)
def test_a_drilled_hole_has_its_centre_and_its_size(version, units):
    text = dxf.write(in_file(replace(special("slots"), profile=DRILLED), version, units))
    scale = 25.4 if units == "in" else 1.0
    drawn = readers.document(text).query('*[layer=="DRILL"]')
    points = [(*e.dxf.location.vec2,) for e in drawn if e.dxftype() == "POINT"]
    circles = [(*e.dxf.center.vec2, 2 * e.dxf.radius) for e in drawn if e.dxftype() == "CIRCLE"]
    assert [tuple(scale * v for v in p) for p in points] == [pytest.approx(mark.at, abs=1e-9) for mark in DRILLED.marks]
    assert [tuple(scale * v for v in c) for c in circles] == [
        pytest.approx((*mark.at, mark.diameter), abs=1e-9) for mark in DRILLED.marks if mark.diameter
    ]


@pytest.mark.parametrize(("version", "units"), MADE)
def test_read_back_it_is_one_drilled_hole(version, units):
    text = dxf.write(in_file(replace(special("slots"), profile=DRILLED), version, units))
    reading = read_drawing(text.encode(), "part.dxf")
    found = [(mark.at, mark.diameter) for mark in reading.profile.marks if isinstance(mark, Drill)]
    assert found == [(pytest.approx(mark.at), pytest.approx(mark.diameter)) for mark in DRILLED.marks]
    assert reading.findings == ()


def test_a_hole_too_small_to_cut_is_drilled_with_its_size():
    values = {"holes_a": 1, "hole": "5 mm", "thickness": 12, "small_holes": "drill"}
    part = parts.draw("gusset-triangle", **values)
    (mark,) = [mark for mark in part.profile.marks if isinstance(mark, Drill)]
    point, ring = readers.document(part.to_dxf()).query('*[layer=="DRILL"]')
    assert (*point.dxf.location.vec2,) == pytest.approx(mark.at)
    assert (*ring.dxf.center.vec2, ring.dxf.radius) == pytest.approx((*mark.at, 2.5))


def test_the_circles_are_left_out_where_they_arent_wanted():
    values = {"holes_a": 1, "hole": "5 mm", "thickness": 12, "small_holes": "drill", "drill_circles": "off"}
    drawn = readers.document(parts.draw("gusset-triangle", **values).to_dxf()).query('*[layer=="DRILL"]')
    assert [entity.dxftype() for entity in drawn] == ["POINT"]


def test_an_svg_has_no_circle_to_drill_since_it_would_be_cut():
    found = readers.by_svg(svg.write(replace(special("slots"), profile=DRILLED)))
    assert {read.kind for read in found.groups["DRILL"]} == {"2 strokes"}
