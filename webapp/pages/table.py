"""The page of tables: a part for every row, made while the page says how far it is, and handed over as one ZIP.

Nothing is kept but for an hour, under an address that nobody guesses. A table sent from another site would only make
this machine work, and is refused.
"""

import csv
import io
import json
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import closing
from http import HTTPStatus
from pathlib import Path
from typing import Any

from flask import Blueprint, Response, abort, make_response, redirect, render_template, request, send_file, url_for
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import FileStorage

from parts import Problem, Refused, Unreadable, shop, store
from parts.tables import Fault
from parts.units import format_mass
from parts.workers import DONE, FAILED, RUNNING, Limits, Run, begin, find
from webapp.forms import allow, own_site, setting

bp = Blueprint("table_page", __name__, url_prefix="/table")

LARGEST = 4_000_000
"""Bytes of a table."""
LARGEST_REQUEST = 24_000_000
"""With the drawings beside it."""
OFFERED = ("dxf", "svg", "pdf", "json")
MOST_SHOWN = 500
LIMITS = Limits("parts.orders.zipped:make", processor_s=600.0, wall_s=1200.0, memory_mb=1000)
EXAMPLE = (
    ("part", "quantity", "name", "leg_a", "leg_b", "od", "bore", "thickness", "material", "units"),
    ("gusset-triangle", "12", "gate brace", "4", "6", "", "", "1/4", "mild-steel", "in"),
    ("gusset-triangle", "1", "trial", "50..200 step 50", "120", "", "", "6", "", "mm"),
    ("plate-ring", "4", "seat ring", "", "", "200", "120", "10", "stainless-steel", "mm"),
)
"""A table to fill in: three rows of the invented Fernhollow workshop."""


@bp.after_request
def with_referrer(answer: Response) -> Response:
    """Let the browser say where a form comes from; and keep no copy of what was sent."""
    answer.headers["Referrer-Policy"] = "same-origin"
    answer.headers["Cache-Control"] = "no-store"
    return answer


@bp.get("")
def form() -> str:
    """Show the form, to choose a table."""
    return _form()


def _form(problems: tuple[Problem, ...] = ()) -> str:
    from parts.orders import MOST_PARTS  # noqa: PLC0415 - what lays parts out is slow to load

    return render_template(
        "table.html", problems=problems, formats=OFFERED, most=MOST_PARTS, largest=LARGEST // 1_000_000,
        chosen=request.form.getlist("format") or ["dxf"],
    )  # fmt: skip


@bp.get("/template.csv")
def example() -> Response:
    """Send a table to fill in."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows(EXAMPLE)
    answer = Response("\ufeff" + out.getvalue(), mimetype="text/csv")  # by the mark a spreadsheet knows UTF-8
    answer.headers["Content-Disposition"] = 'attachment; filename="parts.csv"'
    return answer


@bp.post("")
def send() -> ResponseReturnValue:
    """Begin to make what a table orders; where it can't be read, say why."""
    own_site.check_page()
    allow(LARGEST_REQUEST, f"a table with the drawings beside it may have {LARGEST_REQUEST // 1_000_000} MB")
    try:
        run = begin(LIMITS, _sent())
    except Unreadable as error:
        return _form((Problem("table", "", str(error)),)), HTTPStatus.UNPROCESSABLE_ENTITY
    except Refused as refused:
        return _form(refused.problems), HTTPStatus.UNPROCESSABLE_ENTITY
    return redirect(url_for(".progress", token=run.token), HTTPStatus.SEE_OTHER)


