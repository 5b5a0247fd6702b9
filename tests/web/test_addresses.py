"""Every address: what it gives, with which headers, and how it refuses."""

import pytest
from jsonschema import Draft202012Validator

import parts
from parts.errors import GeometryError
from parts.export import FORMATS
from tests import library
from tests.depth import DEEP, some_of
from tests.strategies import DEAR
from tests.web.refusals import assert_refusal

SLUGS = list(parts.templates())
MIMETYPES = {
    "dxf": "image/vnd.dxf",
    "svg": "image/svg+xml",
    "pdf": "application/pdf",
    "step": "model/step",
    "json": "application/json",
}
GUSSET = "/parts/gusset-triangle"


FEWER = some_of(13, SLUGS, first=3)


@pytest.mark.parametrize("slug", FEWER)
def test_a_file_is_what_the_library_writes(client, slug):
    """In an everyday run every fifth template in one format, the next in another."""
    kinds, at = sorted(FORMATS.keys() - {"step"}), FEWER.index(slug)
    for kind in kinds if DEEP else [kinds[at % len(kinds)]]:
        answer = client.get(f"/parts/{slug}.{kind}")
        assert (answer.status_code, answer.mimetype) == (200, FORMATS[kind].mime_type)
        assert answer.data == library.written(slug, kind), kind


def test_the_formats_that_others_rely_on_keep_their_types():
    assert {kind: each.mime_type for kind, each in FORMATS.items()}.items() >= MIMETYPES.items()


@pytest.mark.parametrize("ending", ["DXF", "Dxf", "JSON", "Svg"])
def test_an_ending_is_read_in_any_case(client, ending):
    answer = client.get(f"{GUSSET}.{ending}?leg_a=4in")
    assert (answer.status_code, answer.mimetype) == (200, FORMATS[ending.lower()].mime_type)
    assert answer.data == client.get(f"{GUSSET}.{ending.lower()}?leg_a=4in").data
    assert_refusal(client.get(f"{GUSSET}.{ending}?toe=400"), 422, "toe")


def test_the_address_alone_makes_the_solid(client):
    answer = client.get(f"{GUSSET}.step?leg_a=4in")
    assert (answer.status_code, answer.mimetype) == (200, "model/step")
    assert answer.data.startswith(b"ISO-10303-21;")
    assert 'filename="gusset-triangle_101.6x100_6mm.step"' in answer.headers["Content-Disposition"]


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("", "gusset-triangle_100x100_6mm_mm.dxf"),
        ("dxf_version=R12", "gusset-triangle_100x100_6mm_R12_mm.dxf"),
        ("units=in&leg_a=4&leg_b=6-1/2&thickness=1/4", "gusset-triangle_4x6.5_0.25in_in.dxf"),
        ("units=in&leg_a=4&leg_b=4&thickness=16ga&dxf_version=R12", "gusset-triangle_4x4_0.06in_R12_in.dxf"),
    ],
)
def test_the_file_name_says_size_thickness_and_units(client, asked, name):
    answer = client.get(f"{GUSSET}.dxf?{asked}")
    assert answer.headers["Content-Disposition"] == f'attachment; filename="{name}"'


