"""The form: a template's parameters as the rows of the drawing's table of dimensions, in groups."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby

from parts import Problem
from parts.parameter import Spec
from parts.template import Template
from parts.units import Units


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its letter on the drawing, what is declared of it, what it shows, and what is wrong with it."""

    letter: str
    spec: Spec
    shown: str
    limits: str
    message: str


def groups(template: Template, given: Mapping[str, str], problems: tuple[Problem, ...]) -> list[tuple[str, list[Row]]]:
    """Return the rows of the form by group, in the order they are declared."""
    units: Units = "in" if given.get("units") == "in" else "mm"
    wrong = {problem.parameter: problem.message for problem in reversed(problems)}
    rows = [
        Row(
            template.letters.get(name, ""),
            spec,
            given.get(name, _shown(spec, units)),
            spec.limits(units) if spec.minimum is not None else "",
            wrong.get(name, ""),
        )
        for name, spec in template.parameters.specs().items()
    ]
    order = list(dict.fromkeys(row.spec.group for row in rows))
    rows.sort(key=lambda row: order.index(row.spec.group))
    return [(group, list(members)) for group, members in groupby(rows, key=lambda row: row.spec.group)]


def _shown(spec: Spec, units: Units) -> str:
    """The default as a person would type it in the working units."""
    if spec.kind == "flag":
        return "on" if spec.default else "off"
    return spec.say(spec.default, units)