def _sent() -> object:
    """What was sent, where it is a table that can be read.

    Raises:
        Refused: no file, or no format, was chosen.
        Unreadable: the file is no table.
    """
    from parts.orders import Sent, order  # noqa: PLC0415 - what lays parts out is slow to load

    chosen = request.files.get("table")
    formats = tuple(kind for kind in OFFERED if kind in request.form.getlist("format"))
    if chosen is None or not chosen.filename:
        raise Refused((Problem("table", "", "Choose a table first: CSV or XLSX."),))
    if not formats:
        raise Refused((Problem("format", "", "Choose at least one kind of file."),))
    data, name = _read(chosen), _plain(chosen.filename)
    if len(data) > LARGEST:
        raise Unreadable(f"{name} is over {LARGEST // 1_000_000} MB, more than a table may have here.")
    beside = [(_plain(each.filename), _read(each)) for each in request.files.getlist("drawings") if each.filename]
    sent = Sent(name, data, beside, formats, request.form.get("even_so") == "yes")
    with tempfile.TemporaryDirectory() as folder, shop.held_or_built_in():
        order(sent, Path(folder))
    return sent


def _read(file: FileStorage) -> bytes:
    with closing(file):
        return bytes(file.read())


def _plain(name: str) -> str:
    """The last name of a path, which no folder and no hidden file has."""
    return name.replace("\\", "/").rsplit("/", 1)[-1].lstrip(".")[-100:] or "table"


@bp.get("/<token>")
def progress(token: str) -> Response:
    """Show how far a table is; once it is made, what became of each row."""
    run = _known(token)
    state = run.state
    rows = _rows(run) if state["state"] == DONE else []
    page = render_template(
        "table_made.html",
        token=token,
        state=state,
        goes_on=state["state"] == RUNNING,
        is_failed=state["state"] == FAILED,
        rows=[_shown(row) for row in rows[:MOST_SHOWN]],
        left_out=max(len(rows) - MOST_SHOWN, 0),
        counts=state.get("counts", {}),
        may_change=own_site.may_change(),
    )
    return make_response(page)


@bp.post("/<token>/stop")
def stop(token: str) -> ResponseReturnValue:
    """End the making of a table."""
    own_site.check_page()
    _known(token).stop()
    return redirect(url_for(".progress", token=token), HTTPStatus.SEE_OTHER)


@bp.post("/<token>/job")
def job(token: str) -> ResponseReturnValue:
    """Begin a job of a table's parts."""
    from parts.orders import as_job  # noqa: PLC0415 - what lays parts out is slow to load

    own_site.check_sender(own_site.JOBS)
    run = _known(token)
    try:
        with tempfile.TemporaryDirectory() as folder:
            content, drawings = as_job(run.job, Path(folder), Path(run.job.name).stem[:80] or "Table")
        begun = store.begin(content, drawings)
    except Refused as refused:
        return _form(refused.problems), HTTPStatus.UNPROCESSABLE_ENTITY
    return redirect(url_for("jobs.page", number=begun.number), HTTPStatus.SEE_OTHER)


@bp.get("/<token>/files.zip")
def files(token: str) -> Response:
    """Send a table's files with their report."""
    from parts.orders import FILES  # noqa: PLC0415 - what lays parts out is slow to load

    run = _known(token)
    if run.state["state"] != DONE:
        abort(HTTPStatus.NOT_FOUND)
    return send_file(run.folder / FILES, mimetype="application/zip", as_attachment=True, download_name="parts.zip")


def _known(token: str) -> Run:
    run = find(token)
    if run is None:
        abort(HTTPStatus.NOT_FOUND)
    return run


def _rows(run: Run) -> list[Mapping[str, Any]]:
    from parts.orders import ZIPPED_REPORT  # noqa: PLC0415 - as above

    found: list[Mapping[str, Any]] = json.loads((run.folder / ZIPPED_REPORT).read_bytes())
    return found


def _shown(row: Mapping[str, Any]) -> Mapping[str, Any]:
    """A row of the report as the page shows it."""
    mass = row["measures"].get("mass_kg")
    return {
        **row,
        "mass": format_mass(mass, setting.units_here()) if mass is not None else "",
        "told": list(_told(row)),
    }


def _told(row: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Severity and sentence of each finding and problem of a row."""
    for problem in row["problems"]:
        fault = Fault(row["row"], problem["column"], problem["value"], problem["message"])
        yield "stop", str(fault).partition(": ")[2]
    for finding in row["findings"]:
        yield finding["severity"], f"{finding['message']} {finding['remedy']}"
