"""A job laid out on sheets: a first layout at once, and better ones as they are found.

The address says what is laid out on what, and what is found for it is found once: whoever asks again sees the same. It
is searched by a process of its own.
"""

import hashlib
import json
from base64 import urlsafe_b64encode
from collections.abc import Mapping
from dataclasses import dataclass, replace
from http import HTTPStatus
from pathlib import Path
from typing import Any

from flask import Response, abort, make_response, redirect, render_template, request, send_file, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from parts import Problem, Refused, shop, store
from parts.errors import Busy
from parts.jobs import Searched
from parts.store import Content, Job
from parts.units import Units, format_time
from parts.workers import DONE, FAILED, RUNNING, Limits, Run, begin, find
from webapp.forms import setting
from webapp.pages.gzipped import gzipped
from webapp.pages.jobs.blueprint import bp, may_change, there
from webapp.pages.jobs.lines import in_working_units

LIMITS = Limits("parts.laying.search:search", processor_s=400.0, wall_s=600.0, memory_mb=1500)
USUAL: Mapping[Units, str] = {"mm": "1500x3000", "in": "4ftx8ft"}
"""A sheet that is common where these units are, common practice."""
SECONDS, MOST_SECONDS = "20", 120.0
LONGEST = 200


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the address says: texts as they were typed."""

    sheet: str
    gap: str
    margin: str
    time: str
    even_so: bool
    off_cuts: bool = False


@bp.get("/<int:number>/sheets")
def sheets(number: int) -> Response:
    """Show a job on the sheets that the address says, as far as it is laid out; or the form that asks for sheets."""
    job, units = there(lambda: store.job(number)), setting.units_here()
    wanted = _wanted()
    if not wanted.sheet and job.content.layout:
        answer = redirect(url_for(".layout", number=number), HTTPStatus.SEE_OTHER)
        assert isinstance(answer, Response)  # noqa: S101 - flask's own redirect is one
        return answer
    if not wanted.sheet:
        return _page(job, replace(wanted, sheet=USUAL[units], time=SECONDS, off_cuts=True), units)
    try:
        run = _run(job, wanted, units)
    except Refused as refused:
        return _page(job, wanted, units, problems=refused.problems)
    except Busy:
        busy = Problem("server", "", "Other layouts are being searched; this one begins after them.")
        return _page(job, wanted, units, problems=(busy,), waits=True)
    return _page(job, wanted, units, run)


@bp.post("/<int:number>/sheets/stop")
def stop_sheets(number: int) -> ResponseReturnValue:
    """End a search; what was found stays."""
    job, units = there(lambda: store.job(number)), setting.units_here()
    wanted = _wanted()
    if run := find(_token(job, wanted, units)):
        run.stop()
    at = url_for(".sheets", number=number)
    return redirect(f"{at}?{request.query_string.decode()}", HTTPStatus.SEE_OTHER)


@bp.get("/<int:number>/sheets/<name>")
def sheet_file(number: int, name: str) -> Response:
    """Send a file of the layout that the address says: the DXF of a sheet, the overview, all in a ZIP."""
    job, units = there(lambda: store.job(number)), setting.units_here()
    wanted = _wanted()
    out = _out(find(_token(job, wanted, units)))
    if out is None or name not in {path.name for path in out.iterdir()}:
        abort(HTTPStatus.NOT_FOUND)
    return send_file(out / name, as_attachment=True, download_name=f"job-{number}-{name}")


def _wanted() -> Wanted:
    names = ("sheet", "gap", "margin", "time")
    sheet, gap, margin, seconds = (request.args.get(name, "").strip()[:LONGEST] for name in names)
    even_so, off_cuts = (request.args.get(name) == "yes" for name in ("even_so", "off_cuts"))
    return Wanted(sheet, gap, margin, seconds, even_so, off_cuts)


def _out(run: Run | None) -> Path | None:
    """The folder of the last layout that a run wrote."""
    at = int(run.state.get("at", 0)) if run else 0
    return run.folder / f"out-{at}" if run and at else None


def found_layout(job: Job, units: Units) -> tuple[bytes | None, Wanted]:
    """Return the layout that was found last for what the address asks for, as text to be kept; and what that is."""
    wanted = _wanted()
    out = _out(find(_token(job, wanted, units)))
    return (out / "kept.json").read_bytes() if out else None, wanted


def _spoken(content: Content, units: Units) -> Content:
    """A job with its parts in the units that are worked in, so that its sheets are told of in these."""
    lines = tuple(replace(line, kept=in_working_units(line.kept, units)) for line in content.lines)
    return replace(content, lines=lines)


def _token(job: Job, wanted: Wanted, units: Units) -> str:
    """What the run of a job on such sheets is asked for by: all that it hangs on."""
    off_cuts = store.off_cuts() if wanted.off_cuts else ()
    pinned = job.content.layout.stays if job.content.layout else ()
    on = repr((job.number, job.content.lines, pinned, off_cuts, wanted, units, shop.edition(), store.kept_at()))
    return urlsafe_b64encode(hashlib.sha256(on.encode()).digest()[:16]).decode()[:22]


def _run(job: Job, wanted: Wanted, units: Units) -> Run:
    """The run that lays the job out, begun where it isn't yet.

    Raises:
        Refused: the sheets can't be read.
        Busy: as many search as may.
    """
    token = _token(job, wanted, units)
    if known := find(token):
        return known
    if request.headers.get("Sec-Fetch-Site") == "cross-site":
        raise Refused((Problem("sheet", "", "This was asked for by another site's page: press the button to begin."),))
    return begin(LIMITS, searched_of(job.content, wanted, units), token)


def searched_of(content: Content, wanted: Wanted, units: Units) -> Searched:
    """Return a job with what it is laid out on.

    Raises:
        Refused: the sheets can't be read.
    """
    from parts.orders import MARGIN_MM, Asked, length_of, seconds_of, stock_of  # noqa: PLC0415 - what lays parts out is slow to load

    stock = tuple(stock_of(each, units) for each in sizes_in(wanted.sheet))
    asked = Asked(
        stock,
        length_of("gap", wanted.gap, units) if wanted.gap else None,
        length_of("margin", wanted.margin, units) if wanted.margin else MARGIN_MM,
        seconds_of(wanted.time or SECONDS, MOST_SECONDS),
        wanted.even_so,
    )
    _refuse_margin(asked.margin, wanted.margin, [(each.width, each.height) for each in stock])
    if wanted.off_cuts:
        from parts.laying import as_stock  # noqa: PLC0415 - as above

        asked = replace(asked, off_cuts=as_stock(store.off_cuts()))
    spoken = _spoken(content, units)
    return Searched(spoken, store.drawings_of(spoken), asked)


def sizes_in(text: str) -> list[str]:
    """Return each size of sheet that a text lists."""
    return [each.strip() for each in text.replace(",", ";").split(";") if each.strip()]


def _refuse_margin(margin: float, text: str, sizes: list[tuple[float, float]]) -> None:
    if any(min(size) <= 2 * margin for size in sizes):
        raise Refused((Problem("margin", text, "leaves nothing of the sheet; take a smaller one."),))


def _page(
    job: Job,
    wanted: Wanted,
    units: Units,
    run: Run | None = None,
    problems: tuple[Problem, ...] = (),
    waits: bool = False,
) -> Response:
    state = run.state if run else {}
    out = _out(run)
    found: dict[str, Any] = json.loads((out / "sheets.json").read_bytes()) if out else {}
    page = render_template(
        "job_sheets.html",
        job=job,
        wanted=wanted,
        units=units,
        problems=(*problems, *(Problem("quantity", *each) for each in state.get("refused", ()))),
        state=state,
        goes_on=waits or state.get("state") == RUNNING,
        is_running=state.get("state") == RUNNING,
        is_done=state.get("state") == DONE,
        is_failed=state.get("state") == FAILED,
        sheets=[{**each, "svg": Markup(each["svg"])} for each in found.get("sheets", [])],  # noqa: S704 - escaped
        unplaced=found.get("unplaced", []),
        faults=found.get("faults", []),
        notes=found.get("notes", []),
        at=state.get("at", 0),
        on_rack=len(store.off_cuts()),
        **may_change(),
        query=request.query_string.decode(),
        longest=format_time(MOST_SECONDS),
        passed=format_time(state.get("passed_s", 0.0)),
    )
    answer = make_response(page, HTTPStatus.UNPROCESSABLE_ENTITY if problems and not waits else HTTPStatus.OK)
    return gzipped(answer, request.accept_encodings)
