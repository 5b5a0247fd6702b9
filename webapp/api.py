"""What programs ask for: whether the server is well, and the description of every address."""

from typing import Any, TypeAlias

from flask import Blueprint

import parts
from parts.cutting import PROCESSES
from parts.export import FORMATS
from parts.spec import Parameters, Spec, Template
from webapp.forms import WAS
from webapp.openapi.truing import COMPENSATED, truing_paths

bp = Blueprint("api", __name__)

Json: TypeAlias = dict[str, Any]

_TEXT: Json = {"type": "string"}
_PROBLEM: Json = {
    "type": "object",
    "required": ["parameter", "value", "message"],
    "properties": {"parameter": _TEXT, "value": _TEXT, "message": _TEXT},
}
_REFUSAL: Json = {
    "type": "object",
    "required": ["errors"],
    "properties": {"errors": {"type": "array", "items": {"$ref": "#/components/schemas/Problem"}}},
}
_CHANGE: Json = {
    "type": "object",
    "description": "A parameter, its value before and after as they are said, and both as text that reads back exactly",
    "required": ["parameter", "label", "before", "after", "old", "new"],
    "properties": dict.fromkeys(("parameter", "label", "before", "after", "old", "new"), _TEXT),
}
_REMEDY: Json = {
    "type": "object",
    "required": ["rule", "sentence", "changes", "address", "link"],
    "properties": {
        "rule": _TEXT,
        "sentence": _TEXT,
        "changes": {"type": "array", "items": {"$ref": "#/components/schemas/Change"}},
        "address": {**_TEXT, "description": "The page of the part with the remedy taken"},
        "link": {
            "type": "object",
            "description": "What the page says, and the values it sets in its form",
            "required": ["text", "values"],
            "properties": {"text": _TEXT, "values": {"type": "object", "additionalProperties": _TEXT}},
        },
    },
}
_REMEDIES: Json = {
    "type": "object",
    "required": ["remedies", "without"],
    "properties": {
        "remedies": {"type": "array", "items": {"$ref": "#/components/schemas/Remedy"}},
        "without": {"type": "array", "items": _TEXT, "description": "Rules with a stop or a warn and no remedy"},
    },
}
_HEALTH: Json = {
    "type": "object",
    "required": ["status", "version"],
    "properties": {"status": {"const": "ok"}, "version": _TEXT},
}


@bp.get("/healthz")
def healthz() -> dict[str, str]:
    """Answer that the server is up."""
    return {"status": "ok", "version": parts.VERSION}


@bp.get("/openapi.json")
def openapi() -> Json:
    """Describe every address, made from the templates' own declarations."""
    templates = parts.templates().values()
    paths: Json = {
        "/": {"get": _operation("catalogue", "The catalogue of templates", [_search()], _page())},
        "/healthz": {"get": _operation("health", "Whether the server is up", [], _json("Health"))},
        "/openapi.json": {"get": _operation("description", "This description", [], {"application/json": {}})},
    }
    paths |= _check_paths() | _shop_paths() | truing_paths()
    for template in templates:
        paths |= _paths(template)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Platewright",
            "version": parts.VERSION,
            "summary": "Sheet and plate parts from their dimensions. An address alone makes the page or the file.",
        },
        "paths": paths,
        "components": {
            "parameters": {
                _key(template, spec): _parameter(spec)
                for template in templates
                for spec in template.parameters.specs().values()
            },
            "schemas": {
                "Problem": _PROBLEM,
                "Refusal": _REFUSAL,
                "Change": _CHANGE,
                "Remedy": _REMEDY,
                "Remedies": _REMEDIES,
                "Health": _HEALTH,
            },
            "responses": {"Refused": {"description": "The values can't be drawn", "content": _json("Refusal")}},
        },
    }


def _paths(template: Template) -> Json:
    """The pages, the remedies and the files of a template."""
    slug = template.slug
    asked = [
        {"$ref": f"#/components/parameters/{_key(template, spec)}"} for spec in template.parameters.specs().values()
    ]
    pages = {"": "the page", "/remedies": "the page, with what would mend each finding"}
    paths: Json = {}
    for ending, summary in pages.items():
        page = _operation(f"{slug}{ending}", f"{template.title}: {summary}", [*asked, _was(), COMPENSATED], _page())
        page["responses"]["422"] = {"description": "The page, with a sentence at each field", "content": _page()}
        paths[f"/parts/{slug}{ending}"] = {"get": page}
    remedies = _operation(
        f"{slug}/remedies.json", f"{template.title}: the change that mends each finding", [*asked, _was()],
        _json("Remedies"),
    )  # fmt: skip
    remedies["responses"]["422"] = {"$ref": "#/components/responses/Refused"}
    paths[f"/parts/{slug}/remedies.json"] = {"get": remedies}
    for kind, each in FORMATS.items():
        of_one = [*asked, COMPENSATED] if each.compensable else asked
        file = _operation(f"{slug}.{kind}", f"{template.title} as {kind.upper()}", of_one, {each.mime_type: {}})
        file["responses"]["422"] = {"$ref": "#/components/responses/Refused"}
        paths[f"/parts/{slug}.{kind}"] = {"get": file}
    return paths


