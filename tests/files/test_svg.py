"""SVG files, read back by an XML reader and the arithmetic of SVG 1.1, appendix F.6."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.export import svg
from parts.record import Record
from tests import library
from tests.depth import some_of
from tests.files import readers
from tests.files.readers import assert_same
from tests.files.records import FEW, SLUGS, SPECIAL, base, special
from tests.strategies import parts_of

# An A command holds an arc's ends and radius. Near half a turn its centre is the root of a small difference
# of the two, so rounding of the radius (1e-16) moves it by the root of that, 1e-8 of the radius.
CENTRE_REL = 1e-7
DRAWN = {"path", "circle", "1 stroke"}


def check(record: Record) -> None:
    drawing = readers.by_svg(svg.write(record))
    expected = readers.expected(record, sized=False)  # in an SVG a circle would be cut
    crosses = drawing.groups.get("DRILL", [])
    assert [_middle(cross.box) for cross in crosses] == [
        pytest.approx(due.box[:2], abs=1e-9) for due in expected.pop("DRILL", [])
    ]
    found = {layer: things for layer, things in drawing.groups.items() if layer != "DRILL"}
    size = max(drawing.width, drawing.height)
    assert_same(found, expected, rel=CENTRE_REL, area=1e-9 * size, length=1e-9, box=CENTRE_REL * size)
    x0, y0, x1, y1 = record.profile.box
    assert (drawing.width, drawing.height) == pytest.approx((x1 - x0, y1 - y0), rel=1e-15)


def _middle(box: readers.Box) -> tuple[float, float]:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


@pytest.mark.parametrize("slug", some_of(16, SLUGS, 1))
def test_a_template_at_its_defaults(slug):
    check(library.part(slug).record)


@pytest.mark.parametrize("slug", some_of(8, SLUGS, 3))
@FEW
@given(data=st.data())
def test_a_template_at_any_values(slug, data):
    check(data.draw(parts_of(parts.templates()[slug], common=True, changed=True)).record)


@pytest.mark.parametrize("name", SPECIAL)
def test_a_profile_that_is_hard_to_write(name):
    check(special(name))


def test_it_is_not_mirrored():
    """The gusset's root is low on the left: 15 mm up the post and, the last corner clockwise, 15 mm along the base."""
    points = re.search(r'<path d="M (\S+) (\S+) L .* L (\S+) (\S+) Z"', svg.write(base())).groups()
    assert tuple(map(float, points)) == (0, 85, 15, 100)


def test_true_size_does_not_depend_on_the_working_units():
    drawing = readers.by_svg(parts.draw("gusset-triangle", leg_a="4 in", leg_b="3 in", units="in").to_svg())
    assert (drawing.width, drawing.height) == pytest.approx((101.6, 76.2), rel=1e-15)


def test_a_mark_beyond_the_outline_is_on_the_sheet():
    from parts.geometry.segment import Line
    from parts.profile import Bend

    record = base()
    record = replace(record, profile=replace(record.profile, marks=(Bend(Line((-10, 50), (130, 50))),)))
    drawing = readers.by_svg(svg.write(record))
    assert drawing.width == 140
    assert drawing.groups["BEND"][0].box == pytest.approx((0, 50, 140, 50))
    assert drawing.groups["OUTSIDE"][0].box == pytest.approx((10, 0, 110, 100))


def test_a_drill_centre_is_a_cross_and_not_a_circle():
    crosses = readers.by_svg(svg.write(special("marks"))).groups["DRILL"]
    assert [cross.kind for cross in crosses] == ["2 strokes", "2 strokes"]
    assert not any(cross.closed for cross in crosses)


def test_groups_carry_the_layers_names_and_plain_strokes():
    root = ET.fromstring(svg.write(special("marks")))
    groups = root.findall(f"{readers.SVG}g")
    assert [group.get("id") for group in groups] == ["SCRIBE", "BEND", "DRILL", "OUTSIDE"]
    assert {group.get("fill") for group in groups} == {"none"}
    strokes = [group.get("stroke") for group in groups]
    assert len(set(strokes)) == len(strokes)
    assert all(re.fullmatch("#[0-9a-f]{6}", stroke) for stroke in strokes)


ALLOWED = {"svg", "title", "metadata", "g", "path", "circle"}


@pytest.mark.parametrize("name", ["marks", "three pieces"])
def test_nothing_but_geometry(name):
    root = ET.fromstring(svg.write(special(name)))
    assert {element.tag.removeprefix(readers.SVG) for element in root.iter()} <= ALLOWED
    names = {name for element in root.iter() for name in element.attrib}
    assert not names & {"style", "class", "href", "transform", "onload"}
    assert all("url(" not in value for element in root.iter() for value in element.attrib.values())


def test_it_says_what_it_is():
    part = parts.draw("gusset-triangle", leg_a="4 in", leg_b="1/3 m", holes_a=2)
    drawing = readers.by_svg(part.to_svg())
    assert drawing.title == "Triangular gusset"
    about = dict(drawing.about)
    values = about.pop("parameters")
    assert about == {
        "platewright_version": parts.VERSION,
        "template": "gusset-triangle",
        "address": part.record.address,
    }
    assert parts.draw("gusset-triangle", **values).record.parameters == part.record.parameters


@pytest.mark.parametrize(
    "nasty", ['</metadata><script>alert("1")</script>', "&amp; ]]> <!-- ½ ≥ \U0001f527", "'\"\n\t\x01"]
)
def test_text_cannot_break_out(nasty):
    record = base()
    template = replace(record.template, title=nasty.replace("\x01", "").replace("\n\t", " "))
    drawing = readers.by_svg(svg.write(replace(record, address=nasty, template=template)))
    assert drawing.title == template.title
    assert drawing.about["address"] == nasty
    assert set(drawing.groups) == {"OUTSIDE"}


def test_the_same_part_gives_the_same_file():
    assert svg.write(special("marks")) == svg.write(special("marks"))
