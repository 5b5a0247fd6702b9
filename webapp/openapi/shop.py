"""The pages of the shop's own numbers, which their own forms change."""

from parts.cutting import PROCESSES
from webapp.openapi.answer import Json
from webapp.openapi.words import PAGE, asked, form, in_path, json_of, operation, response

_ANSWERS = {
    "400": "The form isn't the page's",
    "409": "The file has changed since",
    "422": "The page, a sentence at each field; nothing saved",
}

_LISTED = {"rule": "Those it reads", "kind": "published, practice, memory, derived or yours", "process": "Its own"}


def paths() -> Json:
    """Return the addresses of the shop's own numbers."""
    machine = [asked("units", "Of bare numbers")]
    chart = [in_path("process", enum=list(PROCESSES)), asked("group", "The materials of the chart"), *machine]
    listed = [asked(name, text) for name, text in _LISTED.items()]
    told = [*listed, asked("units", "Of lengths")]
    file = operation("shop.toml", "The file of the shop's own numbers", [], {"application/toml": {}})
    process = operation("process", "A process: the page", chart, PAGE)
    saved = form("save-process", "What is typed on that page, saved", chart, _ANSWERS)
    for one in (file, process, saved):
        one["responses"]["404"] = response("Nothing")
    return {
        "/shop": {
            "get": operation("shop", "The bed and the machine: the page", machine, PAGE),
            "post": form("save-shop", "What is typed on that page, saved", machine, _ANSWERS),
        },
        "/shop/{process}": {
            "get": process,
            "post": saved,
        },
        "/shop/file": {"post": form("replace-shop", "A TOML file in the place of the shop's own", [], _ANSWERS)},
        "/shop/file.toml": {"get": file},
        "/numbers": {"get": operation("numbers-page", "Every number that findings rest on: the page", told, PAGE)},
        "/numbers.json": {"get": operation("numbers", "The same", listed, json_of("Numbers"))},
    }
