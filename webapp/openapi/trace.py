"""The page that traces a picture."""

from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, operation, response


def paths() -> Json:
    """Return the address that traces a picture: its form, and what comes of it sent."""
    form = operation("trace-form", "The form to choose a picture of your own", [], PAGE)
    page = operation("trace", "A picture of your own, traced: the page", [], PAGE)
    page["responses"]["422"] = response("RefusedPage")
    page["responses"]["413"] = {"description": "More was sent than a picture may have"}
    page["responses"]["503"] = response("Later")
    file: Json = {"type": "object", "required": ["file"], "properties": {"file": {"type": "string"}}}
    page["requestBody"] = {"required": True, "content": {"multipart/form-data": {"schema": file}}}
    return {"/trace": {"get": form, "post": page}}
