"""What programs ask for: whether the server is well, and the description of every address."""

from typing import Any

from flask import Blueprint

import parts
from parts.parameter import Spec
from parts.template import Template
from webapp.files import WRITERS

bp = Blueprint("api", __name__)

_REFUSED = {
    "type": "object",
    "required": ["errors"],
    "properties": {
        "errors": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["parameter", "value", "message"],
                "properties": {name: {"type": "string"} for name in ("parameter", "value", "message")},
            },
        }
    },
}


@bp.get("/healthz")
def healthz() -> dict[str, str]:
    """Answer that the server is up."""
    return {"status": "ok", "platewright_version": parts.VERSION}


@bp.get("/openapi.json")
def openapi() -> dict[str, Any]:
    """Describe every address, made from the templates' own declarations."""
    paths: dict[str, Any] = {
        "/": {"get": _operation("The catalogue", [_query("q", "Words to search for")], "text/html")},
        "/healthz": {"get": _operation("Whether the server is up", [], "application/json")},
        "/openapi.json": {"get": _operation("This description", [], "application/json")},
    }
    for template in parts.templates().values():
        asked = [_parameter(spec) for spec in template.parameters.specs().values()]
        paths[f"/parts/{template.slug}"] = {"get": _part(template, asked, "page", "text/html")}
        for kind, (mimetype, _) in WRITERS.items():
            paths[f"/parts/{template.slug}.{kind}"] = {"get": _part(template, asked, kind, mimetype)}
    return {
        "openapi": "3.1.0",
        "info": {"title": "Platewright", "version": parts.VERSION},
        "paths": paths,
        "components": {"schemas": {"Refused": _REFUSED}},
    }


def _operation(summary: str, asked: list[dict[str, Any]], mimetype: str) -> dict[str, Any]:
    return {
        "summary": summary,
        "parameters": asked,
        "responses": {"200": {"description": summary, "content": {mimetype: {}}}},
    }


def _part(template: Template, asked: list[dict[str, Any]], kind: str, mimetype: str) -> dict[str, Any]:
    operation = _operation(f"{template.title}: {kind}", asked, mimetype)
    refusal = {"text/html": {}} if kind == "page" else _json_refusal()
    operation["responses"]["422"] = {"description": "The values can't be drawn", "content": refusal}
    return operation


def _json_refusal() -> dict[str, Any]:
    return {"application/json": {"schema": {"$ref": "#/components/schemas/Refused"}}}


def _query(name: str, description: str) -> dict[str, Any]:
    return {"name": name, "in": "query", "description": description, "schema": {"type": "string"}}


def _parameter(spec: Spec) -> dict[str, Any]:
    limits = f" Accepted: {spec.limits()}." if spec.limits() else ""
    parameter = _query(spec.name, f"{spec.label}. {spec.help}".strip() + limits)
    parameter["schema"]["default"] = spec.text(spec.default)
    return parameter
