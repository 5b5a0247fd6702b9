"""The page of a job: its lines with small drawings, what they come to, what was found, and every change."""

from http import HTTPStatus

from flask import Response, make_response, render_template, request

from parts import Refused, store
from parts.jobs import totals
from webapp.forms import setting
from webapp.job_words import TURNS_SAID, changes, plain, said, stock, sums
from webapp.pages.gzipped import gzipped
from webapp.pages.jobs.blueprint import bp, may_change, number_in, there
from webapp.pages.jobs.lines import by_severity, shown

MOST_FINDINGS = 60


@bp.get("/<int:number>")
def page(number: int) -> Response:
    """Show a job as it stands, or as it was at a revision."""
    return shown_job(number, at=number_in(request.args.get("revision", "")))


def shown_job(number: int, refused: Refused | None = None, at: int | None = None) -> Response:
    """Return the page of a job, with why something was refused."""
    job = there(lambda: store.job(number))
    revision = job.revision if at is None else there(lambda: store.revision(number, at))
    units = setting.units_here()
    lines = shown(revision.content, number, units)
    waiting = sum(line.waits for line in lines)
    every = totals([(line.line.quantity, line.said) for line in lines if not line.waits])
    page = render_template(
        "job.html",
        job=job,
        revision=revision,
        content=revision.content,
        is_now=revision.number == job.revision.number,
        lines=lines,
        waiting=waiting,
        goes_on=waiting and not refused,
        totals=every,
        sums=sums(every, units),
        stock=stock(every, units),
        findings=list(by_severity(lines, MOST_FINDINGS)),
        most_findings=MOST_FINDINGS,
        revisions=said(store.revisions(number))[::-1],
        turns=TURNS_SAID,
        units=units,
        most_quantity=store.MOST_QUANTITY,
        longest=(store.LONGEST_NAME, store.LONGEST_REFERENCE),
        problems=refused.problems if refused else (),
        **may_change(),
    )
    answer = make_response(page, HTTPStatus.UNPROCESSABLE_ENTITY if refused else HTTPStatus.OK)
    return gzipped(answer, request.accept_encodings)


@bp.get("/<int:number>/compare")
def compare(number: int) -> str:
    """Show what differs between two revisions of a job: the last two, unless the address says which."""
    job = there(lambda: store.job(number))
    to = number_in(request.args.get("to", "")) or job.revision.number
    since = number_in(request.args.get("since", "")) or max(to - 1, 1)
    before, after = (there(lambda at=at: store.revision(number, at)) for at in (since, to))  # type: ignore[misc] # of each
    return render_template(
        "job_compared.html",
        job=job,
        before=before,
        after=after,
        changes=list(changes(before.content, after.content)),
        revisions=said(store.revisions(number))[::-1],
    )


@bp.get("/<int:number>/job.json")
def export(number: int) -> Response:
    """Send a job as one file."""
    job = there(lambda: store.job(number))
    answer = Response(store.export(number), mimetype="application/json")
    answer.headers["Content-Disposition"] = f'attachment; filename="{plain(job.content.name) or "job"}.job.json"'
    return answer
