"""The list of jobs: searched, begun, taken in from a file; and the saved parts."""

from collections.abc import Mapping
from http import HTTPStatus

from flask import redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from parts import Problem, Refused, store
from webapp.pages.jobs.blueprint import bp, content_named, may_change, to_job
from webapp.pages.jobs.lines import opened_alone

LONGEST_SEARCH = 200


@bp.get("")
def listed() -> str:
    """Show the jobs, those changed last first, or those in which the words of a search stand."""
    return _list()


def _list(refused: Refused | None = None, typed: Mapping[str, str] | None = None) -> str:
    sought = " ".join(request.args.get("q", "")[:LONGEST_SEARCH].split())
    is_archived = request.args.get("archived", "") == "yes"
    return render_template(
        "jobs.html",
        rows=store.jobs(sought, is_archived=is_archived),
        sought=sought,
        is_archived=is_archived,
        most=store.MOST_LISTED,
        longest=(store.LONGEST_NAME, store.LONGEST_REFERENCE),
        saved=[(each, opened_alone(each)) for each in store.saved_parts()],
        problems=refused.problems if refused else (),
        typed=typed or {},
        place=store.kept_at(),
        **may_change(),
    )


@bp.post("/new")
def new() -> ResponseReturnValue:
    """Begin a job of a name."""
    try:
        return to_job(store.begin(content_named(request.form)))
    except Refused as refused:
        return _list(refused, request.form), HTTPStatus.UNPROCESSABLE_ENTITY


@bp.post("/load")
def load() -> ResponseReturnValue:
    """Begin a job that a file holds."""
    handed = request.files.get("file")
    try:
        if handed is None or not handed.filename:
            raise Refused((Problem("file", "", "choose a job's file first."),))
        with handed.stream:
            return to_job(store.take_in(handed.read(store.LARGEST_JOB + 1), handed.filename))
    except Refused as refused:
        return _list(refused), HTTPStatus.UNPROCESSABLE_ENTITY


@bp.post("/saved/forget")
def forget() -> ResponseReturnValue:
    """Take a saved part away."""
    try:
        store.forget_part(request.form.get("name", ""))
    except Refused as refused:
        return _list(refused), HTTPStatus.UNPROCESSABLE_ENTITY
    return redirect(url_for(".listed", _anchor="saved-heading"), HTTPStatus.SEE_OTHER)
