"""The description is valid, small and true: its addresses answer, its parameters draw, its answers are as it says."""

import io
import json
import re
from itertools import product

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import validate

import parts
from parts.export import FORMATS
from parts.spec import Parameters
from parts.truing import Errors
from tests import library
from tests.depth import some_of
from tests.web.mutated import READINGS
from tests.web.test_check import PLATE, dxf
from webapp import openapi

SLUGS = list(parts.templates())
LARGEST = 160_000
"""Bytes, however many templates there are."""
LIMITS = {"length": "x-mm", "angle": "x-degrees", "count": "x-count", "number": "x-number"}
OTHERS = {
    "/", "/healthz", "/openapi.json", "/check", "/check.json", "/open", "/trace", "/boltup", "/boltup.json",
    "/jobs", "/jobs/new", "/jobs/load", "/jobs/saved/forget", "/jobs/add/{slug}", "/jobs/drawing", "/jobs/{number}",
    "/jobs/{number}/compare", "/jobs/{number}/job.json", "/jobs/{number}/named", "/jobs/{number}/lines",
    "/jobs/{number}/undo", "/jobs/{number}/redo", "/jobs/{number}/back", "/jobs/{number}/archive",
    "/jobs/{number}/duplicate", "/jobs/{number}/sheets", "/jobs/{number}/sheets/stop", "/jobs/{number}/sheets/{name}",
    "/jobs/off-cuts", "/jobs/{number}/layout", "/jobs/{number}/layout/keep", "/jobs/{number}/layout/{name}",
    "/table", "/table/template.csv", "/table/{token}", "/table/{token}/files.zip", "/table/{token}/stop",
    "/table/{token}/job",
    "/shop", "/shop/{process}", "/shop/file", "/shop/file.toml", "/numbers", "/numbers.json",
    "/true", "/true.json", "/true/keep", "/true/sheet", "/true/sheet.pdf", "/true/sheet.toml",
    "/true/bend", "/true/bend/keep", "/true/bend/forget",
    "/true/history", "/true/history.csv", "/true/history/accept", "/true/history/load", "/true/history/{number}",
}  # fmt: skip


@pytest.fixture(scope="module")
def description():
    return json.loads(json.dumps(openapi.description()))


def found(description, ref):
    *_, kind, name = ref["$ref"].split("/")
    return description["components"][kind][name]


def spelled_out(description, address):
    """The addresses that a described one with names in braces stands for, where the names have a list of values."""
    asked = [found(description, each) if "$ref" in each else each for each in _get(description, address)]
    choices = {each["name"]: each["schema"]["enum"] for each in asked if each["in"] == "path"}
    names = re.findall(r"{(\w+)}", address)
    for values in product(*(choices[name] for name in names)):
        yield address.format(**dict(zip(names, values, strict=True)))


def _get(description, address):
    return description["paths"][address]["get"]["parameters"]


def parameters(schemas):
    """What a description says of the values of a part, by name."""
    together = dict(schemas["components"]["schemas"]["EveryPart"]["properties"])
    assert "entry" in together.pop("compensate")["description"], "which every address of a part takes besides"
    assert "one piece" in together.pop("piece")["description"]
    if together["form"].get("description", "").startswith("Of the solid of a bent part"):
        del together["form"]  # so do those of files, but where a template has a parameter of this name
    for name in ("shows", "number", "revision", "issued", "drawn_by", "approved_by"):
        if re.match("Of (files|the title block of a PDF) alone", together[name].get("description", "")):
            del together[name]  # and these
    return together


def test_it_is_valid_small_and_the_one_at_its_address(client, description):
    validate(description)
    answer = client.get("/openapi.json")
    assert answer.get_json() == description
    assert description["openapi"].startswith("3.1")
    assert len(answer.data) <= LARGEST
    assert answer.data.isascii()


def test_it_names_every_address(description):
    of_parts = [address for address in description["paths"] if address not in OTHERS]
    assert set(description["paths"]) - set(of_parts) == OTHERS
    endings = [
        "",
        "/remedies",
        "/remedies.json",
        "/openapi.json",
        "/pack.zip",
        "/setup.pdf",
        "/setup.json",
        "/view.json",
        "/view.svg",
        *(f".{kind}" for kind in FORMATS),
    ]
    every = [each for address in of_parts for each in spelled_out(description, address)]
    assert sorted(every) == sorted(f"/parts/{slug}{ending}" for slug in SLUGS for ending in endings)


def test_each_address_answers_to_the_methods_described(client, description):
    rules = {(rule.rule, method) for rule in client.application.url_map.iter_rules() for method in rule.methods}
    for address, path in description["paths"].items():
        for method in path:
            if address in OTHERS:
                asked = re.sub(
                    r"{(\w+)}", lambda name: "<int:number>" if name[1] == "number" else f"<{name[1]}>", address
                )
                assert (asked, method.upper()) in rules


