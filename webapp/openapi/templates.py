"""The pages, the remedies and the files of the templates.

A template's parameters are one object, whose entries are the `name=value` of the address, that of the table it is made
for among them. The description of every address names those that all parts have, so that it doesn't grow with the
library; a template's own description, at `/parts/SLUG/openapi.json`, has all of its. Limits are extensions, since
values are text such as `4 in`, which has no numeric bounds.
"""

import parts
from parts.export import FORMATS, SET_UP_FORMATS, form_of_solid, shows, title_block
from parts.facets import VIEWS
from parts.spec import Template
from webapp.forms import COMPENSATE, PIECE, WAS
from webapp.openapi.alike import alike, described_of
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
_FORM = "Of the solid of a bent part or a set: `bent`, `assembled` or `flat`. Of files alone."
_PIECE = "Of files: the name of one piece of what is drawn in several; empty for all."
_COMPENSATE = (
    "The entry of a table's history whose accepted errors the drawing undoes; empty for none. Of files, with "
    f"{', '.join(kind for kind, each in FORMATS.items() if each.compensable)} alone."
)


def paths(at: str = "/parts/{template}") -> Json:
    """Return the page, the files and the remedies of any template, or of the one at this address."""
    was = parameter(WAS)
    given = [*([parameter("template")] if "{" in at else []), parameter("values")]
    page = {"200": response("Page"), "404": response("Nothing"), "422": response("RefusedPage")}
    solved = {"200": response("Remedies"), "404": response("Nothing"), "422": response("Refused")}
    zipped: Json = {"description": "The job pack", "content": {"application/zip": {}}}
    packed = {"200": zipped, "default": response("NoFile")}
    file = {"200": response("File"), "default": response("NoFile")}
    sheet = {"200": response("Sheet"), "default": response("NoFile")}
    view = {"200": response("View"), "default": response("NoFile")}
    return {
        f"{at}.{{format}}": _get("file", "A part as a file", [*given, parameter("format")], file),
        f"{at}/pack.zip": _get("pack", "Everything that goes with a part, in a ZIP", given, packed),
        f"{at}/view.{{view}}": _get(
            "view", "The part in space: facets, or a picture", [*given, parameter("view")], view
        ),
        f"{at}/setup.{{sheet}}": _get("setup", "The set-up sheet", [*given, parameter("sheet")], sheet),
        at: _get("part", "The page of a part", [*given, was], page) | {"post": _in_own_font([*given, was], page)},
        f"{at}/remedies": _get("remedies", "The page, with the remedies", [*given, was], page),
        f"{at}/remedies.json": _get("remedies.json", "What mends each finding", [*given, was], solved),
    }


def described_at() -> Json:
    """Return the address at which each template has a description of its own."""
    answers = {
        "200": {"description": "Its description", "content": {"application/json": {}}},
        "404": response("Nothing"),
    }
    of_one = _get(
        "template", "The addresses of one template, with all its parameters", [parameter("template")], answers
    )
    return {"/parts/{template}/openapi.json": of_one}


def _in_own_font(given: list[Json], answers: Json) -> Json:
    """The page asked for with a font; so are its remedies and its files."""
    form: Json = {"type": "object", "properties": {"font_file": {"type": "string"}}}
    said = _get("own-font", "The page in a font of your own, not kept; so too remedies.json and files", given, answers)
    return {**said["get"], "requestBody": {"content": {"multipart/form-data": {"schema": form}}}}


def _get(name: str, summary: str, given: list[Json], responses: Json) -> Json:
    return {"get": {"operationId": name, "summary": summary, "parameters": given, "responses": responses}}


def parameters() -> Json:
    """Return the parameters that addresses share."""
    said = "Those of the template, all of them described at `/parts/SLUG/openapi.json`"
    return {
        "values": _values() | {"description": said},
        "template": in_path("template", enum=list(parts.templates())),
    } | (_of_every_part())


def parameters_of_one() -> Json:
    """Return those that the addresses of one template share."""
    return {"values": _values()} | _of_every_part()


def _of_every_part() -> Json:
    sheet, view = in_path("sheet", enum=list(SET_UP_FORMATS)), in_path("view", enum=list(VIEWS))
    return {"format": in_path("format", enum=list(FORMATS)), "sheet": sheet, "view": view, WAS: asked(WAS, _WAS)}


def _values() -> Json:
    return {"name": "values", "in": "query", "schema": schema_of(COMMON)}


def schemas() -> Json:
    """Return what every part has of parameters; what a template adds is text too."""
    return {COMMON: {**_texts(dict(alike(parts.templates().values()))), "additionalProperties": TEXT}}


def schema_of_one(template: Template) -> Json:
    """Return the parameters of a template, in the place of those that every part has."""
    return {COMMON: {**_texts(described_of(template)), "additionalProperties": False}}


def _texts(properties: Json) -> Json:
    """The schema of an object whose values are text; table and piece are two of them."""
    every = {name: {**TEXT, **said} for name, said in properties.items()}
    every[COMPENSATE] = {**TEXT, "description": _COMPENSATE}
    every[PIECE] = {**TEXT, "description": _PIECE}
    every.setdefault(
        form_of_solid.FORM,
        {**TEXT, "description": _FORM},
    )
    said = "; ".join(f"`{word}`: {what}" for word, what in shows.WORDS.items())
    every.setdefault(shows.SHOWS, {**TEXT, "description": f"Of files alone, what they show: {said}."})
    for name, what in title_block.SAID.items():
        every.setdefault(name, {**TEXT, "description": f"Of the title block of a PDF alone: {what}."})
    return {"type": "object", "properties": every}


def responses() -> Json:
    """Return the answers that several addresses share."""
    files: Json = {each.mime_type: {} for each in FORMATS.values()}
    return {
        "Page": {"description": "The page", "content": PAGE},
        "RefusedPage": {"description": "The page, with a sentence at each field", "content": PAGE},
        "Refused": {"description": _REFUSED, "content": json_of("Refusal")},
        "Remedies": {"description": "The change that mends each finding", "content": json_of("Remedies")},
        "File": {"description": "The part as a file", "content": files | json_of("Part")},
        "Sheet": {"description": "The sheet", "content": {mime_type: {} for mime_type in SET_UP_FORMATS.values()}},
        "View": {"description": "The view", "content": {mime_type: {} for mime_type in VIEWS.values()}},
        "Nothing": {"description": "Nothing goes by this name", "content": json_of("Refusal") | PAGE},
        "NoFile": {"description": f"{_REFUSED}; 503: {_LATER}", "content": json_of("Refusal"), "headers": _AGAIN},
        "Later": {"description": _LATER, "content": json_of("Refusal") | PAGE, "headers": _AGAIN},
    }
