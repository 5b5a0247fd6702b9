"""A refusal names a limit that can be kept, or the neighbour that must give way; the advice, taken, is enough."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import parts
from parts.template import Parameters
from parts.units import parse_length
from tests.strategies import values_for

TEMPLATES = list(parts.templates().values())
LIMIT = re.compile(r"must be (less than|at most|more than|at least) ([^ ]+(?: in| mm)) ")
ADVICE = re.compile(r"has no room .*: make “(?P<label>[^”]+)” (?P<value>[^ ]+)(?: (?:mm|in))?(?: or (?:more|less))?\.$")


def refused(template, values):
    """What is wrong with values, by parameter."""
    try:
        template.parameters.read(values)
    except parts.Refused as error:
        return {problem.parameter: problem.message for problem in error.problems}
    return {}


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda t: t.slug)
@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_no_limit_lies_where_the_parameter_can_not_be(template, data):
    values = data.draw(values_for(template))
    for name, message in refused(template, values).items():
        spec, limit = template.parameters.specs()[name], LIMIT.match(message)
        if limit and spec.kind == "length":
            low = limit[1] in ("less than", "at most")
            mm = parse_length(limit[2])
            assert mm > 0 or not low
            assert mm >= spec.minimum if low else mm <= spec.maximum, message


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda t: t.slug)
@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_advice_on_a_neighbour_is_enough(template, data):
    """Taking it, with the least of the parameter if its own value is still too much, leaves neither of them wrong."""
    values = data.draw(values_for(template))
    before = refused(template, values)
    specs = template.parameters.specs()
    own = {spec.label: name for name, spec in specs.items() if name not in Parameters.model_fields}
    for name, message in before.items():
        if "has no room" not in message:
            continue
        advice = ADVICE.match(message)
        assert advice or message.endswith("whatever its size.") or name == "text_height", message
        if not advice:
            continue
        other = own[advice["label"]]
        ends = (specs[name].minimum, specs[name].maximum)
        moved = {**values, other: advice["value"]}
        left = [refused(template, moved), *(refused(template, {**moved, name: end}) for end in ends)]
        assert any(one.keys() <= before.keys() - {name, other} for one in left), (message, left)


@pytest.mark.parametrize(
    ("slug", "values", "name", "message"),
    [
        # leg 100: the snipe of 15 leaves 85 to the toe, less than that
        ("gusset-triangle", {"toe": 129.4}, "snipe",
         "has no room beside the toe on the shorter leg: make “Blunt end of each leg” 84 mm or less."),
        # legs 60 wide, slots to 31 from the edge, a text of 8 with its margins 16: the relief may sink 13 into them,
        # and sinks r (1 - sin 45°): r to 44.4
        ("square-test", {"inside_size": 200}, "first",
         "has no room to keep the holes on the leg: make “Radius at the inside corner” 44 mm or less."),
        ("square-test", {"inside_size": 200, "units": "in"}, "first",
         "has no room to keep the holes on the leg: make “Radius at the inside corner” 1-11/16 in or less."),
    ],
)  # fmt: skip
def test_the_neighbour_that_must_give_way(slug, values, name, message):
    with pytest.raises(parts.Refused) as caught:
        parts.draw(slug, **values)
    assert {p.parameter: p.message for p in caught.value.problems}[name] == message
