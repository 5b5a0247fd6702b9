"""Files that Platewright wrote, opened again: values to the last digit, edits told where they are, the rest refused."""

import io
import json
import math
import re
import zlib
from xml.etree import ElementTree

import ezdxf
import pytest
from ezdxf.math import Matrix44
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.export import FORMATS
from parts.reopen import address_in, facts_in, reopen
from parts.truing import Errors
from tests import library
from tests.depth import DEEP, some_of, tried
from tests.strategies import DEAR, parts_of, quick
from webapp.cli import main

COMPARED = ("dxf", "svg", "json")
CHEAP = (*COMPARED, "pdf")
"""Formats that are written in no time."""
SHARE = [slug for slug in some_of(6, library.SLUGS) if slug not in DEAR]
GUSSET = {"holes_a": 2, "leg_a": 150}


def assert_back(part, kind, data):
    """Every value as it was, the address too; the outline as drawn where it is compared."""
    found = reopen(data, f"part.{kind}")
    assert dict(found.part.record.parameters) == dict(part.record.parameters)
    assert (found.part.record.template.slug, found.address) == (part.record.template.slug, part.record.address)
    assert found.edited is (False if kind in COMPARED else None), found.said
    assert address_in(data, "part") == (part.record.template.title, part.record.address)
    assert json.loads(found.to_json())["parameters"] == json.loads(json.dumps(dict(part.record.told)))


@pytest.mark.parametrize("slug", SHARE)
def test_a_template_as_it_comes_is_back_from_every_format(slug):
    for kind in FORMATS if slug == SHARE[0] or DEEP else CHEAP:
        assert_back(library.part(slug), kind, library.written(slug, kind))


@pytest.mark.parametrize("slug", SHARE)
def test_a_preset_is_back_from_every_format(slug):
    for preset in parts.templates()[slug].presets:
        part = library.part(slug, preset.name)
        for kind in FORMATS if DEEP else COMPARED:
            assert_back(part, kind, part.file(kind))


@tried(60, everyday=4)
@given(st.data())
def test_any_values_are_back_from_every_format(data):
    template = data.draw(st.sampled_from(quick(parts.templates().values())))
    part = data.draw(parts_of(template, common=True))
    for kind in FORMATS if DEEP else COMPARED:
        assert_back(part, kind, part.file(kind))


