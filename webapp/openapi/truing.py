"""The addresses of measurements and of their history."""

from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, TEXT, TOO_MUCH, asked, form, in_path, operation, response, schema_of

_MEASUREMENTS: Json = {
    "required": True,
    "description": "Tables `machine` and `reading`, as in the file of measurements; or `bend` and `strip`",
    "content": {"application/toml": {"schema": TEXT}, "application/json": {"schema": {"type": "object"}}},
}
_ANSWER: Json = {"application/json": {"schema": {"anyOf": [schema_of("Truing"), schema_of("BendAnswer")]}}}
_SHOWN = {"200": "The page; shown anew", "422": "The page; nothing was kept"}
_KEPT = {"303": "Kept; to the history", "422": "The page; nothing was kept"}


def paths() -> Json:
    """Return the addresses that true a table and keep its history, and those of a test bend."""
    return _truing() | _bend() | _history()


def _truing() -> Json:
    units = asked("units", "Of bare numbers and of sentences: mm or in")
    template = asked("template", "The test piece; its parameters may follow as on its page")
    answer = operation("true.json", "What readings say of a table, or strips of a brake", [units], _ANSWER)
    answer["requestBody"] = _MEASUREMENTS
    answer["responses"]["422"] = response("Refused")
    sent = operation("true-answer", "The page of measurements with what they say", [], PAGE)
    sent["responses"]["422"] = response("RefusedPage")
    sheets: dict[str, tuple[str, str, list[Json], Json, str]] = {
        "/true/sheet": ("sheet", "The measuring sheet of a test piece: the page", [template], PAGE, "RefusedPage"),
        "/true/sheet.pdf": ("sheet.pdf", "The same to print", [template], {"application/pdf": {}}, "Refused"),
        "/true/sheet.toml": ("sheet.toml", "The same to fill in", [template], {"application/toml": {}}, "Refused"),
    }
    for post in (answer, sent):
        post["responses"]["413"] = {"description": TOO_MUCH}
    return {
        "/true": {
            "get": _of_piece(
                "true", "The page of measurements, to be filled in", [template, units], PAGE, "RefusedPage"
            ),
            "post": sent,
        },
        "/true.json": {"post": answer},
        **{address: {"get": _of_piece(*sheet)} for address, sheet in sheets.items()},
    }


def _of_piece(name: str, summary: str, given: list[Json], content: Json, refused: str = "Refused") -> Json:
    """What is answered of a test piece, which there may not be, or not as it is asked for."""
    piece = operation(name, summary, given, content)
    piece["responses"] |= {"404": response("Nothing"), "422": response(refused)}
    return piece


def _bend() -> Json:
    page = operation("bend", "The page of a test bend; the strips' parameters may follow", [], PAGE)
    sent = operation("bend-answer", "The same with what the strips say", [], PAGE)
    sent["responses"] |= {"413": {"description": TOO_MUCH}}
    for each in (page, sent):
        each["responses"]["422"] = response("RefusedPage")
    return {
        "/true/bend": {"get": page, "post": sent},
        "/true/bend/keep": {"post": form("bend-keep", "A test bend, into the shop's numbers", [], _SHOWN)},
        "/true/bend/forget": {"post": form("bend-forget", "A test bend, out of them", [], {})},
    }


def _history() -> Json:
    units, machine = asked("units", "Of sentences: mm or in"), asked("machine", "The table's name")
    number = in_path("number", type="integer", minimum=1)
    entry = operation("history-entry", "An entry's readings in the form", [number], PAGE)
    entry["responses"]["404"] = response("Nothing")
    csv: Json = {"text/csv": {}}
    return {
        "/true/history": {"get": operation("history", "What was measured over time", [machine, units], PAGE)},
        "/true/history/{number}": {"get": entry},
        "/true/history.csv": {"get": operation("history.csv", "The entries as CSV", [machine], csv)},
        "/true/keep": {"post": form("keep", "The form's readings, kept as a new entry", [], _KEPT)},
        "/true/history/accept": {"post": form("accept", "An entry's errors, accepted by a new entry", [], _KEPT)},
        "/true/history/load": {"post": form("load", "The entries of a CSV file, taken in", [], _KEPT)},
    }
