"""DXF files, read back by three readers that didn't write them: same loops on the same layers, same sizes."""

import math
import subprocess
import sys
from dataclasses import replace

import ezdxf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import parts
from parts.export import dxf
from parts.record import Record
from tests.files import readers
from tests.files.records import SPECIAL, UNITS, VERSIONS, base, in_file, special
from tests.strategies import parts_of

UNIT_MM = {"mm": 1.0, "in": 25.4}
MADE = [pytest.param(version, units, id=f"{version} {units}") for version in VERSIONS for units in UNITS]
SLUGS = sorted(parts.templates())
FEW = settings(deadline=None, max_examples=12, suppress_health_check=list(HealthCheck))
CLOSED_KIND = {"R12": "POLYLINE", "R2010": "LWPOLYLINE"}


def near(value, **of):
    return pytest.approx(value, **of)


def assert_same(found, expected, *, area=0.0, length=0.0, box=0.0, rel=1e-11):
    """The same layers, and on each the same things in the same order."""
    assert {layer: len(things) for layer, things in found.items()} == {
        layer: len(things) for layer, things in expected.items()
    }
    for layer, things in expected.items():
        for i, (read, due) in enumerate(zip(found[layer], things, strict=True)):
            where = f"{layer} {i}"
            assert read.closed == due.closed, where
            assert read.area == near(due.area, rel=rel, abs=area), where
            assert read.length == near(due.length, rel=rel, abs=length), where
            size = max(abs(v) for v in due.box)
            assert read.box == near(due.box, rel=0, abs=max(box, rel * size)), where


def check_by_ezdxf(record: Record) -> None:
    """Exact, and each loop as the entity it should be."""
    found = readers.by_ezdxf(dxf.write(record))
    assert_same(found, readers.expected(record, UNIT_MM[record.units]))
    for layer in ("OUTSIDE", "INSIDE"):
        for read in found.get(layer, []):
            round_one = 4 * math.pi * read.area == near(
                read.length**2, rel=1e-12
            )  # equality holds for circles only
            assert read.kind == ("CIRCLE" if round_one else CLOSED_KIND[record.dxf_version])


def check_by_gdal(record: Record) -> None:
    unit_mm = UNIT_MM[record.units]
    slack = readers.slack(record, unit_mm)
    expected = readers.expected(record, unit_mm)
    found = readers.by_gdal(dxf.write(record))
    assert_same(found, expected, area=slack.area, length=slack.length, box=slack.box)


def check_by_occ(record: Record, folder) -> None:
    unit_mm = UNIT_MM[record.units]
    text, expected = dxf.write(record), readers.expected(record, unit_mm)
    for layer in ("OUTSIDE", "INSIDE"):
        if layer not in expected:
            continue
        due = sorted((thing.area, thing.length) for thing in expected[layer])
        found = readers.by_occ(text, layer, folder)
        assert [f[0] for f in found] == near([d[0] for d in due], rel=1e-9)
        assert sorted(f[1] for f in found) == near(sorted(d[1] for d in due), rel=1e-9)


@pytest.fixture(scope="session")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("dxf")


@pytest.mark.parametrize(("version", "units"), MADE)
@pytest.mark.parametrize("slug", SLUGS)
def test_a_template_at_its_defaults(slug, version, units, folder):
    record = parts.draw(slug, dxf_version=version, units=units).record
    check_by_ezdxf(record)
    check_by_gdal(record)
    check_by_occ(record, folder)


@pytest.mark.parametrize("slug", SLUGS)
@FEW
@given(data=st.data(), made=st.sampled_from([(v, u) for v in VERSIONS for u in UNITS]))
def test_a_template_at_any_values(slug, data, made, folder):
    version, units = made
    part = data.draw(parts_of(parts.templates()[slug], dxf_version=version, units=units))
    check_by_ezdxf(part.record)
    check_by_gdal(part.record)
    check_by_occ(part.record, folder)


