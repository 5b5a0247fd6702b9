"""The history of each table: what was measured over time, kept by this page alone.

Whatever is kept stays (`parts.truing.history`); a correction is a new entry. Since a form alone writes here, it must
come from this very page and under a name of this machine, as `webapp.forms.own_site` says.
"""

import re
from http import HTTPStatus

from flask import Blueprint, Response, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from parts import Problem, Refused
from parts.errors import DataError
from parts.truing import history
from parts.truing.history import Entry
from parts.units import Units, units_of
from webapp.forms import allow, own_site, setting
from webapp.pages.history.plot import Standing, plots
from webapp.pages.true import LARGEST, LIMIT, Says, of_file, sent, shown_page, solved

_NUMBER = re.compile(r"[0-9]{1,9}")

bp = Blueprint("history_page", __name__, url_prefix="/true")


@bp.before_request
def guard() -> None:
    """Let in only this machine's own page."""
    is_file = request.endpoint == "history_page.load"
    if is_file:
        allow(history.LARGEST_CSV, f"a file of entries may have {history.LARGEST_CSV // 1_000_000} MB", LARGEST)
    else:
        allow(LARGEST, LIMIT)
    if request.method == "POST":
        own_site.check_sender(own_site.HISTORY)


@bp.after_request
def with_referrer(answer: Response) -> Response:
    """Let the browser say where a form comes from; and keep no copy of what was measured."""
    answer.headers["Referrer-Policy"] = "same-origin"
    answer.headers["Cache-Control"] = "no-store"
    return answer


@bp.get("/history")
def page() -> ResponseReturnValue:
    """Show the entries of a table, plotted over time; of the one entered last unless another is named."""
    return _page()


@bp.get("/history/<int:number>")
def entry(number: int) -> ResponseReturnValue:
    """Show the form with an entry's readings, to look at them or to correct them."""
    known = history.entries()
    found = next((each for each in known if each.number == number and each.what == "readings"), None)
    if found is None:
        abort(HTTPStatus.NOT_FOUND)
    form = of_file(found.measurements, _units(found))
    may_replace = found in history.in_force(known)
    return shown_page(form.replacing(str(number) if may_replace else ""), solved(form))


@bp.post("/keep")
def keep() -> ResponseReturnValue:
    """Enter the form's readings, or say beside each field why not."""
    form = sent(request.form)
    says = solved(form)
    if says.problems:
        return shown_page(form, says)
    try:
        replaces = _entry_number(form.replaces)
        kept = history.keep(form.machine.get("name", ""), form.toml, replaces)
    except Refused as refused:
        return shown_page(form, Says(says.report, refused.problems))
    except DataError as error:
        return shown_page(form, Says(says.report, (Problem("", "", str(error)),)))
    return _to(kept)


@bp.post("/history/accept")
def accept() -> ResponseReturnValue:
    """Enter that an entry's errors are the table's accepted ones."""
    given = request.form.get("entry", "")
    try:
        taken = history.accept(_entry_number(given) or 0)
    except Refused as refused:
        return _page(refused), HTTPStatus.UNPROCESSABLE_ENTITY
    return _to(taken)


def _entry_number(text: str) -> int | None:
    """The number of an entry; None where a text is none."""
    return int(text) if _NUMBER.fullmatch(text) else None


@bp.get("/history.csv")
def download() -> Response:
    """Send the entries as CSV, of one table or of all."""
    made = Response(history.write_csv(history.entries(request.args.get("machine", ""))), mimetype="text/csv")
    made.headers["Content-Disposition"] = 'attachment; filename="history.csv"'
    return made


@bp.post("/history/load")
def load() -> ResponseReturnValue:
    """Enter the entries of a CSV file that this page has written."""
    handed = request.files.get("file")
    try:
        if handed is None or not handed.filename:
            raise Refused((Problem("file", "", "choose a file first."),))
        count = history.take_in(history.read_csv(handed.read().decode("utf-8")))
    except UnicodeDecodeError:
        return _page(Refused((Problem("file", "", "is no text in UTF-8."),))), HTTPStatus.UNPROCESSABLE_ENTITY
    except Refused as refused:
        return _page(refused), HTTPStatus.UNPROCESSABLE_ENTITY
    return redirect(url_for(".page", taken=count), HTTPStatus.SEE_OTHER)


def _to(entered: Entry) -> ResponseReturnValue:
    return redirect(url_for(".page", machine=entered.machine, kept=entered.number), HTTPStatus.SEE_OTHER)


def _units(entry: Entry | None) -> Units:
    """The units that the address asks for, or else those that are worked in, or else an entry's own."""
    asked = request.args.get("units") or setting.kept().values.get("units")
    return units_of(asked) if asked or entry is None else entry.units


def _page(refused: Refused | None = None) -> str:
    known = history.entries()
    machines = list(dict.fromkeys(each.machine for each in known))
    asked = request.args.get("machine") or (known[-1].machine if known else "")
    own = [each for each in known if each.machine == asked]
    units = _units(next((each for each in reversed(own) if each.what == "readings"), None))
    taken = history.accepted(own).get(asked)
    in_force = frozenset(each.number for each in history.in_force(own))
    return render_template(
        "history.html",
        machines=machines,
        machine=asked,
        entries=own[::-1],
        plots=plots(own, Standing(in_force, taken.number if taken else None), units),
        in_force=in_force,
        accepted=taken,
        replaced_by={each.refers_to: each.number for each in own if each.what == "readings" and each.refers_to},
        problems=refused.problems if refused else (),
        kept=request.args.get("kept", "")[:9],
        taken=request.args.get("taken", "")[:9],
        units=units,
        place=history.kept_at(),
        may_change=own_site.may_change(),
        read_only=own_site.read_only(own_site.HISTORY),
    )
