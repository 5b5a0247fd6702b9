"""The addresses that say whether two parts bolt up."""

from parts.boltup import EXAMPLES
from parts.mating import BESIDE, NAMES
from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, TEXT, TOO_MUCH, asked, operation, response

_SIDE = f"A template with its values, plate-motor?bolt=M8, or a bolt pattern: {', '.join(EXAMPLES)}"
_STOCK = "Of a part that doesn't say it itself"


def paths() -> Json:
    """Return the addresses."""
    sides = [asked(name, f"{name.upper()}. {_SIDE}") for name in ("a", "b")]
    given = [*sides, *(asked(name, what) for name, what in NAMES.items()), *(asked(name, _STOCK) for name in BESIDE)]
    page = operation("boltup", "Whether two parts bolt up: the page", given, PAGE)
    sent = operation("boltup-files", "The same of drawings, `a_file` and `b_file`, or of readings, `table`", [], PAGE)
    found = operation("boltup.json", "Whether two parts bolt up", given, {"application/json": {"schema": _ANSWER}})
    for each in (page, sent):
        each["responses"]["422"] = response("RefusedPage")
    found["responses"] |= {"422": response("Refused"), "404": response("Nothing")}
    fields = {**{f"{name}_file": _FILE for name in "ab"}, **{each["name"]: TEXT for each in given}, "table": TEXT}
    schema: Json = {"type": "object", "properties": fields}
    sent["requestBody"] = {"required": True, "content": {"multipart/form-data": {"schema": schema}}}
    sent["responses"] |= {"413": {"description": TOO_MUCH}, "503": response("Later")}
    return {"/boltup": {"get": page, "post": sent}, "/boltup.json": {"get": found}}


_FILE: Json = {"type": "string", "contentMediaType": "application/octet-stream"}
_SHARE: Json = {"type": "number", "minimum": 0, "maximum": 1}
_ANSWER: Json = {
    "type": "object",
    "required": ["chance", "low95", "high95", "wanted", "safe", "wider_mm", "method", "bolts", "worst"],
    "properties": {
        **dict.fromkeys(("chance", "low95", "high95", "wanted"), _SHARE),
        "safe": {"type": "boolean", "description": "Every hole has its partner, and the chance is the one wanted"},
        "wider_mm": {"type": "number", "description": "What the holes must be wider to be safe; below 0 they have it"},
        "method": {"enum": ["closed form", "trials"]},
        "bolts": {"type": "array", "items": {"type": "object"}},
        "worst": {"type": "array", "items": {"type": "integer"}, "description": "Numbers of bolts"},
    },
}
