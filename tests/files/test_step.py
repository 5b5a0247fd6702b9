"""STEP files, read back by OpenCASCADE's reader: volumes, boxes, true cylinders, and what the header says."""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.cutting.measures import measure
from parts.export import step
from tests import library
from tests.depth import some_of
from tests.files.records import FEW, SLUGS, SPECIAL, base, special
from tests.strategies import parts_of


def check(record, read):
    plate = read(step.write(replace(record, is_flat=True)))
    solids, thickness = plate.solids().vals(), record.job.cut.thickness_mm
    assert len(solids) == len(record.profile.outside)
    assert all(solid.isValid() for solid in solids)
    assert sum(solid.Volume() for solid in solids) == pytest.approx(record.measures.area_mm2 * thickness, rel=1e-9)
    boxes = [solid.BoundingBox(1e-6) for solid in solids]
    x0, y0, x1, y1 = record.profile.box
    size = max(x1, y1)
    # OpenCASCADE grows a box by the tolerance of the edges in it, 1e-7 and more where arcs meet in rounding
    slack = 1e-6 + 1e-9 * size
    assert (min(b.xmin for b in boxes), min(b.ymin for b in boxes)) == pytest.approx((x0, y0), abs=slack)
    assert (max(b.xmax for b in boxes), max(b.ymax for b in boxes)) == pytest.approx((x1, y1), abs=slack)
    assert all((b.zmin, b.zmax) == pytest.approx((0, thickness), abs=slack) for b in boxes)
    curves = sorted(edge.geomType() for edge in plate.edges().vals() if edge.geomType() != "LINE")
    assert set(curves) <= {"CIRCLE"}


@pytest.mark.parametrize("slug", some_of(8, SLUGS, 2))
def test_a_template_at_its_defaults(slug, read):
    check(library.part(slug).record, read)


@pytest.mark.parametrize("slug", some_of(4, SLUGS))
@FEW
@given(data=st.data())
def test_a_template_at_any_values(slug, data, read):
    check(data.draw(parts_of(parts.templates()[slug], common=True, changed=True)).record, read)


@pytest.mark.parametrize("name", SPECIAL)
def test_a_profile_made_by_hand(name, read):
    check(special(name), read)


def test_a_round_hole_is_one_cylinder(read):
    part = parts.draw("gusset-triangle", holes_a=2, corner_radius=0)
    cylinders = read(part.to_step()).faces("%CYLINDER").vals()
    assert len(cylinders) == 2
    assert [face.Area() for face in cylinders] == pytest.approx([math.pi * 11 * 6] * 2, rel=1e-9)


def test_an_arc_keeps_its_radius(read):
    part = parts.draw("gusset-triangle", leg_a=210, leg_b=130, corner_radius=7.6)
    arcs = read(part.to_step()).edges("%CIRCLE").vals()
    assert len(arcs) == 8
    assert [arc.radius() for arc in arcs] == pytest.approx([7.6] * 8, rel=1e-9)


def test_several_pieces_are_several_solids_each_with_its_own_holes(read):
    record = special("three pieces")
    solids = read(step.write(record)).solids().vals()
    by_hand = sorted([50 * 40 - (4 - math.pi) * 16 - math.pi * 4.5**2,
                      math.pi * 20**2 - (14 * 6 + math.pi * 9),
                      110 * 30 - 2 * math.pi * 25])  # fmt: skip
    assert sorted(solid.Volume() / 6 for solid in solids) == pytest.approx(by_hand, rel=1e-9)


# ------------------------------------------------------------------ header


def header_of(content: bytes) -> str:
    """The header with strings put together again: a line may end anywhere in one (ISO 10303-21)."""
    return re.sub(r"\n\s*", "", content.decode("ascii").partition("ENDSEC;")[0])


def test_the_header_says_what_the_part_is():
    part = parts.draw("gusset-triangle", leg_a="4 in", leg_b="1/3 m", holes_a=2)
    header = header_of(part.to_step())
    described = re.search(r"FILE_DESCRIPTION\(\((.*?)\),'2;1'\)", header).group(1)
    lines = dict(re.match(r"(.*?): (.*)", line).groups() for line in re.findall("'(.*?)'", described))
    assert lines.pop("platewright_version") == parts.VERSION
    assert lines.pop("template") == "gusset-triangle"
    assert lines.pop("address") == part.record.address
    values = {name.removeprefix("parameter "): value for name, value in lines.items()}
    assert parts.draw("gusset-triangle", **values).record.parameters == part.record.parameters
    assert "AUTOMOTIVE_DESIGN" in header  # AP214


def test_the_product_has_the_parts_name_and_never_a_number(read):
    named = [re.search(r"PRODUCT\('(.*?)','(.*?)'", base_step().decode()).groups() for _ in range(2)]
    assert named == [("gusset-triangle", "Triangular gusset")] * 2


def base_step(**changes):
    return step.write(replace(base(), **changes))


def test_nothing_of_when_or_where():
    header = header_of(base_step())
    assert "'1970-01-01T00:00:00',(''),('')" in header
    assert base_step() == base_step()


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("it's", "it''s"),
        ("back\\slash", "back\\X2\\005C\\X0\\slash"),
        ("é½", "\\X2\\00E9\\X0\\\\X2\\00BD\\X0\\"),
        ("\U0001f527", "\\X4\\0001F527\\X0\\"),
        ("two\nlines", "two\\X2\\000A\\X0\\lines"),
        ("x" * 1000, "x" * 1000),
    ],
    ids=["apostrophe", "backslash", "accents", "beyond the first plane", "line feed", "long"],
)
def test_no_text_breaks_the_header(text, written, read):
    content = base_step(address=text)
    assert f"'address: {written}'" in header_of(content)
    assert read(content).solids().size() == 1


def test_thickness_is_the_rise(read):
    record = parts.draw("gusset-triangle", thickness="3/8 in").record
    assert read(step.write(record)).val().BoundingBox(1e-6).zmax == pytest.approx(9.525, abs=1e-6)
    assert record.measures == measure(record.profile, record.job)
