"""The pages, the remedies and the files of the templates.

A template's parameters are one object, whose entries are the `name=value` of the address, that of the table it is made
for among them. They stand at its file's address, and hold for its page and its remedies too: what it declares itself,
and the classes that it shares the rest with, each of which names those above it. Limits are extensions, since values
are text such as `4 in`, which has no numeric bounds.
"""

from collections.abc import Sequence

import parts
from parts.export import FORMATS
from parts.spec import Parameters, Template
from webapp.forms import COMPENSATE, WAS
from webapp.openapi.alike import Alike, Kind, own_of
from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, TEXT, asked, in_path, json_of, parameter, response, schema_of

COMMON = "EveryPart"
_WAS = "What remedies changed, each `name:value before`, with commas between; it changes no part."
_LATER = (
    "Too many ask at once for a solid or a check: `Retry-After` says when to ask again. Without it, what writes the "
    "format isn't installed."
)
_AGAIN: Json = {"Retry-After": {"description": "Seconds", "schema": {"type": "integer"}}}
_REFUSED = "Every reason why not"
_COMPENSATE = (
    "The entry of a table's history whose accepted errors the drawing undoes; empty for none. Of files, with "
    f"{', '.join(kind for kind, each in FORMATS.items() if each.compensable)} alone."
)


def paths(shared: Alike) -> Json:
    """Return the files of every template, and the pages and remedies of any.

    Args:
        shared: what templates declare alike.
    """
    was = parameter(WAS)
    given = [parameter("template"), parameter("values")]
    page = {"200": response("Page"), "404": response("Nothing"), "422": response("RefusedPage")}
    solved = {"200": response("Remedies"), "404": response("Nothing"), "422": response("Refused")}
    return {
        **{f"/parts/{slug}.{{format}}": _files(template, shared) for slug, template in parts.templates().items()},
        "/parts/{template}": _get("part", "The page of a part", [*given, was], page)
        | {"post": _in_own_font([*given, was], page)},
        "/parts/{template}/remedies": _get("remedies", "The page, with the remedies", [*given, was], page),
        "/parts/{template}/remedies.json": _get("remedies.json", "What mends each finding", [*given, was], solved),
    }


def _in_own_font(given: list[Json], answers: Json) -> Json:
    """The page asked for with a font; so are its remedies and its files."""
    form: Json = {"type": "object", "properties": {"font_file": {"type": "string"}}}
    said = _get("own-font", "The page in a font of your own, not kept; so too remedies.json and files", given, answers)
    return {**said["get"], "requestBody": {"content": {"multipart/form-data": {"schema": form}}}}


def _files(template: Template, shared: Alike) -> Json:
    given = [parameter("format"), _values(_own(template, shared))]
    answers = {"200": "File", "default": "NoFile"}
    every = {status: response(name) for status, name in answers.items()}
    return {"get": {"summary": template.title, "parameters": given, "responses": every}}  # its address names it


def _get(name: str, summary: str, given: list[Json], responses: Json) -> Json:
    return {"get": {"operationId": name, "summary": summary, "parameters": given, "responses": responses}}


def parameters() -> Json:
    """Return the parameters that addresses share."""
    any_values = {**_values(schema_of(COMMON)), "description": "Those of the template, as at its file's address"}
    return {
        "values": any_values,
        "template": in_path("template", enum=list(parts.templates())),
        "format": in_path("format", enum=list(FORMATS)),
        WAS: asked(WAS, _WAS),
    }


def _values(schema: Json) -> Json:
    return {"name": "values", "in": "query", "schema": schema}


def _own(template: Template, shared: Alike) -> Json:
    kinds, own = own_of(template, shared)
    return {"allOf": _refs(kinds), "properties": own}


def _refs(kinds: Sequence[Kind]) -> list[Json]:
    """Where the classes stand that say something; one that another of them is of stands there already."""
    lowest = [kind for kind in kinds if not any(other is not kind and issubclass(other, kind) for other in kinds)]
    return [schema_of(_name(kind)) for kind in lowest]


def schemas(shared: Alike) -> Json:
    """Return the classes of parameters as components; that of every part says that each value is text."""
    found: Json = {}
    for kind, said in shared.items():
        above = _refs([other for other in shared if other is not kind and issubclass(kind, other)])
        found[_name(kind)] = {"type": "object", **({"allOf": above} if above else {}), "properties": dict(said)}
    found[COMMON]["additionalProperties"] = TEXT
    found[COMMON]["properties"] = {name: {**TEXT, **said} for name, said in found[COMMON]["properties"].items()}
    found[COMMON]["properties"][COMPENSATE] = {**TEXT, "description": _COMPENSATE}
    return found


def _name(kind: Kind) -> str:
    return COMMON if kind is Parameters else kind.__name__


def responses() -> Json:
    """Return the answers that several addresses share."""
    files: Json = {each.mime_type: {} for each in FORMATS.values()}
    return {
        "Page": {"description": "The page", "content": PAGE},
        "RefusedPage": {"description": "The page, with a sentence at each field", "content": PAGE},
        "Refused": {"description": _REFUSED, "content": json_of("Refusal")},
        "Remedies": {"description": "The change that mends each finding", "content": json_of("Remedies")},
        "File": {"description": "The part as a file", "content": files | json_of("Part")},
        "Nothing": {"description": "Nothing goes by this name", "content": json_of("Refusal") | PAGE},
        "NoFile": {"description": f"{_REFUSED}; 503: {_LATER}", "content": json_of("Refusal"), "headers": _AGAIN},
        "Later": {"description": _LATER, "content": json_of("Refusal") | PAGE, "headers": _AGAIN},
    }