@pytest.mark.parametrize(("version", "units"), MADE)
@pytest.mark.parametrize("name", SPECIAL)
def test_a_profile_that_is_hard_to_write(name, version, units, folder):
    record = in_file(special(name), version, units)
    check_by_ezdxf(record)
    check_by_gdal(record)
    check_by_occ(record, folder)


@pytest.mark.parametrize(("version", "units"), MADE)
def test_marks_are_lines_points_and_paths(version, units):
    found = readers.by_ezdxf(dxf.write(in_file(special("marks"), version, units)))
    path = CLOSED_KIND[version]
    assert [read.kind for read in found["SCRIBE"]] == [path, path, "CIRCLE", "LINE", path, "LINE", "LINE"]
    assert [read.kind for read in found["BEND"]] == ["LINE", "LINE"]
    assert [read.kind for read in found["DRILL"]] == ["POINT", "POINT"]


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
    assert text.startswith(
        f"999\nunits: {'inches' if units == 'in' else 'millimetres'}: 1 drawing unit is 1 {units}"
    )


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
    assert "\n 42\n0.00001\n" in entities
    assert "\n 42\n-0.000003\n" in entities
    lines = text[text.index("  0\nSECTION") :].splitlines()
    numbers = [v for c, v in zip(lines[::2], lines[1::2], strict=True) if 10 <= int(c) < 60]
    entity_numbers = [v for v in entities.splitlines() if v.replace(".", "").replace("-", "").isdigit()]
    assert numbers
    assert not [v for v in entity_numbers if "e" in v.lower()]
    assert {float(v) for v in numbers} >= {1000.0, 1e-5, -3e-6}


# ------------------------------------------------------------------ text


@pytest.mark.parametrize(("version", "units"), MADE)
def test_no_text_unless_asked_for(version, units):
    document = readers.document(dxf.write(in_file(special("marks"), version, units)))
    assert {e.dxftype() for e in document.modelspace()} & {
        "TEXT",
        "MTEXT",
        "INSERT",
        "SPLINE",
        "ELLIPSE",
    } == set()
    assert "NOTES" not in {e.dxf.layer for e in document.modelspace()}


@pytest.mark.parametrize(("version", "units"), MADE)
def test_notes_say_what_the_part_is_below_it(version, units):
    values = {
        "leg_a": "8 in",
        "leg_b": "5 in",
        "thickness": "1/4 in",
        "small_holes": "drill",
        "bolt": "by-diameter",
    }
    record = parts.draw(
        "gusset-triangle", holes_a=2, hole=3, notes=True, units=units, dxf_version=version, **values
    ).record
    texts = [e for e in readers.document(dxf.write(record)).modelspace() if e.dxftype() == "TEXT"]
    assert {text.dxf.layer for text in texts} == {"NOTES"}
    words = [text.dxf.text for text in texts]
    assert words[0] == "Triangular gusset"
    assert words[1] == {"mm": "203.2 mm x 127 mm", "in": "8 in x 5 in"}[units]
    assert words[2] == {"mm": "Mild steel, 6.35 mm thick", "in": "Mild steel, 1/4 in thick"}[units]
    assert words[3] == {"mm": "Drill 2 at 3 mm", "in": "Drill 2 at 0.118 in"}[units]
    assert "".join(words[4:]) == record.address
    assert all(text.dxf.insert.y + text.dxf.height < 0 for text in texts)
    lines = [text.dxf.insert.y for text in texts]
    assert all(
        upper - lower > text.dxf.height for upper, lower, text in zip(lines, lines[1:], texts, strict=False)
    )


def comments_of(text: str) -> dict[str, str]:
    """The comment groups at the head, long ones joined, escapes undone, as a reader of them would."""
    found: dict[str, str] = {}
    lines = iter(text.splitlines())
    while next(lines) == "999":
        name, _, value = next(lines).partition(": ")
        if name.endswith("+"):
            found[name[:-1]] += value
        else:
            assert name not in found
            found[name] = value
    return {name: unescaped(value) for name, value in found.items()}