def test_text_with_every_kind_of_sign_is_back():
    part = parts.draw("sign-plate", text="(É) 1%; a=b & 'c' <d>", dxf_version="R12", notes=True)
    for kind in CHEAP:
        assert_back(part, kind, part.file(kind))
    long = "x" * 300 + "é"
    head = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('platewright_version: 1','template: a',\n "
    values = r"'parameter b: it''s \X2\00E9\X0\','parameter c: \X4\0001F600\X0\'),'2;1');" + "\nFILE_NAME('');"
    assert facts_in(f"{head}{values}".encode(), "x").parameters == {"b": "it's \u00e9", "c": "\U0001f600"}
    lines = ["platewright_version: 1", "template: a", f"parameter b: {long[:200]}", f"parameter b+: {long[200:300]}"]
    comments = "".join(f"999\n{line}\n" for line in lines).removesuffix("\n") + r"\U+00E9" + "\n"
    assert facts_in(comments.encode(), "x").parameters == {"b": long}


def test_a_compensated_part_is_back_as_the_true_one_and_is_not_taken_for_edited():
    part = parts.draw("plate-base", units="in")
    for kind in COMPARED:
        data = part.compensated(Errors(0.00123, -0.002, 0.003), "Fernhollow table").file(kind)
        found = reopen(data, f"part.{kind}")
        assert (found.edited, found.address) == (False, part.record.address), found.said
        assert "COMPENSATED for Fernhollow table" in found.said[0]


def dxf(edit):
    """A gusset's R2010 DXF with its entities as lists of (code, value), edited."""
    text = library.part("gusset-triangle", **GUSSET).to_dxf()
    head, entities = text.split("  2\nENTITIES\n")
    drawn, tail = entities.split("  0\nENDSEC\n", 1)
    each = [f"  0\n{one}" for one in drawn.split("  0\n")[1:]]
    return f"{head}  2\nENTITIES\n{''.join(edit(each))}  0\nENDSEC\n{tail}".encode()


def number_of(each, kind):
    return next(i for i, one in enumerate(each) if one.startswith(f"  0\n{kind}\n"))


def shifted(kind, code, mm):
    """The first entity of a kind with its first number of a code moved."""

    def edit(each):
        i = number_of(each, kind)
        each[i] = re.sub(rf"(\n {code}\n)([-\d.]+)", lambda m: f"{m[1]}{float(m[2]) + mm}", each[i], count=1)
        return each

    return edit


def without(kind):
    return lambda each: [one for i, one in enumerate(each) if i != number_of(each, kind)]


def twice(each):
    return [*each, each[number_of(each, "CIRCLE")].replace("  5\n", "  5\nF")]


def scaled(each):
    return [
        re.sub(r"(\n (?:10|20|40)\n)([-\d.]+)", lambda m: f"{m[1]}{float(m[2]) * 2}", one) for one in each
    ]  # fmt: skip


def moved(each):
    return [re.sub(r"(\n 10\n)([-\d.]+)", lambda m: f"{m[1]}{float(m[2]) + 7}", one) for one in each]


def renamed(each):
    return [one.replace("  8\nINSIDE\n", "  8\n0\n") for one in each]


@pytest.mark.parametrize(
    ("edit", "said", "off"),
    [
        (list, "Its outline is as these values draw it", None),
        (shifted("CIRCLE", 10, 0.009), "Its outline is as these values draw it", None),  # as near as is the same
        (shifted("CIRCLE", 10, 0.012), "by 0.012 mm", 0.012),
        (shifted("CIRCLE", 10, 3.0), "furthest off at 43.5, 20 mm, by 3 mm", 3.0),
        (shifted("CIRCLE", 40, 0.5), "by 0.5 mm", 0.5),
        (shifted("LWPOLYLINE", 10, 1.5), "by 1.5 mm", 1.5),
        (without("CIRCLE"), ": 2 of those that they draw aren't in it", 0.0),
        (twice, "on INSIDE something is there twice", 0.0),
        (scaled, "the whole is 2 times as large", None),
        (moved, "the whole is moved by 7 mm in x and 0 mm in y", 7.0),
        (renamed, "on other layers or none, and the layer says how", None),
    ],
    ids=["", "near", "hole 12 um", "hole", "larger", "vertex", "gone", "twice", "scaled", "moved", "layer"],
)
def test_an_edit_is_told_where_and_how_far(edit, said, off):
    found = reopen(dxf(edit), "edited.dxf")
    assert said in " ".join(found.said)
    assert found.edited is ("is as these" not in said)
    assert found.address == "/parts/gusset-triangle?leg_a=150mm&holes_a=2"
    if found.edited:
        assert "take it as a drawing of your own" in found.said[-1]
        assert found.as_own("a b.dxf") == "platewright check 'a b.dxf' --thickness 6mm"
    if off:
        finite = [each.off_mm for each in found.compared.differences if each.off_mm < 1e6]
        assert max(finite) == pytest.approx(off, abs=2e-3)


def transformed(data, done):
    """A DXF read, put elsewhere and written anew by ezdxf, a general library for DXF."""
    document = ezdxf.read(io.StringIO(data.decode()))
    for entity in document.modelspace():
        entity.transform(done)
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode()


@pytest.mark.parametrize(
    ("done", "said"),
    [
        (Matrix44.z_rotate(math.pi / 2), "turned by 90° to the left."),
        (Matrix44.z_rotate(math.pi), "turned by 180°."),
        (Matrix44.z_rotate(-math.pi / 6) @ Matrix44.translate(5, 7, 0), "turned by 30° to the right."),
        (Matrix44.scale(-1, 1, 1), "mirrored, left for right."),
        (Matrix44.scale(1, -1, 1) @ Matrix44.translate(0, 9, 0), "mirrored, top for bottom."),
        (
            Matrix44.scale(1, -1, 1) @ Matrix44.z_rotate(0.5),
            "mirrored, top for bottom, and turned by 28.6479° to the left.",
        ),
    ],
)
def test_a_part_turned_or_mirrored_in_another_program_is_told_as_such(done, said):
    found = reopen(transformed(dxf(list), done), "turned.dxf")
    assert any(f": the whole is {said}" in each for each in found.said), found.said
    told = json.loads(found.to_json())
    assert told["mirrored"] is ("mirrored" in said)
    assert bool(told["turned_deg"]) is ("turned" in said or "left for right" in said)


def test_a_turned_part_with_a_hole_moved_is_not_told_as_turned():
    found = reopen(transformed(dxf(shifted("CIRCLE", 10, 3.0)), Matrix44.z_rotate(math.pi / 2)), "x.dxf")
    assert found.edited
    assert not any("the whole" in each for each in found.said)


def test_an_svg_that_another_program_names_with_prefixes_is_back():
    """Parsed and written anew by the standard library, which gives every name its prefix."""
    part = parts.draw("plate-motor", width=190)
    assert_back(part, "svg", ElementTree.tostring(ElementTree.fromstring(part.to_svg().encode())))


def test_edits_of_svg_and_json_are_told_and_lengths_in_the_words_of_the_units():
    part = parts.draw("plate-base", units="in", thickness="1/4 in")
    svg, text = part.to_svg(), json.loads(part.to_json())
    line = svg.replace('<g id="OUTSIDE"', '<path d="M 1 1 L 40 1" stroke="#000" fill="none"/><g id="OUTSIDE"')
    assert reopen(line.encode(), "x.svg").edited is True
    wide = re.sub(r'width="([\d.]+)mm" height="([\d.]+)mm"', lambda m: f'width="{m[1]}in" height="{m[2]}in"', svg)
    assert "25.4 times as large" in reopen(wide.encode(), "x.svg").said[0]
    hole = next(loop for loop in text["loops"] if "circle" in loop)
    for segment in hole["segments"]:
        for end in ("start", "end"):
            segment[end][1] += 25.4
    found = reopen(json.dumps(text).encode(), "x.json")
    assert re.search(r"furthest off at [-\d., /]+ in, by [-\d./]+ in\.", found.said[0]), found.said[0]
    told = json.loads(found.to_json())
    assert {row["what"] for row in told["differences"]} == {"added", "missing"}
    assert told["differences"][0]["off_mm"] > 10


def test_another_version_is_said():
    data = library.part("gusset-triangle").to_svg().replace(f'"{parts.VERSION}"', '"0.0.9"').encode()
    assert reopen(data, "x.svg").said[0].startswith("It was written by Platewright 0.0.9, and this is ")


SVG = '<svg xmlns="http://www.w3.org/2000/svg"><metadata>{}</metadata></svg>'


def facts(**more):
    return json.dumps({"platewright_version": "0.1.0", "template": "gusset-triangle"} | more)


BOMB = b"%PDF-1.4\n1 0 obj\n<< /Filter /FlateDecode /Length 9 >>\nstream\n" + zlib.compress(bytes(20_000_000)) + b"\n"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "is empty"),
        (b"x" * 20_000_001, "more than 20 MB"),
        (b"hello", "is no file of a part: those that open again are DXF, SVG"),
        (b"\x89PNG\r\n\x1a\n\x00", "doesn't say what part it is of"),
        (b"%PDF-1.4\n/Subject (platewright_version=0.1", "is damaged"),
        (b"%PDF-1.4\n/Subject (" + b"(" * 200_000, "is damaged"),
        (BOMB, "doesn't say what part it is of"),
        (b"glTF\2\0\0\0", "is damaged"),
        (b"glTF" + b"\xff" * 40, "is damaged"),
        (b"[" * 100_000, "is no file of a part"),
        (b'{"a": ' * 100_000, "is damaged"),
        (b"{}", "doesn't say what part it is of"),
        (b'{"platewright_version": 1, "template": ["x"]}', "isn't text"),
        (b"ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('a", "doesn't say what part it is of"),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n", "no comment at its head names a template"),
        (b"999\nplatewright_version: 0.1.0\n999\ntemplate: gusset-triangle\n", "and no values"),
        (SVG.format("").encode(), "another program may have saved it since"),
        (SVG.format(facts(template="gusset-triangel", address="/parts/gusset-triangel")).encode(),
         "of a template that isn't here. There is no template called 'gusset-triangel'; did you mean gusset-triangle?"),
        (SVG.format(facts(template="own-drawing")).encode(), "a drawing of your own, checked: no template draws it"),
        (SVG.format(facts(address="/parts/plate-base?width=3")).encode(), "contradicts itself: its template is"),
        (SVG.format(facts(address="http://[/parts")).encode(), "its address can't be read"),
        (SVG.format(facts(address="/parts/gusset-triangle?leg_a=100", parameters={"leg_a": "120mm"})).encode(),
         "contradicts itself: leg_a is 100 in its address and 120mm in its list"),
        (SVG.format(facts(parameters={"leg_q": "1"})).encode(), "gives a value of leg_q, which gusset-triangle"),
        (SVG.format(facts(parameters={"leg_a": [1]})).encode(), "neither text nor numbers"),
        (SVG.format(facts(parameters=[1])).encode(), "what it says of its values can't be read"),
        (SVG.format(facts(parameters={str(i): "1" for i in range(501)})).encode(), "its values can't be read"),
        (SVG.format(facts(parameters={"leg_a": "1mm"})).encode(), "leg_a: 1mm: must be at least"),
        (SVG.format(facts(parameters={"leg_a": 1e999})).replace("Infinity", "1e999").encode(), "leg_a: inf"),
        (SVG.format(facts(parameters={"leg_a": "100mm"}, compensated="COMPENSATED for x")).encode(),
         "what it says of that can't be read"),
        (SVG.format(facts(address="/parts/gusset-triangle?leg_a=100")).replace("</svg>", "").encode(), "can't be read"),
    ],
)  # fmt: skip
def test_what_can_not_be_opened_is_refused_in_a_sentence(data, said, tmp_path, capsys):
    path = tmp_path / "file"
    path.write_bytes(data)
    assert main(["open", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert err.count("\n") <= 2
    assert "Traceback" not in err


@pytest.mark.parametrize("kind", CHEAP)
def test_a_file_cut_short_anywhere_is_opened_or_refused(kind):
    data = library.written("gusset-triangle", kind)
    for end in range(1, len(data), max(len(data) // 25, 1)):
        found, refusal = _opened(data[:end])
        assert bool(found) != refusal.endswith((".", "?"))
        if found:
            assert found.address == "/parts/gusset-triangle"
            assert kind not in COMPARED or found.edited, "what is lost of an outline is told"


def _opened(data):
    """What a file is opened as, or the sentence that refuses it."""
    try:
        return reopen(data, "cut short"), ""
    except parts.PartsError as error:
        return None, str(error)


def test_the_command_says_all_as_json(tmp_path, capsys):
    path = tmp_path / "g.dxf"
    path.write_bytes(dxf(shifted("CIRCLE", 10, 3.0)))
    assert main(["open", str(path), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["template"], found["edited"]) == ("gusset-triangle", True)
    assert (found["parameters"]["leg_a"], found["address"]) == (150.0, "/parts/gusset-triangle?leg_a=150mm&holes_a=2")
    assert main(["open", str(path)]) == 0
    said = capsys.readouterr().out
    assert f"as a drawing of your own: platewright check {path} --thickness 6mm" in said
    assert "draw it again: platewright draw gusset-triangle leg_a=150mm holes_a=2 -o FILE" in said
