"""What programs ask for: whether the server is well, and the description of every address."""

from typing import Any, TypeAlias

from flask import Blueprint

import parts
from parts.parameter import Spec
from parts.template import Template
from webapp.files import MIMETYPES
from webapp.was import WAS

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
        page = _operation(f"{slug}{ending}", f"{template.title}: {summary}", [*asked, _was()], _page())
        page["responses"]["422"] = {"description": "The page, with a sentence at each field", "content": _page()}
        paths[f"/parts/{slug}{ending}"] = {"get": page}
    remedies = _operation(
        f"{slug}/remedies.json", f"{template.title}: the change that mends each finding", [*asked, _was()],
        _json("Remedies"),
    )  # fmt: skip
    remedies["responses"]["422"] = {"$ref": "#/components/responses/Refused"}
    paths[f"/parts/{slug}/remedies.json"] = {"get": remedies}
    for kind, mimetype in MIMETYPES.items():
        file = _operation(f"{slug}.{kind}", f"{template.title} as {kind.upper()}", asked, {mimetype: {}})
        file["responses"]["422"] = {"$ref": "#/components/responses/Refused"}
        paths[f"/parts/{slug}.{kind}"] = {"get": file}
    return paths


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
