"""Text in DXF files: notes and comments, what they say, that nothing breaks them, and that files repeat."""

import json
import subprocess
import sys
from dataclasses import replace

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.export import dxf, dxf_frame, dxf_making
from tests.depth import some_of
from tests.files import readers
from tests.files.readers import assert_same
from tests.files.records import FEW, MADE, SLUGS, VERSIONS, base, in_file, special
from tests.strategies import parts_of


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
    assert all(upper - lower > text.dxf.height for upper, lower, text in zip(lines, lines[1:], texts, strict=False))


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


@pytest.mark.parametrize("slug", some_of(8, SLUGS))
@FEW
@given(data=st.data())
def test_the_parameters_in_the_comments_draw_the_same_file(slug, data):
    text = data.draw(parts_of(parts.templates()[slug], common=True, changed=True)).to_dxf()
    values = {n.removeprefix("parameter "): v for n, v in comments_of(text).items() if n.startswith("parameter ")}
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
for version, units in (("R12", "mm"), ("R2010", "in")):
    part = parts.draw("gusset-triangle", leg_a="5-3/8 in", holes_b=2, lightening=20, notes=True,
                      dxf_version=version, units=units)
    sys.stdout.buffer.write(part.to_dxf().encode("ascii"))
"""


def test_a_fresh_process_gives_the_same_file():
    """In both versions and units."""
    made = [
        subprocess.run([sys.executable, "-c", SCRIPT], stdout=subprocess.PIPE, check=True, env=env).stdout
        for env in ({"PYTHONHASHSEED": "1"}, {"PYTHONHASHSEED": "2", "TZ": "Asia/Kathmandu"})
    ]
    assert made[0] == made[1] != b""


def test_ezdxf_keeps_its_own_settings():
    dxf.write(base())
    assert ezdxf.options.write_fixed_meta_data_for_testing is False


def test_a_part_that_must_not_be_cut_says_so_at_the_head():
    asked = {"leg_a": 150, "leg_b": 150, "holes_a": 2, "bolt": "M5", "small_holes": "cut"}
    told = comments_of(parts.draw("gusset-triangle", **asked).to_dxf())
    assert told["STOP 1"].startswith("hole-to-thickness: Hole 1 in leg A is 5.5 mm in 6 mm plate")
    assert told["STOP 1"].endswith(" And 1 more of the kind.")
    assert "STOP 2" not in told
    assert not any(name.startswith("STOP") for name in comments_of(parts.draw("gusset-triangle").to_dxf()))


@pytest.mark.parametrize("version", VERSIONS)
def test_a_part_with_many_stops_is_known_for_a_dxf_by_how_it_begins(version):
    part = parts.draw("box-closed", side_clearance=2.05, lip=7, dxf_version=version)
    assert sum(finding.severity == "stop" for finding in part.findings) > 50
    assert len(readers.by_gdal(part.to_dxf())["INSIDE"]) == len(part.profile.inside)


@pytest.mark.parametrize("version", VERSIONS)
def test_a_frame_has_every_field_filled_in(version):
    made = dxf_frame.frame(version, "mm")
    head, _, tail = made.around("%ENTITIES%", (0.0, -1.5, 20.0, 30.25), 0x2F).partition("%ENTITIES%")
    fields = {
        "x0": "0.0", "y0": "-1.5", "x1": "20.0", "y1": "30.25", "mid_x": "10.0", "mid_y": "14.375", "view": "38.1",
        "next_handle": "2F",
    }  # fmt: skip
    assert (head, tail) == (made.head % fields, made.tail % fields)


def test_the_frames_kept_are_those_that_the_library_makes():
    assert json.loads(dxf_frame.FILE.read_text("utf-8")) == dxf_making.frames()
