"""Every address of the page, and the command line: what they give, and how they refuse."""

import json

import pytest
from openapi_spec_validator import validate

import parts
from webapp import create_app
from webapp.cli import main

SLUGS = list(parts.templates())


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def assert_refusal(answer, status, parameter):
    assert answer.status_code == status
    errors = answer.get_json()["errors"]
    assert parameter in [error["parameter"] for error in errors]
    assert all(set(error) == {"parameter", "value", "message"} and error["message"] for error in errors)


@pytest.mark.parametrize("slug", SLUGS)
def test_every_template_has_its_page_and_files(client, slug):
    page = client.get(f"/parts/{slug}")
    assert page.status_code == 200
    assert "<script>" not in page.text
    assert " style=" not in page.text
    assert "default-src 'none'" in page.headers["Content-Security-Policy"]
    for kind in ("dxf", "svg", "pdf", "json"):
        answer = client.get(f"/parts/{slug}.{kind}")
        assert answer.status_code == 200
        assert f".{kind}" in answer.headers["Content-Disposition"]
    assert slug in client.get("/").text


def test_a_value_out_of_limits_is_refused_by_name(client):
    assert_refusal(client.get("/parts/gusset-triangle.json?toe=400"), 422, "toe")
    page = client.get("/parts/gusset-triangle?toe=400")
    assert page.status_code == 422
    assert 'value="400"' in page.text
    assert "must be at most 200 mm" in page.text


def test_a_repeated_an_unknown_and_an_overlong_value(client):
    assert_refusal(client.get("/parts/gusset-triangle.dxf?toe=1&toe=2"), 422, "toe")
    assert_refusal(client.get("/parts/gusset-triangle.dxf?tow=1"), 422, "tow")
    assert_refusal(client.get(f"/parts/gusset-triangle.dxf?toe={'9' * 500}"), 422, "toe")


def test_an_unknown_template(client):
    assert_refusal(client.get("/parts/nothing-here.dxf"), 404, "template")
    assert client.get("/parts/nothing-here").status_code == 404


def test_the_search_narrows_the_catalogue(client):
    text = client.get("/?q=knee").text
    assert "gusset-triangle" in text
    assert "plate-bumper" not in text


def test_health_and_description(client):
    assert client.get("/healthz").get_json()["status"] == "ok"
    description = client.get("/openapi.json").get_json()
    validate(description)
    assert {f"/parts/{slug}.dxf" for slug in SLUGS} <= set(description["paths"])


def test_draw_writes_a_file(tmp_path, capsys):
    target = tmp_path / "g.dxf"
    assert main(["draw", "gusset-triangle", "leg_a=4in", "-o", str(target)]) == 0
    assert target.read_text() == parts.draw("gusset-triangle", leg_a="4in").to_dxf()
    assert capsys.readouterr().err == ""


def test_a_stop_finding_keeps_the_file_back_unless_told(tmp_path, capsys):
    target = tmp_path / "g.dxf"
    asked = ["draw", "gusset-triangle", "leg_a=150", "leg_b=150", "holes_a=1", "bolt=M5", "-o", str(target)]
    assert main(asked) == 1
    assert not target.exists()
    assert "stop: hole-to-thickness" in capsys.readouterr().err
    assert main([*asked, "--even-so"]) == 1
    assert target.exists()


def test_a_wrong_request_is_a_line_a_parameter(tmp_path, capsys):
    target = tmp_path / "g.dxf"
    assert main(["draw", "gusset-triangle", "toe=400", "leg_a=1,5", "-o", str(target)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert [line.split(":")[0] for line in lines] == ["leg_a", "toe"]
    assert not target.exists()


def test_list_as_json(capsys):
    assert main(["list", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert [entry["slug"] for entry in listed] == SLUGS
    keys = {"name", "kind", "default", "minimum", "maximum", "choices", "unit", "help"}
    assert all(set(parameter) == keys for entry in listed for parameter in entry["parameters"])
