"""The ways on from a refusal as links, each to a part that can be drawn."""

from collections.abc import Iterator, Mapping, Sequence

from parts import Problem
from parts.part import address
from parts.spec import Template
from parts.ways import ways_on
from webapp.forms import COMPENSATE, Link


def way_links(
    template: Template, given: Mapping[str, str], problems: Sequence[Problem], table: str = ""
) -> Iterator[Link]:
    """Yield a link for each way on from what was asked for.

    Args:
        template: the template.
        given: what was asked for of its parameters, as text.
        problems: why that is refused.
        table: the table that it is drawn for.
    """
    along = {COMPENSATE: table} if table and all(p.parameter != COMPENSATE for p in problems) else {}
    if all(problem.parameter not in template.parameters.specs() for problem in problems):
        left_out = ((name, "") for name in dict.fromkeys(p.parameter for p in problems))
        yield Link("Leave out what can\u2019t be used", address(template.slug, {**given, **along}), tuple(left_out))
        return
    for way in ways_on(template.slug, given, problems):
        values = {**given, **way.changes, **along}
        yield Link(way.text, address(template.slug, values), tuple(way.changes.items()))
