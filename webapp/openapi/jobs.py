"""The addresses of jobs, and of tables of parts."""

from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, TOO_MUCH, asked, form, in_path, operation, response

_KEPT = {"303": "Kept; to the job", "404": "No such job", "422": "The page; nothing was kept"}
_FORMS = {
    "named": ("job-named", "A job's name and customer's reference"),
    "lines": ("job-lines", "Quantities and names of a job's lines; `remove` takes one out"),
    "undo": ("job-undo", "The last change of a job, undone; `seen` is the revision that was looked at"),
    "redo": ("job-redo", "What was undone last, again"),
    "back": ("job-back", "A job as it was at the revision `to`"),
    "archive": ("job-archive", "A job put aside, or taken up again"),
    "duplicate": ("job-duplicate", "A job like another one"),
}


def paths() -> Json:
    """Return the addresses of jobs: their list, each of them, and what changes them."""
    number = in_path("number", type="integer", minimum=1)
    return {
        "/jobs": {"get": operation("jobs", "The jobs that are kept", [asked("q", "Words to search for")], PAGE)},
        "/jobs/new": {"post": form("job-new", "A job begun", [], _KEPT)},
        "/jobs/load": {"post": form("job-load", "A job begun from its file", [], _KEPT)},
        "/jobs/saved/forget": {"post": form("saved-forget", "A saved part, taken away", [], _KEPT)},
        "/jobs/add/{slug}": _adding(),
        "/jobs/drawing": {"post": _drawing()},
        "/jobs/{number}": {"get": _of_job("job", "A job", [number, asked("revision", "As it was then")], PAGE)},
        "/jobs/{number}/compare": {
            "get": _of_job("job-compare", "What differs between two revisions", [number, *_two()], PAGE)
        },
        "/jobs/{number}/job.json": {
            "get": _of_job("job.json", "A job as one file", [number], {"application/json": {}}, "Nothing")
        },
        **_sheets(number),
        **_tables(),
        **{f"/jobs/{{number}}/{name}": {"post": form(*said, [number], _KEPT)} for name, said in _FORMS.items()},
    }


def _sheets(number: Json) -> Json:
    said = {
        "sheet": "Sizes of sheets, as 4ftx8ft, or 600x900:2 where there are two; several with commas between",
        "gap": "Between parts; two kerfs and the narrowest bridge unless said",
        "margin": "To the edge of a sheet; 10 mm unless said",
        "time": "Seconds to look for a better layout; 20 unless said",
        "even_so": "`yes` for parts with a finding that says stop too",
        "off_cuts": "`yes` for the off-cuts of the store, before sheets",
    }
    asked_for = [number, *(asked(name, text) for name, text in said.items())]
    page = _of_job("job-sheets", "A job laid out on sheets, as far as it is found", asked_for, PAGE)
    page["responses"]["422"] = response("RefusedPage")
    name = in_path("name", type="string")
    file = _of_job("job-sheet", "A file of the layout: sheet-01.dxf, layout.pdf, layout.json, sheets.zip",
                   [*asked_for, name], {"application/octet-stream": {}})  # fmt: skip
    return {
        "/jobs/{number}/sheets": {"get": page},
        "/jobs/{number}/sheets/stop": {"post": form("job-sheets-stop", "The search, ended", asked_for, _KEPT)},
        "/jobs/{number}/sheets/{name}": {"get": file},
        **_layout(number, asked_for),
        "/jobs/off-cuts": {
            "get": operation("off-cuts", "The off-cuts of sheets that are there", [], PAGE),
            "post": form("off-cuts-change", "An off-cut put in, or taken out", [], _KEPT),
        },
    }


def _layout(number: Json, asked_for: list[Json]) -> Json:
    chosen = [asked("sheet", "The sheet of the part that is chosen"), asked("part", "Its number there")]
    page = _of_job("job-layout", "The layout that a job is kept with, to be changed by hand", [number, *chosen], PAGE)
    page["responses"]["422"] = response("RefusedPage")
    name = in_path("name", type="string")
    file = _of_job("job-layout-file", "A file of the kept layout: sheet-01.dxf, layout.pdf, layout.json, sheets.zip",
                   [number, name], {"application/octet-stream": {}})  # fmt: skip
    return {
        "/jobs/{number}/layout": {
            "get": page,
            "post": form("job-layout-change", "A part moved, turned, pinned; a sheet cut", [number], _KEPT),
        },
        "/jobs/{number}/layout/keep": {
            "post": form("job-layout-keep", "The layout that was found, kept with its job", asked_for, _KEPT)
        },
        "/jobs/{number}/layout/{name}": {"get": file},
    }


def _tables() -> Json:
    token = in_path("token", type="string")
    sent = form(
        "table", "A part for every row of a table, begun", [], {"303": "Begun; to how far it is", "422": "The page"}
    )
    made = _of_job("table-made", "How far a table is, or what became of it", [token], PAGE)
    files = _of_job("table-files", "Its files", [token], {"application/zip": {}}, "Nothing")
    return {
        "/table": {"get": operation("table-form", "The form to choose a table of parts", [], PAGE), "post": sent},
        "/table/template.csv": {"get": operation("table-template", "A table to fill in", [], {"text/csv": {}})},
        "/table/{token}": {"get": made},
        "/table/{token}/files.zip": {"get": files},
        "/table/{token}/job": {"post": form("table-job", "A job of a table's parts, begun", [token], _KEPT)},
        "/table/{token}/stop": {"post": form("table-stop", "The making of a table, ended", [token], {})},
    }


def _two() -> list[Json]:
    return [asked("since", "The earlier revision"), asked("to", "The later one")]


def _of_job(name: str, summary: str, given: list[Json], content: Json, nothing: str = "NothingPage") -> Json:
    of = operation(name, summary, given, content)
    of["responses"]["404"] = {"description": "There is none"} if nothing == "NothingPage" else response(nothing)
    return of


def _adding() -> Json:
    slug = in_path("slug", type="string")
    page = operation("job-offer", "A part, and where it may go: the page", [slug], PAGE)
    page["responses"] |= {"404": {"description": "There is no such template"}, "422": response("RefusedPage")}
    return {"get": page, "post": form("job-add", "A part, into a job or saved under a name", [slug], _KEPT)}


def _drawing() -> Json:
    page = form("job-drawing", "A drawing of your own, into a job or saved under a name", [], _KEPT)
    page["responses"]["200"] = {"description": "The page that asks where it may go", "content": PAGE}
    page["responses"]["413"] = {"description": TOO_MUCH}
    return page