def test_a_file_is_asked_for_again_only_when_it_changed(client):
    first = client.get(f"{GUSSET}.dxf")
    assert first.headers["Cache-Control"] == "no-cache"
    again = client.get(f"{GUSSET}.dxf", headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    other = client.get(f"{GUSSET}.dxf?toe=13", headers={"If-None-Match": first.headers["ETag"]})
    assert other.status_code == 200


def test_a_part_with_a_stop_finding_is_still_given(client):
    assert client.get(f"{GUSSET}.dxf?holes_a=1&bolt=M5").status_code == 200


@pytest.mark.parametrize("address", ["/", GUSSET, f"{GUSSET}.dxf", "/healthz", "/static/live.js", "/nowhere"])
def test_every_answer_carries_the_policy(client, address):
    with client.get(address) as answer:
        headers = answer.headers
    policy = dict(part.strip().split(" ", 1) for part in headers["Content-Security-Policy"].split(";"))
    assert policy.pop("default-src") == policy.pop("base-uri") == policy.pop("frame-ancestors") == "'none'"
    assert policy.pop("img-src") == "'self' blob:", "a picture of the drawing is made from it in the browser"
    assert set(policy.values()) == {"'self'"}
    assert {"script-src", "style-src", "font-src", "connect-src", "form-action"} == set(policy)
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"


def test_health(client):
    assert client.get("/healthz").get_json() == {"status": "ok", "version": parts.VERSION}


BAD = "/parts/plate-bumper/remedies.json?lamp_up=198&lamp_spacing=1100&thickness=8&hole=13.5"


def test_the_remedies_are_answered_as_described(client):
    answer = client.get(BAD).get_json()
    description = client.get("/openapi.json").get_json()
    schemas = {"components": {"schemas": description["components"]["schemas"]}}
    Draft202012Validator({"$ref": "#/components/schemas/Remedies", **schemas}).validate(answer)
    mended = {remedy["rule"]: remedy for remedy in answer["remedies"]}
    assert answer["without"] == []
    change = {"parameter": "lamp_up", "label": "Lamp centres up", "before": "198 mm", "after": "197 mm",
              "old": "198mm", "new": "197mm"}  # fmt: skip
    bridge = mended["bridge-width"]
    assert (bridge["sentence"], bridge["changes"]) == ("Lamp centres up: 198 mm → 197 mm", [change])
    after = client.get(bridge["address"].replace("/parts/plate-bumper", BAD.split("?")[0])).get_json()
    assert "bridge-width" not in [remedy["rule"] for remedy in after["remedies"]] + after["without"]


@pytest.mark.parametrize("slug", some_of(32, [slug for slug in SLUGS if DEEP or slug not in DEAR]))
def test_a_part_in_order_has_no_remedies(client, slug):
    found = {finding.rule for finding in library.part(slug).findings if finding.severity != "note"}
    answer = client.get(f"/parts/{slug}/remedies.json").get_json()
    assert {remedy["rule"] for remedy in answer["remedies"]} | {*answer["without"]} == found


def test_remedies_of_what_cant_be_drawn_are_refused_by_name(client):
    assert_refusal(client.get(f"{GUSSET}/remedies.json?toe=400"), 422, "toe")
    assert_refusal(client.get(f"{GUSSET}/remedies.json?tow=4"), 422, "tow")
    assert_refusal(client.get(f"{GUSSET}/remedies.json?toe=4&toe=5"), 422, "toe")
    assert_refusal(client.get("/parts/nothing/remedies.json"), 404, "template")


@pytest.mark.parametrize(
    ("asked", "parameter"),
    [
        ("toe=201", "toe"),
        ("toe=-1", "toe"),
        ("toe=", "toe"),
        ("toe=4,5", "toe"),
        ("toe=1&toe=2", "toe"),
        ("toe=1&toe=1", "toe"),
        ("tow=1", "tow"),
        ("slug=1", "slug"),
        ("self=1", "self"),
        ("material=wood", "material"),
        ("material=stainless-steel&process=oxy-fuel", "material"),
        (f"toe={'9' * 201}", "toe"),
        ("&".join(f"p{i}={'1' * 190}" for i in range(50)), "address"),
        ("%00=%FF", "\0"),
    ],
    ids=lambda text: text[:24],
)
@pytest.mark.parametrize("kind", ["dxf", "json"])
def test_a_wrong_request_is_refused_by_name(client, kind, asked, parameter):
    assert_refusal(client.get(f"{GUSSET}.{kind}?{asked}"), 422, parameter)


def test_every_wrong_value_is_named_at_once(client):
    errors = assert_refusal(client.get(f"{GUSSET}.json?toe=400&leg_a=1,5&bolt=M99"), 422, "toe")
    assert [error["parameter"] for error in errors] == ["leg_a", "toe", "bolt"]
    assert errors[1] == {"parameter": "toe", "value": "400", "message": "must be at most 200 mm."}


def test_at_the_limit_is_drawn(client):
    assert client.get(f"{GUSSET}.json?toe=200&leg_a=300&leg_b=300").status_code == 200


def test_the_parameter_called_like_the_routes_own_word(client):
    assert_refusal(client.get(f"{GUSSET}.dxf?kind=svg"), 422, "kind")


def test_a_part_that_a_format_can_not_show_is_refused_with_the_reason(client, monkeypatch):
    def write(record):
        raise GeometryError("The part can't be folded: bend line 1 doesn't part it. Take form=flat.")

    monkeypatch.setattr("parts.export.dxf.write", write)
    assert_refusal(client.get(f"{GUSSET}.dxf"), 422, "format")