def unescaped(text: str) -> str:
    before, *escapes = text.split("\\U+")
    units = b"".join(bytes.fromhex(e[:4]) + e[4:].encode("utf-16-be") for e in escapes)
    return before + units.decode("utf-16-be")


def test_comments_carry_the_part():
    part = parts.draw("gusset-triangle", leg_a="4 in", leg_b="1/3 m", holes_a=2)
    comments = comments_of(part.to_dxf())
    assert comments.pop("units") == "millimetres: 1 drawing unit is 1 mm"
    assert comments.pop("platewright_version") == parts.VERSION
    assert comments.pop("template") == "gusset-triangle"
    assert comments.pop("address") == part.record.address
    values = {name.removeprefix("parameter "): value for name, value in comments.items()}
    assert parts.draw("gusset-triangle", **values).record.parameters == part.record.parameters


@pytest.mark.parametrize("slug", SLUGS)
@FEW
@given(data=st.data(), units=st.sampled_from(UNITS))
def test_the_parameters_in_the_comments_draw_the_same_file(slug, data, units):
    part = data.draw(parts_of(parts.templates()[slug], common=True, units=units))
    text = part.to_dxf()
    values = {
        n.removeprefix("parameter "): v for n, v in comments_of(text).items() if n.startswith("parameter ")
    }
    assert parts.draw(slug, **values).to_dxf() == text


NASTY = [
    pytest.param("a\n  0\nEOF\n", id="ends the file"),
    pytest.param("\r\n999\nunits: inches", id="comments itself"),
    pytest.param("x" * 1000, id="long"),
    pytest.param("y" * 195 + "\\U+0041" * 40, id="backslashes"),
    pytest.param("&".join(f"name{i}=value{i}" for i in range(200)), id="address"),
    pytest.param("é ½ ≥ ² \U0001f527 \x00\x1f\x85\u2028" * 12, id="not ASCII"),
    pytest.param("blank " + " " * 500 + "blank", id="blanks"),
    pytest.param("%%c 100% ^J ^ %(x0)s {x0}", id="control sequences"),
]


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("nasty", NASTY)
def test_no_text_breaks_a_comment_or_a_note(nasty, version):
    record = replace(in_file(base(), version, "mm"), address=nasty, material_title=nasty, notes=True)
    text = dxf.write(record)
    assert text.isascii()
    assert max(len(line) for line in text.splitlines()) <= 255
    assert comments_of(text)["address"] == nasty
    document = readers.document(text)
    layers = [entity.dxf.layer for entity in document.modelspace()]
    assert layers.count("OUTSIDE") == 1
    assert set(layers) == {"OUTSIDE", "NOTES"}
    assert_same(readers.by_ezdxf(text), readers.expected(record))


# ------------------------------------------------------------------ same part, same bytes


@pytest.mark.parametrize(("version", "units"), MADE)
def test_the_same_part_gives_the_same_file(version, units):
    record = in_file(special("marks", notes=True), version, units)
    assert dxf.write(record) == dxf.write(replace(record))


SCRIPT = """
import sys, parts
part = parts.draw("gusset-triangle", leg_a="5-3/8 in", holes_b=2, lightening=20, notes=True,
                  dxf_version=sys.argv[1], units=sys.argv[2])
sys.stdout.buffer.write(part.to_dxf().encode("ascii"))
"""


@pytest.mark.parametrize(("version", "units"), MADE)
def test_a_fresh_process_gives_the_same_file(version, units):
    made = [
        subprocess.run(
            [sys.executable, "-c", SCRIPT, version, units], stdout=subprocess.PIPE, check=True, env=env
        ).stdout
        for env in ({"PYTHONHASHSEED": "1"}, {"PYTHONHASHSEED": "2", "TZ": "Asia/Kathmandu"})
    ]
    assert made[0] == made[1] != b""


def test_ezdxf_keeps_its_own_settings():
    dxf.write(base())
    assert ezdxf.options.write_fixed_meta_data_for_testing is False
