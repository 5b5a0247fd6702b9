"""What only drawing tells: loops that meet are refused with how far which parameter must change; taken, it draws.

A deep run draws 300 sets of each template instead of a few.
"""

import re

import pytest
from hypothesis import Phase, given
from hypothesis import strategies as st

import parts
from parts.part import outlined
from parts.spec.advice import named, trying
from parts.spec.parameters import Parameters
from tests.depth import some_of, tried
from tests.strategies import quick, values_for

SQUARE = {"section": "square", "tube": 50, "foot": 120, "lip": 15}
TEMPLATES = list(parts.templates().values())
ADVICE = re.compile(r"make (?:“(?P<label>[^”]+)”|it) (?P<value>[\d./-]+)(?: (?:mm|in))?(?: or (?:more|less))?(?=[,.])")


def advised(template, name, message):
    """Each change that a message advises, as values."""
    specs = template.parameters.specs()
    own = {named(spec, specs): other for other, spec in specs.items() if other not in Parameters.specs()}
    _, _, advice = message.partition(": make")
    return [{own[m["label"]] if m["label"] else name: m["value"]} for m in ADVICE.finditer(f"make{advice}")]


def faults(template, values):
    """The messages of what is refused, by parameter, without the advice in them."""
    try:
        with trying():
            outlined(template.slug, **values)
    except parts.Refused as error:
        return {problem.parameter: problem.message for problem in error.problems}
    return {}


@pytest.mark.parametrize("template", some_of(12, quick(TEMPLATES), 1), ids=lambda t: t.slug)
@tried(300, everyday=4, phases=[Phase.explicit, Phase.generate])
@given(data=st.data())
def test_each_advice_alone_is_enough_for_the_parameter_it_is_given_to(template, data):
    values = data.draw(values_for(template))
    try:
        with trying():
            template.parameters.read(values)
    except parts.Refused:
        return  # stated by the template: tests/property/test_way_out.py
    try:
        outlined(template.slug, **values)
    except parts.Refused as error:
        before = {problem.parameter for problem in error.problems}
        for problem in error.problems:
            for change in advised(template, problem.parameter, problem.message):
                left = faults(template, {**values, **change})
                assert problem.parameter not in left, (problem, change, left)
                assert left.keys() <= before - change.keys(), (problem, change, left)


@pytest.mark.parametrize(
    ("slug", "values", "name", "message"),
    [
        # a hole 11 mm wide, 22 mm up, under a seat with its bottom at 22: its top is at 27.5 mm; of two, none is there
        (
            "gusset-saddle",
            {**SQUARE, "below": 22, "holes": 1},
            "holes",
            "the hole in the foot runs over the edge: make “Foot to the bottom of the seat” 28 mm or more, "
            "or make it 2 or more.",
        ),
        # the same in inches, 7/16 in wide and 7/8 in up: to 1.094 in, advice is in sixteenths
        (
            "gusset-saddle",
            {
                "section": "square",
                "tube": "2in",
                "lip": "5/8in",
                "units": "in",
                "below": "7/8",
                "back_mark": "7/8",
                "hole": "7/16",
                "holes": 1,
                "foot": 120,
                "first": 25,
            },
            "holes",
            "the hole in the foot runs over the edge: make “Foot to the bottom of the seat” 1-1/8 in or more, "
            "or make it 2 or more.",
        ),
    ],
)
def test_what_would_do_is_said(slug, values, name, message):
    with pytest.raises(parts.Refused) as refused:
        parts.draw(slug, **values)
    assert {problem.parameter: problem.message for problem in refused.value.problems} == {name: message}
