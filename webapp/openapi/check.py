"""The page that checks a drawing of someone's own, and the same for programs."""

from parts.read import ROLES
from parts.spec import Parameters
from webapp.openapi.alike import described
from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, TEXT, json_of, operation, response, schema_of

_FORM = "SentDrawing"


def paths() -> Json:
    """Return the addresses that check a drawing."""
    body: Json = {"required": True, "content": {"multipart/form-data": {"schema": schema_of(_FORM)}}}
    page = operation("check", "What was found in a drawing of your own: the page", [], PAGE)
    page["responses"]["422"] = response("RefusedPage")
    found = operation(
        "check.json", "What was found in a drawing of your own, and what was healed", [], json_of("Checked")
    )
    found["responses"]["422"] = response("Refused")
    for post in (page, found):
        post["requestBody"] = body
        post["responses"]["413"] = {"description": "More was sent than a drawing may have"}
        post["responses"]["503"] = response("Later")
    form_page = operation("check-form", "The form to choose a drawing of your own", [], PAGE)
    opening = {"/open": {"get": operation("open-form", "The form to open a file again", [], PAGE), "post": _opened()}}
    return {"/check": {"get": form_page, "post": page}, "/check.json": {"post": found}} | opening


def _opened() -> Json:
    """A file of Platewright's opened again."""
    fields: Json = {"file": {"type": "string", "contentMediaType": "application/octet-stream"}}
    fields["address"] = {**TEXT, "description": "Where no file is sent: the address on a drawing"}
    schema: Json = {"type": "object", "properties": fields}
    page = operation("open", "What was edited in a file of ours since: the page", [], PAGE)
    page["requestBody"] = {"required": True, "content": {"multipart/form-data": {"schema": schema}}}
    page["responses"] |= {
        "303": {"description": "Nothing was: to the part"},
        "413": {"description": "More was sent than a file may have"},
        "422": response("RefusedPage"),
        "503": response("Later"),
    }
    return page


def schemas() -> Json:
    """Return what is sent to them, a form."""
    return {_FORM: _form()}


def _form() -> Json:
    fields: Json = {name: {**TEXT, **described(spec)} for name, spec in Parameters.specs().items()}
    del fields["thickness"]["default"]
    fields["units"] = {"enum": ["mm", "in"], "description": "Of the drawing, where its file doesn't say"}
    fields["tolerance"] = {**TEXT, "description": "The most that is healed; 0.1 mm, at most a third of the kerf"}
    fields["dpi"] = {**TEXT, "description": "Pixels of an SVG to the inch; 96, as CSS has it"}
    fields["strokes"] = {"enum": ["auto", "outline", "middle"], "description": "What is cut of an SVG's strokes"}
    fields["file"] = {"type": "string", "contentMediaType": "application/octet-stream", "description": "DXF or SVG"}
    fields["layer"] = _several(f"NAME=ROLE, the role one of {', '.join(ROLES)}; empty to leave it to its name")
    fields["outline"] = _several("BOX=cut or BOX=aside, the box as `outlines` of the answer have it")
    return {"type": "object", "required": ["file", "thickness"], "properties": fields}


def _several(description: str) -> Json:
    return {"type": "array", "items": {"type": "string"}, "description": description}
