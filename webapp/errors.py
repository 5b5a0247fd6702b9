"""What is answered when something is wrong: one shape on machine-readable addresses, a calm page elsewhere."""

from http import HTTPStatus

from flask import Flask, Response, current_app, jsonify, render_template, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import HTTPException

from parts import PartsError, Problem, Refused, UnknownTemplate
from parts.errors import Busy, DeclarationError, NotInstalled
from parts.workers import is_worker
from webapp.forms import own_site, too_large
from webapp.openapi import refusal

SENTENCES = {
    HTTPStatus.NOT_FOUND: "There is nothing at this address.",
    HTTPStatus.METHOD_NOT_ALLOWED: "This address can only be read: ask for it with GET.",
}


def register(app: Flask) -> None:
    """Let the application answer every error in its own words."""
    app.register_error_handler(Refused, _refused)
    app.register_error_handler(UnknownTemplate, _unknown)
    app.register_error_handler(DeclarationError, _broken)
    app.register_error_handler(NotInstalled, _not_installed)
    app.register_error_handler(Busy, _busy)
    app.register_error_handler(PartsError, _unusable)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _unforeseen)


def is_machine_readable(path: str) -> bool:
    """Tell whether an address is for a program: the last name has an ending, or is `healthz`."""
    last = path.rsplit("/", 1)[-1]
    return "." in last or last == "healthz"


def _answer(problems: tuple[Problem, ...], status: int) -> Response:
    if is_machine_readable(request.path):
        answer = jsonify(refusal(problems))
    else:
        answer = Response(render_template("error.html", problems=problems, status=status), mimetype="text/html")
    answer.status_code = status
    return answer


def _refused(error: Refused) -> ResponseReturnValue:
    return _answer(error.problems, HTTPStatus.UNPROCESSABLE_ENTITY)


def _unknown(error: UnknownTemplate) -> ResponseReturnValue:
    return _answer(error.problems, HTTPStatus.NOT_FOUND)


def _broken(error: DeclarationError) -> ResponseReturnValue:
    """A template that can't be used: nothing that was typed would mend it."""
    current_app.logger.warning("%s", error)
    return _answer(error.problems, HTTPStatus.INTERNAL_SERVER_ERROR)


def _not_installed(error: NotInstalled) -> ResponseReturnValue:
    return _answer((Problem("format", error.format, str(error)),), HTTPStatus.SERVICE_UNAVAILABLE)


def _busy(error: Busy) -> ResponseReturnValue:
    answer = _answer((Problem("server", "", str(error)),), HTTPStatus.SERVICE_UNAVAILABLE)
    answer.headers["Retry-After"] = str(error.retry_after_s)
    return answer


def _unusable(error: PartsError) -> ResponseReturnValue:
    """A data file that can't be used: the sentence says which entry."""
    current_app.logger.warning("%s", error)
    return _answer((Problem("shop", "", str(error)),), HTTPStatus.INTERNAL_SERVER_ERROR)


def _http(error: HTTPException) -> ResponseReturnValue:
    status = HTTPStatus(error.code or HTTPStatus.INTERNAL_SERVER_ERROR)
    allowed = dict(error.get_headers()).get("Allow")
    sentence = SENTENCES.get(status, f"{status.phrase.capitalize()}.")
    if isinstance(error, own_site.NotFromHere):
        sentence = str(error.description)
    elif status == HTTPStatus.REQUEST_ENTITY_TOO_LARGE:
        sentence = too_large()
    elif allowed and "GET" not in allowed:
        sentence = f"This address wants something sent to it: ask with {allowed.split(',')[0]}."
    answer = _answer((Problem("address", request.path[:200], sentence),), status)
    if allowed:
        answer.headers["Allow"] = allowed
    return answer


def _unforeseen(error: Exception) -> ResponseReturnValue:
    """The one place that takes whatever comes: it is logged, and the person gets a sentence.

    Of a worker out of memory, whoever it works for says so.
    """
    if isinstance(error, MemoryError) and is_worker():
        raise error
    current_app.logger.exception("unforeseen error at %s", request.path, exc_info=error)
    problem = Problem("server", "", "Something went wrong here, not with what you typed. It has been noted.")
    return _answer((problem,), HTTPStatus.INTERNAL_SERVER_ERROR)
