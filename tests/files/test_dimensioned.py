"""The dimensioned drawing as DXF and SVG: read back by ezdxf and as XML; what is cut stands as in the plain file."""

import io
import json
from xml.etree import ElementTree

import ezdxf
import pytest
from ezdxf.lldxf.tagwriter import TagCollector

import parts
from parts.export import FORMATS
from parts.packing import file_name
from parts.reopen import reopen
from tests import library
from tests.depth import some_of

LAYER = "DIMENSIONS"
SVG = "{http://www.w3.org/2000/svg}"


def read(part):
    return ezdxf.read(io.StringIO(part.file("dxf").decode("ascii")))


def geometry(document):
    """What stands off the layer of dimensions, each as its tags say it, without handles."""
    entities = [entity for entity in document.modelspace() if entity.dxf.layer != LAYER]
    return [[tag for tag in tags_of(entity) if tag[0] not in (5, 330)] for entity in entities]


def tags_of(entity):
    collector = TagCollector()
    entity.export_dxf(collector)
    return [(tag.code, tag.value) for tag in collector.tags]


@pytest.mark.parametrize("slug", some_of(3, library.SLUGS, 2))
def test_what_is_cut_is_as_in_the_plain_file(slug):
    part = library.part(slug)
    document = read(part.showing("drawing"))
    assert not document.audit().errors
    assert geometry(document) == geometry(read(part))
    assert part.showing("").file("dxf") == part.file("dxf"), "the plain file is what it was"


@pytest.mark.parametrize(("version", "units"), [("R2010", "mm"), ("R12", "in")])
def test_a_dimension_measures_what_it_says(version, units):
    """The base plate's own lengths, by the measurement that ezdxf reckons from the places of each DIMENSION."""
    part = parts.draw("plate-base", width="10in", height="6in", dxf_version=version, units=units)
    document = read(part.showing("drawing"))
    scale = 25.4 if units == "in" else 1.0
    measured = {
        each.dxf.text.split()[0]: each.get_measurement() * scale for each in document.modelspace().query("DIMENSION")
    }
    letters = part.record.template.letters
    for name in ("width", "height", "inset_x", "inset_y", "corner_radius"):
        assert measured[letters[name]] == pytest.approx(part.record.parameters[name], abs=1e-6), name
    assert {each.dxf.layer for each in document.modelspace().query("DIMENSION TEXT SOLID ARC")} == {LAYER}
    assert document.layers.has_entry(LAYER)
    assert document.layers.get(LAYER).is_on()
    assert part.showing("drawing").file("dxf") == part.showing("drawing").file("dxf"), "another file of the same part"


@pytest.mark.parametrize("kind", ["dxf", "svg"])
def test_a_drawing_opens_again(kind):
    part = parts.draw("plate-base", width="210 mm").showing("drawing")
    opened = reopen(part.file(kind), f"d.{kind}")
    assert opened.parameters["width"] == 210
    assert opened.edited is None
    assert file_name(part, kind).endswith(f"_drawing.{kind}")
    assert file_name(part.showing(""), kind) == file_name(part, kind).replace("_drawing", "")


def test_the_svg_is_black_on_nothing_and_says_what_it_is_of():
    part = parts.draw("plate-base").showing("drawing")
    root = ElementTree.fromstring(part.file("svg"))
    about = json.loads(root.find(f"{SVG}metadata").text)
    assert about["template"] == "plate-base"
    assert about["parameters"]["width"] == "200mm"
    assert root.get("width").endswith("mm")
    assert "currentColor" not in part.file("svg").decode()
    assert {text.text for text in root.iter(f"{SVG}text")} >= {"A 200", "B 200"}


def test_only_some_formats_show_a_drawing():
    assert [kind for kind, each in FORMATS.items() if "drawing" in (each.itself, *each.others)] == ["dxf", "svg", "pdf"]
    assert parts.draw("plate-base").showing("drawing").file("pdf") == parts.draw("plate-base").file("pdf")
    with pytest.raises(parts.Refused, match="take dxf or svg or pdf"):
        parts.draw("plate-base").showing("drawing").file("json")
