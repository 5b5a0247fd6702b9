"""The page that checks a drawing of someone's own, and the same for programs."""

from parts.spec import Parameters
from webapp.openapi.alike import described
from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, TEXT, json_of, operation, response


def paths() -> Json:
    """Return the addresses that check a drawing."""
    body: Json = {"required": True, "content": {"multipart/form-data": {"schema": _form()}}}
    page = operation("check", "What was found in a drawing of your own: the page", [], PAGE)
    page["responses"]["422"] = response("RefusedPage")
    found = operation(
        "check.json", "What was found in a drawing of your own, with what was healed", [], json_of("Checked")
    )
    found["responses"]["422"] = response("Refused")
    for post in (page, found):
        post["requestBody"] = body
        post["responses"]["413"] = {"description": "More was sent than a drawing may have"}
        post["responses"]["503"] = response("Later")
    form_page = operation("check-form", "The form to choose a drawing of your own", [], PAGE)
    return {"/check": {"get": form_page, "post": page}, "/check.json": {"post": found}}


def _form() -> Json:
    fields: Json = {name: {**TEXT, **described(spec)} for name, spec in Parameters.specs().items()}
    del fields["thickness"]["default"]
    fields["units"] = {"enum": ["mm", "in"], "description": "Of the drawing, where its file doesn't say"}
    fields["file"] = {"type": "string", "contentMediaType": "application/octet-stream", "description": "DXF or SVG"}
    return {"type": "object", "required": ["file", "thickness"], "properties": fields}
