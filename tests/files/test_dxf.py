"""DXF files, read back by three readers that didn't write them: same loops on the same layers, same sizes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.export import dxf
from parts.record import Record
from tests import library
from tests.depth import every_other, one_in, some_of
from tests.files import readers
from tests.files.readers import assert_same, near
from tests.files.records import FEW, LIBRARY, MADE, SLUGS, SPECIAL, UNIT_MM, UNITS, VERSIONS, base, in_file, special
from tests.strategies import parts_of

CLOSED_KIND = {"R12": "POLYLINE", "R2010": "LWPOLYLINE"}


def check(record: Record) -> None:
    """By three readers."""
    text = dxf.write(record)
    for by in (check_by_ezdxf, check_by_gdal, check_by_occ):
        by(record, text)


def check_by_ezdxf(record: Record, text: str) -> None:
    """Exact, and each loop as the entity it should be."""
    found = readers.by_ezdxf(text)
    assert_same(found, readers.expected(record, UNIT_MM[record.units]))
    for layer in ("OUTSIDE", "INSIDE"):
        for read in found.get(layer, []):
            round_one = 4 * math.pi * read.area == near(read.length**2, rel=1e-12)  # equality holds for circles only
            assert read.kind == ("CIRCLE" if round_one else CLOSED_KIND[record.dxf_version])


def check_by_gdal(record: Record, text: str) -> None:
    unit_mm = UNIT_MM[record.units]
    slack = readers.slack(record, unit_mm)
    expected = readers.expected(record, unit_mm)
    found = readers.by_gdal(text)
    assert_same(found, expected, area=slack.area, length=slack.length, box=slack.box)


def check_by_occ(record: Record, text: str) -> None:
    unit_mm = UNIT_MM[record.units]
    expected = readers.expected(record, unit_mm)
    for layer in ("OUTSIDE", "INSIDE"):
        if layer not in expected:
            continue
        due = sorted((thing.area, thing.length) for thing in expected[layer])
        found = readers.by_occ(text, layer)
        # OpenCASCADE takes points 1e-7 apart for one: a segment about as short moves its neighbours' ends
        moved = 1e-7 * max(d[1] for d in due) if _shortest(record) < 1e-5 * unit_mm else 0.0
        assert [f[0] for f in found] == near([d[0] for d in due], rel=1e-9, abs=moved)
        assert sorted(f[1] for f in found) == near(sorted(d[1] for d in due), rel=1e-9)


def _shortest(record: Record) -> float:
    return min(segment.length for loop in record.profile.boundary for segment in loop.segments)


@pytest.mark.parametrize(("slug", "version", "units"), one_in(8, LIBRARY, 1))
def test_a_template_at_its_defaults(slug, version, units):
    """Of all the templates two readers tell the sums: `test_library_files.py`."""
    record = library.part(slug, dxf_version=version, units=units).record
    check(record)


@pytest.mark.parametrize("slug", some_of(8, SLUGS))
@FEW
@given(data=st.data(), made=st.sampled_from([(v, u) for v in VERSIONS for u in UNITS]))
def test_a_template_at_any_values(slug, data, made):
    part = data.draw(parts_of(parts.templates()[slug], common=True, changed=True))
    check(in_file(part.record, *made))


@pytest.mark.parametrize(
    ("version", "units", "name"), every_other((*made.values, name) for made in MADE for name in SPECIAL)
)
def test_a_profile_that_is_hard_to_write(name, version, units):
    record = in_file(special(name), version, units)
    check(record)


@pytest.mark.parametrize(("version", "units"), MADE)
def test_marks_are_lines_points_and_paths(version, units):
    found = readers.by_ezdxf(dxf.write(in_file(special("marks"), version, units)))
    path = CLOSED_KIND[version]
    assert [read.kind for read in found["SCRIBE"]] == [path, path, "CIRCLE", "LINE", path, "LINE", "LINE"]
    assert [read.kind for read in found["BEND"]] == ["LINE", "LINE"]
    assert [read.kind for read in found["DRILL"]] == ["POINT", "CIRCLE", "POINT", "CIRCLE"]


def test_inside_loops_come_before_outside_loops_and_marks_before_both():
    order = list(readers.by_ezdxf(dxf.write(special("marks"))))
    assert order == ["SCRIBE", "BEND", "DRILL", "OUTSIDE"]
    assert list(readers.by_ezdxf(dxf.write(special("slots")))) == ["INSIDE", "OUTSIDE"]


# ------------------------------------------------------------------ header, layers, handles

INSUNITS, MEASUREMENT = (
    {"mm": 4, "in": 1},
    {"mm": 1, "in": 0},
)  # DXF reference: 4 millimetres, 1 inches; 1 metric, 0 imperial


@pytest.mark.parametrize("units", UNITS)
def test_the_header_of_r2010_says_the_unit(units):
    header = readers.document(dxf.write(in_file(base(), "R2010", units))).header
    assert (header["$INSUNITS"], header["$MEASUREMENT"]) == (INSUNITS[units], MEASUREMENT[units])


@pytest.mark.parametrize("units", UNITS)
def test_r12_has_no_units_and_says_them_in_words(units):
    text = dxf.write(in_file(base(), "R12", units))
    assert "$INSUNITS" not in text
    assert text.startswith(f"999\nunits: {'inches' if units == 'in' else 'millimetres'}: 1 drawing unit is 1 {units}")


@pytest.mark.parametrize(("version", "units"), MADE)
def test_the_extent_is_the_parts_box(version, units):
    record = in_file(parts.draw("gusset-triangle", leg_a=203.2, leg_b=127).record, version, units)
    document = readers.document(dxf.write(record))
    unit_mm = UNIT_MM[units]
    assert tuple(document.header["$EXTMIN"]) == (0, 0, 0)
    assert tuple(document.header["$EXTMAX"]) == near((203.2 / unit_mm, 127 / unit_mm, 0), rel=1e-12)
    view = document.viewports.get("*Active")[0].dxf
    assert tuple(view.center)[:2] == near((101.6 / unit_mm, 63.5 / unit_mm), rel=1e-12)
    assert view.height > 203.2 / unit_mm


@pytest.mark.parametrize(("version", "units"), MADE)
def test_layers(version, units):
    layers = readers.document(dxf.write(in_file(base(), version, units))).layers
    names = {layer.dxf.name for layer in layers} - {"0", "Defpoints"}
    assert names == {"OUTSIDE", "INSIDE", "SCRIBE", "BEND", "DRILL", "NOTES"}
    assert [name for name in sorted(names) if layers.get(name).is_off()] == ["NOTES"]
    assert len({layers.get(name).color for name in names}) == len(names)
    assert {name: layers.get(name).dxf.linetype for name in ("SCRIBE", "BEND")} == {
        "SCRIBE": "DASHED",
        "BEND": "DASHDOT",
    }


@pytest.mark.parametrize(("version", "units"), MADE)
@pytest.mark.parametrize("name", ["marks", "three pieces"])
def test_handles_are_unique_and_below_the_seed(name, version, units):
    text = dxf.write(in_file(special(name, notes=True), version, units))
    lines = text.splitlines()
    pairs = list(zip(lines[::2], lines[1::2], strict=True))
    seed = int(pairs[pairs.index(("  9", "$HANDSEED")) + 1][1], 16)
    start = pairs.index(("  2", "TABLES"))
    records: list[list[tuple[str, str]]] = []
    for code, value in pairs[start:]:
        records += [[]] if code == "  0" else []
        records[-1:] = [[*records[-1], (code.strip(), value)]] if records else []
    own = {"DIMSTYLE": "105"}  # whose 5, in R12, is an arrow's name
    handles = [int(v, 16) for record in records for c, v in record if c == own.get(record[0][1], "5")]
    assert len(handles) == len(set(handles)) > 20
    assert max(handles) < seed


@pytest.mark.parametrize("version", VERSIONS)
def test_entities_belong_to_the_model_space(version):
    document = readers.document(dxf.write(in_file(special("marks", notes=True), version, "mm")))
    space = document.modelspace()
    assert len(space) > 10
    assert {entity.dxf.owner for entity in space} == {space.layout_key}


@pytest.mark.parametrize("version", VERSIONS)
def test_numbers_are_written_in_full_and_without_exponents(version):
    profile = special("shallow arc")
    text = dxf.write(in_file(profile, version, "mm"))
    _, _, entities = text.partition("ENTITIES")
    assert "\n 42\n-0.00001\n" in entities  # outside clockwise
    assert "\n 42\n0.000003\n" in entities
    lines = text[text.index("  0\nSECTION") :].splitlines()
    numbers = [v for c, v in zip(lines[::2], lines[1::2], strict=True) if 10 <= int(c) < 60]
    entity_numbers = [v for v in entities.splitlines() if v.replace(".", "").replace("-", "").isdigit()]
    assert numbers
    assert not [v for v in entity_numbers if "e" in v.lower()]
    assert {float(v) for v in numbers} >= {1000.0, -1e-5, 3e-6}
