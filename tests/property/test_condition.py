"""A parameter that doesn't apply changes nothing, and one that applies somewhere changes something."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.part import outlined
from parts.spec.advice import trying
from parts.spec.condition import Condition, applies, conditions, where
from parts.spec.parameters import Parameters
from tests import library
from tests.depth import some_of, tried
from tests.strategies import accepted_for, optional_of, quick, value_of

TEMPLATES = list(parts.templates().values())
LETTERED = "plate-base"
LARGE = {
    "tab_every": {"length": 1200},
    "reach": {"place": "New Zealand"},
    "line_gap": {"text": "A | B", "join": "ring"},
}
"""What has a say only in some parts: the one in which it is asked for it."""
ROOM = {
    "bracket-bent-profile": {"piece_1": 60},
    "bumper-mount": {"slot_length": 0},
    "silhouette-feather": {"overall_height": 600},
    "silhouette-snowflake": {"arm_width": 20},
}
"""What gives room to what is made to apply, where there is none in the part as it comes."""


def drawn(template, values, name):
    """The profile; None where a bolt overrules a diameter, `name` being one of the two, or a length is immeasurable."""
    problems = ()
    try:
        return outlined(template.slug, **values)
    except parts.Refused as error:
        problems = error.problems
    (problem,) = problems
    if "less than can be measured" in problem.message:
        assert problem.parameter == name
        return None
    assert "isn't used" in problem.message
    assert problem.parameter in (name, template.parameters.specs()[name].diameter)
    return None


def every_value(template, values):
    """The value of every parameter, those left out at their default."""
    read = template.parameters.read(values)
    return {name: getattr(read, name) for name in template.parameters.specs()}


def numbers(profile):
    """All that says where the loops of a profile run."""
    segments = [segment for loop in profile.boundary for segment in loop.segments]
    return [x for s in segments for x in (*s.start, *s.end, getattr(s, "bulge", 0.0))]


@pytest.mark.parametrize("template", some_of(8, quick(TEMPLATES), 1), ids=lambda t: t.slug)
@tried(10, everyday=2)
@given(data=st.data())
def test_what_does_not_apply_has_no_say(template, data):
    specs, values = template.parameters.specs(), every_value(template, data.draw(accepted_for(template, changed=True)))
    before = outlined(template.slug, **values)
    idle = [name for name in specs if not applies(name, specs, values)]
    if not idle:
        return
    name = data.draw(st.sampled_from(idle))
    other = drawn(template, {**values, name: data.draw(value_of(specs[name]))}, name)
    if other is None:
        return
    assert numbers(other) == pytest.approx(numbers(before), abs=1e-9)  # but for rounding
    assert other.marks == before.marks


@pytest.mark.parametrize("template", some_of(8, quick(TEMPLATES)), ids=lambda t: t.slug)
def test_what_applies_has_a_say(template):
    """Some other value of each input that applies draws another part, or is refused.

    Each is asked of the part as it comes, or else of the first preset in which it applies, or else of the part in
    which it is made to.
    """
    specs = template.parameters.specs()
    left = [name for name in specs if name not in Parameters.specs()]
    if template.slug != LETTERED:  # letters are the same to all that have them
        left = [name for name in left if name not in optional_of(template)]
    for name in LARGE.keys() & set(left):
        assert asked_for_their_say(template, [name], {of: value for of, value in LARGE[name].items() if of in specs})
        left.remove(name)
    for values in ({}, *(preset.values for preset in template.presets)):
        asked = asked_for_their_say(template, left, values)
        left = [name for name in left if name not in asked]
    for made, names in together(left, lambda name: ROOM.get(template.slug, {}) | made_to_apply(name, specs)):
        assert asked_for_their_say(template, names, made) == names


def together(names, made):
    """The names to which the same values are given, with these values: what is drawn of them is drawn once."""
    each = [(made(name), name) for name in names]
    return [(values, [name for other, name in each if other == values])
            for at, (values, _) in enumerate(each) if values not in [other for other, _ in each[:at]]]  # fmt: skip


def asked_for_their_say(template, names, values):
    """Which parameters apply in the part that is drawn of `values`; fails where one applies and has no say."""
    specs, every = template.parameters.specs(), every_value(template, values)
    applying = [name for name in names if applies(name, specs, every)]
    before = drawn_otherwise(template, values) if applying else True
    assert before
    for name in applying:
        after = (drawn_otherwise(template, {**values, name: other}) for other in others(specs[name], every[name]))
        assert any(each is None or each != before for each in after), name
    return applying


def made_to_apply(name, specs):
    """Values with which a parameter applies, by the first of its conditions."""
    if not specs[name].when:
        return {}
    one = specs[name].when[0]
    other = specs[one.parameter]
    on = {"flag": True, "text": "A"}.get(other.kind, one.least)
    those = [other.default, *one.values, *other.choices, on]
    return made_to_apply(one.parameter, specs) | {one.parameter: next(value for value in those if one.holds(value))}


def others(spec, present):
    """Some values of a parameter besides the present one."""
    if spec.kind in ("choice", "flag", "text"):
        every = {"flag": [True, False], "text": ["A", "B"]}.get(spec.kind, spec.choices)
        return [value for value in every if value != present]
    steps = (1, -1) if spec.kind == "count" else (0.1, -0.1, 2, -2, 20, 60)
    near = [present + step for step in steps if spec.minimum <= present + step <= spec.maximum]
    return [*near, spec.minimum, spec.maximum]


def drawn_otherwise(template, values):
    """What is drawn with these values; None where they are refused."""
    try:
        with trying():
            profile = outlined(template.slug, **values)
    except parts.Refused:
        return None
    return numbers(profile), profile.marks, [opening.work for opening in profile.inside]


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda t: t.slug)
def test_conditions_lead_to_what_is_there_and_a_dimension_is_of_what_applies(template):
    part, specs = library.part(template.slug), template.parameters.specs()
    drawn = {dimension.parameter for dimension in part.profile.dimensions}
    assert all(applies(name, specs, part.record.parameters) for name in drawn & specs.keys())
    for spec in specs.values():
        for one in spec.when:
            assert set(one.values) <= set(specs[one.parameter].choices)
        assert bool(where(spec, specs)) == bool(spec.when)
    assert not any(spec.when for spec in Parameters.specs().values())


@pytest.mark.parametrize(
    ("condition", "yes", "no"),
    [
        (Condition("lamps", ("rectangle",)), ["rectangle"], ["round", "none"]),
        (Condition("holes"), [1, 2], [0]),
        (Condition("holes", (), 2), [2, 3], [0, 1]),
        (Condition("rise"), [0.5], [0.0]),
        (Condition("text"), ["A"], ["", " "]),
        (Condition("tow"), ["fairlead"], ["none"]),
        (Condition("plate"), [True], [False]),
    ],
)
def test_what_holds(condition, yes, no):
    assert all(map(condition.holds, yes))
    assert not any(map(condition.holds, no))


def test_one_condition_or_several_are_declared_alike():
    assert conditions(()) == ()
    assert conditions(("a", "b")) == (Condition("a", ("b",)),)
    assert conditions([("a", "2"), ("b",)]) == (Condition("a", (), 2), Condition("b"))


@pytest.mark.parametrize(
    ("slug", "name", "words"),
    [
        ("plate-bumper", "lamp_height", "“Lamps” is rectangle"),
        ("plate-bumper", "hole", "“Mounting bolts” is by diameter"),
        (
            "plate-bumper",
            "fit",
            "“Fairlead bolts” isn't by diameter or “Mounting bolts” isn't by diameter or "
            "“Skid bolts” isn't by diameter",
        ),
        ("plate-bumper", "plate_up", "“Number-plate holes” isn't no"),
        ("gusset-triangle", "pitch", "“Holes along leg A” is 2 or more or “Holes along leg B” is 2 or more"),
        ("plate-bearing", "spacing_y", "“Bearing bolts” is 4"),
        ("square-test", "text_height", "there is “Text” or “Arrows X and Y” isn't no"),
    ],
)
def test_where_a_parameter_applies_in_words(slug, name, words):
    specs = parts.templates()[slug].parameters.specs()
    assert where(specs[name], specs) == words


def test_a_condition_on_what_does_not_apply_does_not_hold():
    specs = parts.templates()["plate-bumper"].parameters.specs()
    by_diameter = {"winch_bolt": "by-diameter"}
    assert applies("winch_hole", specs, by_diameter)
    assert not applies("winch_hole", specs, {**by_diameter, "tow": "none"})