def test_it_does_not_grow_with_the_library(description):
    """But by the names: what one template declares stands in its own."""
    said = json.dumps(description)
    assert [slug for slug in SLUGS if said.count(f'"{slug}"') > 1] == []
    assert "leg_a" not in said
    assert "leg_a" in json.dumps(openapi.description_of(parts.templates()["gusset-triangle"]))
    assert parameters(description).keys() == Parameters.specs().keys()


def test_every_template_has_a_description_that_declares_its_parameters():
    for slug, template in parts.templates().items():
        own = openapi.description_of(template)
        specs, described = template.parameters.specs(), parameters(own)
        assert described.keys() == specs.keys()
        assert set(own["paths"]) == {
            f"/parts/{slug}{ending}"
            for ending in (
                "",
                ".{format}",
                "/pack.zip",
                "/remedies",
                "/remedies.json",
                "/setup.{sheet}",
                "/view.{view}",
            )
        }
        for name, spec in specs.items():
            said = described[name]
            title = said.get("title", name.replace("_", " ").capitalize())
            assert (title, said["default"], said.get("description", "")) == (
                spec.label, spec.text(spec.default), spec.help,
            )  # fmt: skip
            assert said.get(LIMITS.get(spec.kind)) == ([spec.minimum, spec.maximum] if spec.kind in LIMITS else None)
            if spec.choices and not spec.is_bolt:
                assert said["enum"] == list(spec.choices)


def test_the_described_defaults_draw_the_default_part():
    """Of every fourth template, in a deep run of each."""
    for slug in some_of(16, SLUGS, first=3):
        own = {
            name: said["default"] for name, said in parameters(openapi.description_of(parts.templates()[slug])).items()
        }
        assert parts.draw(slug, **own).to_json() == library.written(slug, "json").decode()


def test_the_description_of_a_template_is_valid_and_at_its_address(client):
    answer = client.get("/parts/gusset-triangle/openapi.json")
    validate(answer.get_json())
    assert answer.get_json() == json.loads(json.dumps(openapi.description_of(parts.templates()["gusset-triangle"])))
    assert_every_component_is_used(answer.get_json())
    unknown = client.get("/parts/gusset-none/openapi.json")
    assert (unknown.status_code, [each["parameter"] for each in unknown.json["errors"]]) == (404, ["template"])


def test_every_component_has_a_use_and_a_name_of_its_own(description):
    assert_every_component_is_used(description)


def assert_every_component_is_used(description):
    used = set(re.findall(r'"#/components/(\w+/[^"]+)"', json.dumps(description)))
    assert used == {f"{kind}/{name}" for kind, held in description["components"].items() for name in held}
    assert len({name.lower() for name in description["components"]["schemas"]}) == len(
        description["components"]["schemas"]
    )


def check(description, model, text):
    """The answer is as the description says, and has nothing that it doesn't name."""
    schemas = {"components": {"schemas": description["components"]["schemas"]}}
    Draft202012Validator({"$ref": f"#/components/schemas/{model.__name__}", **schemas}).validate(json.loads(text))
    model.model_validate_json(text, strict=True)


@pytest.mark.parametrize("slug", some_of(16, SLUGS, first=3))
def test_a_part_is_as_described(description, slug):
    check(description, openapi.Part, library.written(slug, "json").decode())


def test_parts_with_findings_bends_drills_and_a_table_are_as_described(description):
    for slug, values in [
        ("plate-bumper", {"lamp_up": 198, "lamp_spacing": 1100, "thickness": 8, "hole": 13.5}),
        ("bracket-bent-angle", {"bend": "30", "bend_radius": 20}),
        ("gusset-triangle", {"holes_a": 2, "holes_b": 2, "small_holes": "drill", "thickness": "25 mm"}),
    ]:
        check(description, openapi.Part, parts.draw(slug, **values).to_json())
    compensated = parts.draw("square-test").compensated(Errors(scale_x=0.001), "Fernhollow table")
    check(description, openapi.Part, compensated.to_json())


@pytest.mark.parametrize("data", [PLATE, dxf("0\nLINE\n8\n0\n10\n0\n20\n0\n11\n50\n21\n0\n")], ids=["closed", "open"])
def test_a_drawing_of_ones_own_is_as_described(client, description, data):
    sent = {"file": (io.BytesIO(data), "plate.dxf"), "thickness": "6", "units": "mm"}
    answer = client.post("/check.json", data=sent)
    assert answer.status_code == 200
    check(description, openapi.Checked, answer.text)


@pytest.mark.parametrize("machine", ["", '[machine]\nname = "Fernhollow table"\nsteps_per_mm_x = 100.0\n'])
def test_what_readings_say_is_as_described(client, description, machine):
    answer = client.post("/true.json", data=machine + READINGS)
    assert answer.status_code == 200, answer.text
    check(description, openapi.Truing, answer.text)


def test_health_and_refusals_are_as_described(client, description):
    check(description, openapi.Health, client.get("/healthz").text)
    check(description, openapi.Refusal, client.get("/parts/gusset-triangle.json?toe=400").text)
    remedies = client.get("/parts/plate-bumper/remedies.json?lamp_up=198&lamp_spacing=1100&thickness=8&hole=13.5")
    check(description, openapi.Remedies, remedies.text)
