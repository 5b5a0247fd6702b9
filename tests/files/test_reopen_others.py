"""Files of Platewright's after other programs had them: ezdxf, pypdf, OpenCASCADE, optimisers of SVG; forged ones."""

import io
import json
import re

import ezdxf
import pytest
from ezdxf.math import Matrix44
from pypdf import PdfReader, PdfWriter

import parts
from parts.export import FORMATS
from parts.reopen import reopen
from tests import library
from tests.depth import DEEP, some_of
from tests.files.test_reopen import CHEAP, assert_back
from tests.strategies import DEAR

VALUES = {"holes_a": 2, "leg_a": 150}
ADDRESS = "/parts/gusset-triangle?leg_a=150mm&holes_a=2"
SAME = "Its outline is as these values draw it."
MM_PER_IN = 25.4


def part(**more):
    return library.part("gusset-triangle", **VALUES, **more)


def saved(change=lambda document: None, **more):
    """The DXF as ezdxf saves it, changed before that."""
    document = ezdxf.read(io.StringIO(part(**more).to_dxf()))
    change(document)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def each(matrix, unit=None):
    def change(document):
        for entity in document.modelspace():
            entity.transform(matrix)
        if unit is not None:
            document.header["$INSUNITS"] = unit

    return change


def exploded(document):
    for entity in document.modelspace().query("LWPOLYLINE"):
        entity.explode()


def backwards(document):
    layout = document.modelspace()
    for entity in reversed(list(layout)):
        layout.unlink_entity(entity)
        layout.add_entity(entity)
    layers = document.layers
    for name in ("INSIDE", "OUTSIDE"):
        layer = layers.get(name)
        layers.entries.pop(layers.key(name))
        layers.entries[layers.key(name)] = layer


def on_one_layer(document):
    for entity in document.modelspace():
        entity.dxf.layer = "0"


def of_inches(document):
    document.header["$INSUNITS"] = 1


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda document: None, SAME),
        (backwards, SAME),
        (exploded, SAME),
        (each(Matrix44.scale(1 / MM_PER_IN, 1 / MM_PER_IN, 1), unit=1), SAME),
        (each(Matrix44.translate(5, 7, 0)), "the whole is moved by 5 mm in x and 7 mm in y"),
        (each(Matrix44.scale(MM_PER_IN, MM_PER_IN, 1)), "the whole is 25.4 times as large"),
        (of_inches, "the whole is 25.4 times as large"),
        (on_one_layer, "its lines are where they should be, on other layers or none"),
        (each(Matrix44.z_rotate(0.3)), "the whole is turned by 17.1887° to the left"),
    ],
    ids=["saved", "order", "exploded", "in inches", "moved", "scaled", "units", "layer", "turned"],
)
def test_a_dxf_that_another_program_saved(change, said):
    found = reopen(saved(change), "theirs.dxf")
    assert said in found.said[0]
    assert (found.edited, found.address) == (said != SAME, ADDRESS)
    assert found.edited is False or "take it as a drawing of your own" in found.said[-1]


def test_an_r12_saved_again_has_lost_what_it_said_and_that_is_told():
    data = saved(dxf_version="R12")
    with pytest.raises(parts.Unreadable, match="another program may have saved it since"):
        reopen(data, "theirs.dxf")
    assert reopen(part(dxf_version="R12").to_dxf().encode(), "ours.dxf").edited is False


def test_what_two_places_in_a_dxf_say_is_what_its_comments_say():
    """Another tool's outline under our marks; then the comments of one part over the properties of another."""
    head = part().to_dxf().partition("  0\nSECTION")[0]
    other = library.part("plate-base").to_dxf().partition("  0\nSECTION")
    found = reopen((head + other[1] + other[2]).encode(), "mixed.dxf")
    assert (found.edited, found.address) == (True, ADDRESS)
    assert "aren't drawn by them" in found.said[0]


@pytest.mark.parametrize(
    ("pattern", "said"),
    [
        (r"(?s)<metadata>.*?</metadata>| id=\"[^\"]*\"|<title>.*?</title>", None),
        (r" id=\"[^\"]*\"", "on other layers or none"),
        (r"<title>.*?</title>|\n", SAME),
    ],
    ids=["all", "ids", "blanks"],
)
def test_an_svg_that_was_made_smaller(pattern, said):
    data = re.sub(pattern, "", part().to_svg()).encode()
    if said is None:
        with pytest.raises(parts.Unreadable, match="nothing in it names a template"):
            reopen(data, "small.svg")
        return
    assert said in reopen(data, "small.svg").said[0]


