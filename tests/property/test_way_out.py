"""A refusal names a limit that can be kept, or the neighbour that must give way; the advice, taken, is enough.

A deep run draws 300 sets of each template instead of a few.
"""

import re

import pytest
from hypothesis import Phase, given
from hypothesis import strategies as st

import parts
from parts.spec.advice import named, trying
from parts.spec.parameters import Parameters
from parts.units import parse_length
from tests.depth import some_of, tried
from tests.strategies import quick, values_for

TEMPLATES = list(parts.templates().values())
LIMIT = re.compile(r"must be (less than|at most|more than|at least) ([\d/-]+(?:\.\d+)?(?: in| mm)?)(?![\d/])")
ADVICE = re.compile(
    r"has no room .*: make (?:“(?P<label>[^”]+)”|it) (?P<value>[^ ]+)(?: (?:mm|in))?(?: or (?:more|less))?\.$"
)

BOTH = re.compile(r"has no room .*: make “(?P<a>[^”]+)” (?P<x>.+?) and “(?P<b>[^”]+)” (?P<y>.+)\.$")


def refused(template, values):
    """What is wrong with values, by parameter."""
    try:
        template.parameters.read(values)
    except parts.Refused as error:
        return {problem.parameter: problem.message for problem in error.problems}
    return {}


def can_be_kept(spec, message):
    """Whether some value of the parameter keeps the limit that a message names, if it names one."""
    limit = LIMIT.match(message)
    if not limit or spec.kind not in ("length", "count"):
        return True
    number = parse_length(limit[2])
    return {
        "less than": number > spec.minimum, "at most": number >= spec.minimum,
        "more than": number < spec.maximum, "at least": number <= spec.maximum,
    }[limit[1]]  # fmt: skip


def is_enough(template, values, before, name):
    """Whether advice, taken, leaves nothing wrong with the parameter or the neighbour it speaks of, nor anything new.

    The parameter may have to come to its default or an end of its limits as well, if its own value is still too much.
    """
    specs = template.parameters.specs()
    own = {named(spec, specs): other for other, spec in specs.items() if other not in Parameters.model_fields}
    if both := BOTH.match(before[name]):
        pair = {own[both["a"]]: both["x"], own[both["b"]]: both["y"]}
        with trying():
            return refused(template, {**values, **pair}).keys() <= before.keys() - {name, *pair}
    advice = ADVICE.match(before[name])
    if not advice:
        return before[name].endswith("whatever its size.") or name == "text_height"
    other = own[advice["label"]] if advice["label"] else name
    moved = {**values, other: advice["value"]}
    spec = specs[name]
    ends = [{}] + [{name: value} for value in (spec.default, spec.minimum, spec.maximum) if other != name]
    with trying():
        return any(refused(template, {**moved, **end}).keys() <= before.keys() - {name, other} for end in ends)


@pytest.mark.parametrize("template", some_of(12, quick(TEMPLATES)), ids=lambda t: t.slug)
@tried(300, everyday=4, phases=[Phase.explicit, Phase.generate])
@given(data=st.data())
def test_a_limit_can_be_kept_and_advice_is_enough(template, data):
    values = data.draw(values_for(template))
    before = refused(template, values)
    for name, message in before.items():
        assert can_be_kept(template.parameters.specs()[name], message), (name, message)
        assert "has no room" not in message or is_enough(template, values, before, name), (name, message)


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
        ("square-test",
         {"inside_size": 200, "units": "in", "leg_width": 60, "text_height": 8, "slot_width": 12, "first": 25,
          "hole": 10},
         "first",
         "has no room to keep the holes on the leg: make “Radius at the inside corner” 1-11/16 in or less."),
    ],
)  # fmt: skip
def test_the_neighbour_that_must_give_way(slug, values, name, message):
    with pytest.raises(parts.Refused) as caught:
        parts.draw(slug, **values)
    assert {p.parameter: p.message for p in caught.value.problems}[name] == message


def test_two_limits_that_shut_each_other_out_name_the_neighbour():
    """No 11 mm hole is inside both ends of 20 mm; two each end, 20 mm in and 40 apart, want 131 mm and a hair."""
    with pytest.raises(parts.Refused) as caught:
        parts.draw("bracket-strap", long=20)
    message = "has no room to keep metal in the middle: make “Length over all” 132 mm or more."
    assert {p.parameter: p.message for p in caught.value.problems} == {"end_mark": message}


def test_where_no_neighbour_alone_is_enough_two_are_named_that_draw():
    """A moon of 720 mm over the hollow of one of 120: only a smaller moon that is lower too opens the crescent."""
    values = {"moon_radius": 720, "height": 654, "end_radius": 8.7}
    with pytest.raises(parts.Refused) as caught:
        parts.draw("silhouette-moon-cloud", **values)
    (message,) = [p.message for p in caught.value.problems if p.parameter == "waist"]
    both = BOTH.match(message)
    assert (both["a"], both["b"]) == ("Radius of the moon", "Height from cloud to moon's top")
    with trying():
        left = refused(
            parts.templates()["silhouette-moon-cloud"], {**values, "moon_radius": both["x"], "height": both["y"]}
        )
    assert "waist" not in left
