"""Templates declared wrongly, or that can't be loaded at all: told by name and field, and no other template suffers."""

import json

import pytest

import parts
from parts.errors import DeclarationError
from parts.templates import broken, modules, template
from tests.added_template import SLUG, added, block
from tests.depth import every_other
from webapp import cli, create_app

PIN = 'group="Holes", help="The pin plus 2 mm."'
BOLT = 'bolt: str = bolt("Weld holes", default="M12", diameter="hole")'
CLASS_DOC = '"""A plate for one pin, welded all round and through its corners."""'

SLIPS = [
    (PIN, f'{PIN}, when=("boltt", "M12")', "pin: when", "names 'boltt', which is no parameter of it"),
    (PIN, f'{PIN}, when=("bolt", "M11")', "pin", "its when has 'M11', which isn't a choice of bolt: by-diameter, "),
    (PIN, f'{PIN}, when=("width", "wide")', "pin", "its when has words for width, which isn't a choice"),
    (PIN, f'{PIN}, when=("inset", "3")', "pin", "its when has 3 for inset, which is never that many"),
    ('diameter="hole"', 'diameter="hol"', "bolt: diameter", "names 'hol', which is no parameter of it"),
    (CLASS_DOC, f'{CLASS_DOC}\n    leading = ("widht",)', "leading", "names 'widht', which is no parameter of it"),
    (CLASS_DOC, f'{CLASS_DOC}\n    shared_when = {{"fitt": ("bolt",)}}', "shared_when", "names 'fitt', which is no"),
    (
        "maximum=150, group",
        'maximum=150, moves="often", group',
        "pin",
        "its moves 'often' is none of free, care, never",
    ),
    ("default=160", "default=1600", "width", "its default 1600.0 lies outside its limits, 60 to 600"),
    ('default="M12"', 'default="M11"', "bolt", "its default 'M11' isn't one of its choices: by-diameter, "),
    ('length("Height"', 'length("Width"', "height", "is called “Width” in “Outline”, and so is width"),
    ('("drawbar", "wear plate", "towing eye", "pin")', '"drawbar"', "words", "must be a tuple of str, such as (a, b)"),
    ("thickness=8 pin=42", "thikness=8 pin=42", "presets", "“Workshop trailer” sets 'thikness', which is no parameter"),
    ("thickness=8 pin=42", "thickness 8", "presets", "“Workshop trailer” has 'thickness', which isn't name=value"),
    ('"plate-drawbar"', '"plate-drawbra"', "slug", "is 'plate-drawbra', and the file is that of 'plate-drawbar'"),
    ('    "Drawbar wear plate",\n', '    "",\n', "title", "is empty"),
    ("    PlateDrawbar,\n", "    PlateDrawbar(),\n", "parameters", "must be a subclass of Parameters"),
]


@pytest.mark.parametrize(("right", "wrong", "field", "message"), SLIPS, ids=[slip[2] + slip[3][:24] for slip in SLIPS])
def test_a_slip_is_told_when_the_template_is_loaded(right, wrong, field, message, tmp_path, monkeypatch):
    assert block().count(right) >= 1
    with added(block().replace(right, wrong, 1), tmp_path, monkeypatch):
        with pytest.raises(DeclarationError) as told:
            template(SLUG)
        assert (told.value.slug, told.value.field) == (SLUG, field)
        assert str(told.value).startswith(f"The template {SLUG} can't be used: {field}: ")
        assert told.value.message.startswith(message)


def test_a_style_that_isnt_one_is_told_where_it_is_drawn(tmp_path, monkeypatch):
    with added(block().replace('"diameter")\n    if r', '"diametre")\n    if r'), tmp_path, monkeypatch):
        said = (
            f"The template {SLUG} can't be used: the dimension of pin: has the style 'diametre', which isn't one of "
            "below, above, left, right, along, radius, diameter."
        )
        with pytest.raises(DeclarationError) as told:
            parts.draw(SLUG)
        assert str(told.value) == said
        client = create_app().test_client()
        assert f'data-slug="{SLUG}"' in client.get("/").text
        page = client.get(f"/parts/{SLUG}")
        assert page.status_code == 500
        assert "the dimension of pin" in page.text


BROKEN = [
    ("raise RuntimeError('no such table')", "module: RuntimeError: no such table."),
    ("import parts.nowhere", "module: ModuleNotFoundError: No module named 'parts.nowhere'."),
    ("def outline(:\n", "module: line 1: invalid syntax."),
    ('"""Nothing here."""\n', "TEMPLATE: must be a Template."),
]


@pytest.mark.parametrize(("text", "why"), every_other(BROKEN), ids=lambda text: text[:12])
def test_a_broken_module_refuses_itself_alone(text, why, tmp_path, monkeypatch, capsys):
    others = list(parts.templates())
    said = f"The template {SLUG} can't be used: {why}"
    with added(text, tmp_path, monkeypatch):
        assert SLUG in modules()
        assert list(parts.templates()) == others
        assert broken() == {SLUG: said}
        client = create_app().test_client()
        catalogue = client.get("/")
        assert (catalogue.status_code, catalogue.text.count(f"The template {SLUG}")) == (200, 1)
        assert catalogue.text.count("data-slug=") == len(others)
        assert f"The template {SLUG}" in client.get(f"/parts/{SLUG}").text
        file = client.get(f"/parts/{SLUG}.dxf")
        assert file.status_code == 500
        assert file.json == {"errors": [{"parameter": "template", "value": SLUG, "message": said}]}
        assert client.get("/parts/plate-base").status_code == 200
        assert client.get("/openapi.json").status_code == 200
        assert cli.main(["draw", SLUG, "-o", str(tmp_path / "out.dxf")]) == 2
        assert capsys.readouterr().err == f"{said}\n"
        assert not cli.main(["list", "--json"])
        listed = capsys.readouterr()
        assert [entry["slug"] for entry in json.loads(listed.out)] == others
        assert listed.err == f"{said}\n"


def test_a_mended_module_is_there_again(tmp_path, monkeypatch):
    with added("raise RuntimeError", tmp_path, monkeypatch):
        with pytest.raises(DeclarationError):
            template(SLUG)
        (tmp_path / "drawbar.py").write_text(block(), encoding="utf-8")
        assert template(SLUG).slug == SLUG


def test_nothing_in_the_library_is_broken():
    assert broken() == {}
