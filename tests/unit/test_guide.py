"""The template in DEVELOPERS.md, put into the library as it stands: found everywhere, with no other edit."""

import importlib.util
import inspect
import json
import re
from itertools import groupby
from pathlib import Path

import pytest

import parts
from docs import templates_page
from parts.templates.gusset import triangle as gusset_triangle
from tests import added_template
from tests.added_template import SLUG, block
from webapp import cli, create_app

TITLE = "Drawbar wear plate"


@pytest.fixture(scope="module")
def before():
    """What the library holds without it."""
    return list(parts.templates())


@pytest.fixture
def added(before, tmp_path, monkeypatch):
    """The library with the template in a second folder."""
    with added_template.added(block(), tmp_path, monkeypatch):
        yield parts.templates()[SLUG]


def test_it_stands_among_its_family(added, before):
    slugs = list(parts.templates())
    assert sorted(slugs) == sorted([*before, SLUG])
    families = [family for family, _ in groupby(template.family for template in parts.templates().values())]
    assert len(families) == len(set(families))
    assert len(added.drawing.splitlines()) > 3


def test_it_has_pages_files_and_a_description(added):
    client = create_app().test_client()
    assert TITLE in client.get("/").text
    assert f'href="/parts/{SLUG}"' in client.get("/?q=drawbar").text
    page = client.get(f"/parts/{SLUG}?width=200")
    assert (page.status_code, "200 by 90 mm" in page.text) == (200, True)
    assert added.presets[1].name in page.text
    told = json.loads(client.get(f"/parts/{SLUG}.json?width=200").text)
    assert told["parameters"]["width"] == 200
    assert client.get(f"/parts/{SLUG}.dxf").data.startswith((b"  0", b"999"))
    description = client.get("/openapi.json").json
    assert f"/parts/{SLUG}.{{format}}" in client.get(f"/parts/{SLUG}/openapi.json").json["paths"]
    assert SLUG in description["components"]["parameters"]["template"]["schema"]["enum"]
    refused = client.get(f"/parts/{SLUG}.dxf?pin=90")
    assert refused.status_code == 422
    assert [problem["parameter"] for problem in refused.json["errors"]] == ["pin"]


def test_it_is_listed_and_drawn_by_the_command(added, capsys, tmp_path):
    cli.main(["list"])
    assert SLUG in capsys.readouterr().out
    cli.main(["list", "--json"])
    assert SLUG in capsys.readouterr().out
    assert not cli.main(["draw", SLUG, *added.presets[0].words.split(), "-o", str(tmp_path / "out.dxf")])
    assert (tmp_path / "out.dxf").stat().st_size > 1000


def test_it_is_documented(added):
    assert f"templates/{SLUG}.md" in templates_page.index()
    page = templates_page.page(added)
    assert "Weld holes in from the edges" in page
    assert f"({SLUG}.svg)" in page


def test_it_keeps_to_what_every_template_keeps_to(added):
    spec = importlib.util.spec_from_file_location("test_library_anew", Path(__file__).with_name("test_library.py"))
    anew = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(anew)
    assert anew.TEMPLATES[SLUG] is added
    anew.test_one_template_a_file_named_after_its_slug()
    checks = [check for name, check in vars(anew).items() if name.startswith("test_") and _of_a_template(check)]
    assert len(checks) >= 3
    for check in checks:
        check(added)


def _of_a_template(check):
    return list(inspect.signature(check).parameters) == ["template"]


def test_the_guide_shows_all_that_a_template_holds():
    """The same things at the top level as in a template of the library."""
    held = re.findall(r"^(?:class|def) (\w+)|^(TEMPLATE) =", block(), flags=re.M)
    assert [a or b for a, b in held] == ["PlateDrawbar", "outline", "dimensions", "TEMPLATE"]
    assert {"outline", "dimensions", "TEMPLATE"} <= set(vars(gusset_triangle))