def _check_paths() -> Json:
    """The page that checks a drawing of someone's own, and the same for programs."""
    specs = Parameters.specs().values()
    fields: Json = {spec.name: _parameter(spec)["schema"] | {"description": spec.label} for spec in specs}
    del fields["thickness"]["default"]
    fields["units"] = {"enum": ["mm", "in"], "description": "Of the drawing, where its file doesn't say"}
    fields["file"] = {"type": "string", "contentMediaType": "application/octet-stream", "description": "DXF or SVG"}
    form: Json = {"type": "object", "required": ["file", "thickness"], "properties": fields}
    body: Json = {"required": True, "content": {"multipart/form-data": {"schema": form}}}
    too_large: Json = {"description": "More was sent than a drawing may have"}
    page = _operation("check", "What was found in a drawing of your own: the page", [], _page())
    page |= {"requestBody": body}
    page["responses"] |= {"422": {"description": "The page, with a sentence at each field", "content": _page()}}
    answer: Json = {"application/json": {"schema": {"type": "object"}}}
    found = _operation("check.json", "What was found in a drawing of your own, with what was healed", [], answer)
    found |= {"requestBody": body}
    found["responses"] |= {"422": {"$ref": "#/components/responses/Refused"}}
    for post in (page, found):
        post["responses"] |= {"413": too_large}
    form_page = _operation("check-form", "The form to choose a drawing of your own", [], _page())
    return {"/check": {"get": form_page, "post": page}, "/check.json": {"post": found}}


def _shop_paths() -> Json:
    """The pages of the shop's own numbers, which their own forms change."""
    process: Json = {"name": "process", "in": "path", "required": True, "schema": {"enum": list(PROCESSES)}}
    units: Json = {"name": "units", "in": "query", "description": "Of bare numbers: mm or in", "schema": _TEXT}
    group: Json = {"name": "group", "in": "query", "description": "The materials of the chart", "schema": _TEXT}
    file = _operation("shop.toml", "The file of the shop's own numbers", [], {"application/toml": {}})
    machine, chart = [units], [process, group, units]
    return {
        "/shop": {
            "get": _operation("shop", "The bed and the machine: the page", machine, _page()),
            "post": _form("save-shop", "What is typed on that page, saved", machine),
        },
        "/shop/{process}": {
            "get": _operation("process", "A process: the page", chart, _page()),
            "post": _form("save-process", "What is typed on that page, saved", chart),
        },
        "/shop/file": {"post": _form("replace-shop", "A TOML file in the place of the shop's own", [])},
        "/shop/file.toml": {"get": file},
    }


def _form(name: str, summary: str, asked: list[Json]) -> Json:
    """A form that only the page itself may send."""
    answers = {
        "303": "Saved; to the page",
        "403": "Not sent by the page itself",
        "409": "The file has changed since",
        "422": "The page, with a sentence at each field; nothing saved",
    }
    return {
        "operationId": name,
        "summary": summary,
        "parameters": asked,
        "responses": {status: {"description": text} for status, text in answers.items()},
    }


def _operation(name: str, summary: str, asked: list[Json], content: Json) -> Json:
    return {
        "operationId": name,
        "summary": summary,
        "parameters": asked,
        "responses": {"200": {"description": summary, "content": content}},
    }


def _page() -> Json:
    return {"text/html": {"schema": _TEXT}}


def _json(schema: str) -> Json:
    return {"application/json": {"schema": {"$ref": f"#/components/schemas/{schema}"}}}


def _search() -> Json:
    return {"name": "q", "in": "query", "description": "Words to search for", "schema": _TEXT}


def _was() -> Json:
    described = "What remedies have changed, each `name:value before`, with commas between; it changes no part."
    return {"name": WAS, "in": "query", "description": described, "schema": _TEXT}


def _key(template: Template, spec: Spec) -> str:
    return f"{template.slug}.{spec.name}"


def _parameter(spec: Spec) -> Json:
    """A parameter as text in an address. Limits are in words too, since text such as `4 in` has no numeric bounds."""
    schema: Json = {**_TEXT, "default": spec.text(spec.default)}
    if spec.choices and not spec.is_bolt:
        schema["enum"] = list(spec.choices)
    if spec.kind == "text":
        schema["maxLength"] = spec.longest
    accepted = f"Accepted: {spec.limits()}." if spec.limits() else ""
    parameter: Json = {
        "name": spec.name,
        "in": "query",
        "description": " ".join(filter(None, (f"{spec.label}.", spec.help, accepted))),
        "schema": schema,
        "x-kind": spec.kind,
    }
    if spec.minimum is not None:
        parameter |= {"x-minimum": spec.minimum, "x-maximum": spec.maximum, "x-unit": spec.unit}
    return parameter