def pdf(write):
    writer, stream = write(PdfReader(io.BytesIO(part().file("pdf")))), io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def pages_alone(reader):
    writer = PdfWriter()
    for sheet in reader.pages:
        writer.add_page(sheet)
    return writer


def test_a_pdf_that_another_program_saved():
    assert reopen(pdf(lambda reader: PdfWriter(clone_from=reader)), "theirs.pdf").address == ADDRESS
    with pytest.raises(parts.Unreadable, match="The address in its title block opens the part"):
        reopen(pdf(pages_alone), "pages.pdf")


STEP = f"""ISO-10303-21;
HEADER;
FILE_DESCRIPTION(('platewright_version: 1'),'2;1');
FILE_NAME('a','b',(''),(''),'c','d','e');
ENDSEC;
DATA;
#7 = PRODUCT('gusset-triangle','Triangular gusset',
  '{ADDRESS}',(#8));
"""


def test_a_step_whose_header_another_program_wrote_is_known_by_its_product():
    """In an everyday run as it would be; in a deep one as the solid modeller wrote it."""
    text = part().to_step().decode() if DEEP else STEP
    data = re.sub(r"FILE_DESCRIPTION\(.*?;\s*FILE_NAME", "FILE_DESCRIPTION((''),'2;1');\nFILE_NAME", text, flags=re.S)
    found = reopen(data.encode(), "theirs.step")
    assert found.address == ADDRESS
    assert found.said[0].startswith("Another program wrote it anew")
    with pytest.raises(parts.Unreadable, match="nothing in it names a template"):
        reopen(re.sub(r"PRODUCT\('[^']*'", "PRODUCT('Shape'", data).encode(), "bare.step")


def forged(**more):
    return json.dumps(json.loads(part().to_json()) | more).encode()


EMPTY_ARC = {"side": "outside", "segments": [{"kind": "arc", "start": [0, 0], "end": [0, 0]}]}


@pytest.mark.parametrize(
    ("lies", "said"),
    [
        ({"template": "gusset-quadrangle"}, "of a template that isn't here"),
        ({"parameters": {"leg_a": {"a": 1}}}, "neither text nor numbers"),
        ({"parameters": None}, "can't be read"),
        ({"parameters": {"leg_a": "9" * 100_000}}, "contradicts itself"),
        ({"loops": 7}, "aren't as they were written"),
        ({"loops": [EMPTY_ARC]}, "aren't as they were written"),
        ({"address": 7}, "isn't text"),
        ({"address": f"{ADDRESS}&leg_a=10mm"}, "contradicts itself"),
    ],
    ids=["template", "nested", "none", "long", "loops", "arc", "address", "twice"],
)
def test_what_is_forged_is_refused_in_a_sentence(lies, said):
    assert_refused(forged(**lies), said)


def test_a_number_without_end_and_a_nest_without_bottom_are_refused():
    assert_refused(b'{"a":' * 5000, "is damaged")
    assert_refused(part().to_json().replace("150.0", "1" + "0" * 5000).encode(), "is damaged")


def assert_refused(data, said):
    with pytest.raises(parts.PartsError, match=said) as refusal:
        reopen(data, "forged.json")
    assert len(str(refusal.value)) < 400


@pytest.mark.parametrize("version", ["0.0.1", "99.0"])
def test_of_another_version_it_is_said(version):
    found = reopen(forged(platewright_version=version), "old.json")
    assert found.said[0].startswith(f"It was written by Platewright {version}")
    assert found.address == ADDRESS


PRESETS = [
    (slug, preset) for slug, of in parts.templates().items() if DEEP or slug not in DEAR for preset in of.presets
]


@pytest.mark.parametrize(("slug", "preset"), some_of(2, PRESETS, 5), ids=lambda each: getattr(each, "name", each))
def test_a_preset_is_back_from_every_format(slug, preset):
    made = parts.draw(slug, **preset.values)
    for kind in FORMATS if DEEP else CHEAP:
        assert_back(made, kind, data if isinstance(data := made.file(kind), bytes) else data.encode())
