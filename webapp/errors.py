"""What is answered when something is wrong: one shape on machine-readable addresses, a calm page elsewhere."""

from dataclasses import asdict

from flask import Flask, current_app, render_template, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import HTTPException, NotFound

from parts import PartsError, Problem, Refused, UnknownTemplate

MACHINE = (".dxf", ".svg", ".pdf", ".step", ".json", "/healthz")


def register(app: Flask) -> None:
    """Let the application answer every error in its own words."""
    app.register_error_handler(Refused, _refused)
    app.register_error_handler(UnknownTemplate, _unknown)
    app.register_error_handler(PartsError, _unusable)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(Exception, _unforeseen)


def _answer(problems: tuple[Problem, ...], status: int) -> ResponseReturnValue:
    if request.path.endswith(MACHINE):
        return {"errors": [asdict(problem) for problem in problems]}, status
    return render_template("error.html", problems=problems, status=status), status


def _refused(error: Refused) -> ResponseReturnValue:
    return _answer(error.problems, 422)


def _unknown(error: UnknownTemplate) -> ResponseReturnValue:
    return _answer(error.problems, 404)


def _unusable(error: PartsError) -> ResponseReturnValue:
    """A data file that can't be used: the sentence says which entry."""
    return _answer((Problem("shop", "", str(error)),), 500)


def _http(error: HTTPException) -> ResponseReturnValue:
    message = "There is nothing at this address." if isinstance(error, NotFound) else str(error.description)
    return _answer((Problem("address", request.path[:200], message),), error.code or 500)


def _unforeseen(error: Exception) -> ResponseReturnValue:
    current_app.logger.exception("unforeseen error at %s", request.path, exc_info=error)
    return _answer((Problem("server", "", "Something went wrong here, not with what you typed."),), 500)
