"""The page of every number that findings rest on: what it is for, of what kind it is, and where it is from."""

from collections.abc import Mapping

from flask import Blueprint, Response, jsonify, render_template, request
from flask.typing import ResponseReturnValue

from parts import Problem, Refused
from parts.numbers import HEADINGS, row_of
from webapp.forms import setting
from webapp.wording import CHOICES, as_data, asked_for, counted

bp = Blueprint("numbers_page", __name__)


@bp.get("/numbers")
def page() -> ResponseReturnValue:
    """Show the numbers that are asked for, as a table."""
    words, units = _words(setting.UNITS), setting.units_here()
    asked = asked_for(words)
    rows = [row_of(number, units) for number in asked]
    return render_template(
        "numbers.html",
        headings=HEADINGS,
        rows=rows,
        choices=CHOICES,
        words=words,
        counted=counted(asked),
        units=units,
    )


@bp.get("/numbers.json")
def for_programs() -> Response:
    """Send the same as JSON."""
    return jsonify({"numbers": as_data(asked_for(_words()))})


def _words(*others: str) -> Mapping[str, str]:
    """Return what is asked for; what means nothing here, or is asked twice, is refused; `others` may be said too."""
    problems = []
    for name, values in request.args.lists():
        if name not in (*CHOICES, *others):
            problems.append(Problem(name[:80], values[0][:80], f"{name[:80]!r} is not one of {', '.join(CHOICES)}."))
        elif len(values) > 1:
            problems.append(Problem(name, values[-1][:80], f"{name} is given {len(values)} times; give it once."))
    if problems:
        raise Refused(tuple(problems))
    return request.args.to_dict()
