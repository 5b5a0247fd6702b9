"""What all pages of jobs have alike: who may change them, how they are answered, what isn't there.

Since a form alone writes here, it must come from these very pages and under a name of this machine, as
`webapp.forms.own_site` says. Every form leads back to a page by a redirect, so that asking for that again changes
nothing.
"""

import re
from collections.abc import Callable, Mapping
from http import HTTPStatus
from typing import TypeVar

from flask import Blueprint, Response, abort, redirect, request, url_for

from parts import Refused, store
from parts.store import Content, Job
from webapp.forms import allow, own_site

bp = Blueprint("jobs", __name__, url_prefix="/jobs")

LARGEST = 2_000_000
LIMIT = f"what a job's form says may have {LARGEST // 1_000_000} MB"
FILES = {"jobs.load": (store.LARGEST_JOB + 100_000, f"a job's file may have {store.LARGEST_JOB // 1_000_000} MB")}
"""The endpoints that a file is sent to, with what it may have."""
SHOWING = {"jobs.offer_drawing"}
"""Endpoints whose forms come from other pages: they show, and look themselves at who sends what is to be kept."""
_NUMBER = re.compile("[0-9]{1,9}")
_T = TypeVar("_T")


@bp.before_request
def guard() -> None:
    """Let in only this machine's own page, where something is changed."""
    allow(*FILES.get(request.endpoint or "", (LARGEST, LIMIT)))
    if request.method == "POST" and request.endpoint not in SHOWING:
        own_site.check_sender(own_site.JOBS)


@bp.after_request
def with_referrer(answer: Response) -> Response:
    """Let the browser say where a form comes from; and keep no copy of what is a customer's."""
    answer.headers["Referrer-Policy"] = "same-origin"
    answer.headers["Cache-Control"] = "no-store"
    return answer


def may_change() -> dict[str, object]:
    """Return whether the pages may change anything, and the sentence that says they mayn't."""
    return {"may_change": own_site.may_change(), "read_only": own_site.read_only(own_site.JOBS)}


def number_in(text: str) -> int | None:
    """Return the number that a text is, None where it is none."""
    return int(text) if _NUMBER.fullmatch(text) else None


def there(read: Callable[[], _T]) -> _T:
    """Return what is read of the store; an address of what isn't there leads nowhere."""
    try:
        return read()
    except Refused:
        abort(HTTPStatus.NOT_FOUND)


def content_named(form: Mapping[str, str], prefix: str = "") -> Content:
    """Return an empty job of the name and the reference in a form.

    Raises:
        Refused: they can't be kept.
    """
    name, reference = (f"{prefix}{field}" for field in ("name", "reference"))
    said = store.named(form.get(reference, ""), "reference", store.LONGEST_REFERENCE, may_be_empty=True)
    return Content(store.named(form.get(name, ""), "name"), said)


def to_job(job: Job, line: int = 0) -> Response:
    """Return the way to a job's page, to one of its lines there."""
    at = url_for("jobs.page", number=job.number, _anchor=f"line-{line}" if line else None)
    answer = redirect(at, HTTPStatus.SEE_OTHER)
    assert isinstance(answer, Response)  # noqa: S101 - flask's own redirect is one
    return answer
