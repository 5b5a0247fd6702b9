"""What only drawing tells: loops that meet are refused with how far which parameter must change; taken, it draws.

PLATEWRIGHT_REFUSALS=300 draws so many sets of each template instead of the few of the everyday run.
"""

import os
import re

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

import parts
from parts.part import outlined
from parts.template import Parameters
from parts.way_out import named, trying
from tests.strategies import values_for

TEMPLATES = list(parts.templates().values())
EXAMPLES = int(os.environ.get("PLATEWRIGHT_REFUSALS", "20"))
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


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda t: t.slug)
@settings(max_examples=EXAMPLES, deadline=None, phases=[Phase.explicit, Phase.generate])
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
        # leg 100, snipe 15: of holes at 35, 70 and 105 mm the third is beyond the toe
        (
            "gusset-triangle",
            {"holes_a": 3},
            "holes_a",
            "hole 3 in leg A lies outside the part: make “Leg along the base” 125 mm or more, or make it 2 or less.",
        ),
        (
            "gusset-triangle",
            {"holes_a": 2, "holes_b": 2, "lightening": "30 mm"},
            "lightening",
            "the lightening hole crosses hole 1 in leg B: make it 14 mm or less.",
        ),
        # a hole 11 mm wide, 70 mm over the base near a long edge from 88, 12 to 12, 88: in inches, in sixteenths
        (
            "gusset-triangle",
            {"units": "in", "holes_a": 1, "back_mark": "2-3/4"},
            "holes_a",
            "the hole in leg A crosses the edge: make “Leg up the post” 4 in or more, or make it 0.",
        ),
    ],
)
def test_what_would_do_is_said(slug, values, name, message):
    with pytest.raises(parts.Refused) as refused:
        parts.draw(slug, **values)
    assert {problem.parameter: problem.message for problem in refused.value.problems} == {name: message}
