"""The addresses of measurements and of their history, described for programs."""

from typing import Any, TypeAlias

from parts.truing import FIELDS
from webapp.forms import COMPENSATE

Json: TypeAlias = dict[str, Any]

_TEXT: Json = {"type": "string"}
_NUMBER: Json = {"type": "number"}
_PAGE: Json = {"text/html": {"schema": _TEXT}}
_ESTIMATE: Json = {
    "type": ["object", "null"],
    "description": "null where the readings don't settle it; `missing` says why",
    "required": ["value", "standard_uncertainty", "low95", "high95", "differs_from_zero"],
    "properties": {
        **dict.fromkeys(("value", "standard_uncertainty", "expanded_uncertainty", "low95", "high95"), _NUMBER),
        "differs_from_zero": {"type": "boolean"},
    },
}
_ANSWER: Json = {
    "type": "object",
    "description": "Scales are ratios less 1, angles degrees, lengths mm",
    "required": [*FIELDS.values(), "missing", "corrections", "residuals", "cautions"],
    "properties": {
        **dict.fromkeys(FIELDS.values(), _ESTIMATE),
        "missing": {"type": "object", "additionalProperties": _TEXT},
        "corrections": {"type": "array", "items": {"type": "object"}},
        "residuals": {"type": "array", "items": _NUMBER, "description": "In units of each reading's uncertainty"},
        "disagreeing": {"type": "array", "items": {"type": "array", "items": {"type": "integer"}}},
        "readings": {"type": "array", "items": {"type": "object"}, "description": "What residuals are of, in order"},
        "left_out": {"type": "array", "items": _TEXT, "description": "Readings that aren't taken yet"},
        "cautions": {"type": "array", "items": _TEXT},
    },
}
_MEASUREMENTS: Json = {
    "required": True,
    "description": "Tables `machine` and `reading`, as in the file of measurements",
    "content": {"application/toml": {"schema": _TEXT}, "application/json": {"schema": {"type": "object"}}},
}
COMPENSATED: Json = {
    "name": COMPENSATE,
    "in": "query",
    "description": "The entry of a table's history whose accepted errors the drawing undoes; empty for none",
    "schema": _TEXT,
}


def truing_paths() -> Json:
    """Return the addresses that true a table and keep its history."""
    units = _asked("units", "Of bare numbers and of sentences: mm or in")
    template = _asked("template", "The test piece; its parameters may follow as on its page")
    machine = _asked("machine", "The table's name")
    number: Json = {"name": "number", "in": "path", "required": True, "schema": {"type": "integer", "minimum": 1}}
    refused = {"422": {"description": "The page, with a sentence at each field", "content": _PAGE}}
    answer = _operation("true.json", "What readings say of a table", [units], {"application/json": {"schema": _ANSWER}})
    answer["requestBody"] = _MEASUREMENTS
    answer["responses"]["422"] = {"$ref": "#/components/responses/Refused"}
    form = _operation("true-answer", "The page of measurements with what they say", [], _PAGE)
    form["responses"] |= refused
    blank = _operation("true", "The page of measurements, to be filled in", [template, units], _PAGE)
    csv: Json = {"text/csv": {}}
    entry = _operation("history-entry", "An entry's readings in the form", [number], _PAGE)
    entry["responses"] |= {"404": {"description": "No readings have this number", "content": _PAGE}}
    return {
        "/true": {"get": blank, "post": form},
        "/true.json": {"post": answer},
        "/true/sheet": {"get": _operation("sheet", "The measuring sheet of a test piece: the page", [template], _PAGE)},
        "/true/sheet.pdf": {"get": _operation("sheet.pdf", "The same to print", [template], {"application/pdf": {}})},
        "/true/sheet.toml": {
            "get": _operation("sheet.toml", "The same as a file to fill in", [template], {"application/toml": {}})
        },
        "/true/history": {"get": _operation("history", "What was measured over time", [machine, units], _PAGE)},
        "/true/history/{number}": {"get": entry},
        "/true/history.csv": {"get": _operation("history.csv", "The entries as CSV", [machine], csv)},
        "/true/keep": {"post": _kept("keep", "The form's readings, kept as a new entry")},
        "/true/history/accept": {"post": _kept("accept", "An entry's errors, accepted by a new entry")},
        "/true/history/load": {"post": _kept("load", "The entries of a CSV file, taken in")},
    }


def _asked(name: str, description: str) -> Json:
    return {"name": name, "in": "query", "description": description, "schema": _TEXT}


def _operation(name: str, summary: str, asked: list[Json], content: Json) -> Json:
    answers = {"200": {"description": summary, "content": content}}
    return {"operationId": name, "summary": summary, "parameters": asked, "responses": answers}


def _kept(name: str, summary: str) -> Json:
    """A form that only the page itself may send."""
    answers = {"303": "Kept; to the history", "403": "Not sent by the page itself", "422": "The page; nothing was kept"}
    responses = {status: {"description": text} for status, text in answers.items()}
    return {"operationId": name, "summary": summary, "parameters": [], "responses": responses}
