"""The pieces that a description is put together from."""

from collections.abc import Mapping, Sequence

from webapp.openapi.answer import Json

TEXT: Json = {"type": "string"}
TOO_MUCH = "More sent than this takes"
PAGE: Json = {"text/html": {"schema": TEXT}}


def operation(name: str, summary: str, asked: Sequence[Json], content: Mapping[str, Json]) -> Json:
    """Return what is asked for by one method at an address, and the answer where all is well."""
    return {
        "operationId": name,
        "summary": summary,
        "parameters": [*asked],
        "responses": {"200": {"description": summary, "content": dict(content)}},
    }


def form(name: str, summary: str, asked: Sequence[Json], answers: Mapping[str, str]) -> Json:
    """Return a form that only the page itself may send."""
    every = {"303": "Saved; to the page", "403": "Not sent by the page itself", "413": TOO_MUCH, **answers}
    return {
        "operationId": name,
        "summary": summary,
        "parameters": [*asked],
        "responses": {status: {"description": text} for status, text in every.items()},
    }


def asked(name: str, description: str, **schema: object) -> Json:
    """Return a value of the address; text unless said."""
    return {"name": name, "in": "query", "description": description, "schema": schema or TEXT}


def in_path(name: str, **schema: object) -> Json:
    """Return a part of the address itself."""
    return {"name": name, "in": "path", "required": True, "schema": schema}


def json_of(model: str) -> Json:
    """Return the content of an answer that a model describes."""
    return {"application/json": {"schema": schema_of(model)}}


def schema_of(model: str) -> Json:
    """Return where a schema stands."""
    return {"$ref": f"#/components/schemas/{model}"}


def parameter(name: str) -> Json:
    """Return where a parameter stands that several addresses share."""
    return {"$ref": f"#/components/parameters/{name}"}


def response(name: str) -> Json:
    """Return where an answer stands that several addresses share."""
    return {"$ref": f"#/components/responses/{name}"}
