"""The addresses of measurements and of their history."""

from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, TEXT, TOO_MUCH, asked, form, in_path, json_of, operation, response

_MEASUREMENTS: Json = {
    "required": True,
    "description": "Tables `machine` and `reading`, as in the file of measurements",
    "content": {"application/toml": {"schema": TEXT}, "application/json": {"schema": {"type": "object"}}},
}
_KEPT = {"303": "Kept; to the history", "422": "The page; nothing was kept"}


def paths() -> Json:
    """Return the addresses that true a table and keep its history."""
    return _truing() | _history()


def _truing() -> Json:
    units = asked("units", "Of bare numbers and of sentences: mm or in")
    template = asked("template", "The test piece; its parameters may follow as on its page")
    answer = operation("true.json", "What readings say of a table", [units], json_of("Truing"))
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
