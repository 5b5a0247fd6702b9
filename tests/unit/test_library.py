"""What every template of the library keeps to; adding a template adds it here."""

import importlib
import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.cutting.process import thickness_range
from parts.part import outlined
from parts.profile import Profile
from parts.spec.advice import trying
from parts.spec.parameter import BY_DIAMETER
from parts.spec.parameters import Parameters
from parts.spec.template import Template
from parts.templates import modules
from parts.templates.silhouette.shared.sized import Sized
from tests import library
from tests.depth import some_of, tried
from tests.property.flattened import assert_can_be_cut, assert_measured, assert_named
from tests.strategies import accepted_for, optional_of, quick, values_for

TEMPLATES = dict(parts.templates())
EACH = pytest.mark.parametrize("template", TEMPLATES.values(), ids=TEMPLATES.keys())


def by_turns(first):
    """A good share of the quick ones, from the given place on."""
    each = some_of(24, quick(TEMPLATES.values()), first)
    return pytest.mark.parametrize("template", each, ids=lambda template: template.slug)


SAME_MM = 1e-6
"""Half of what a change of NUDGE_MM moves at least, for a length to count as in use."""
NUDGE_MM = 0.01
NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[+-]\d+)?")

UNMEASURED = {
    "detail": "a least: what of an outline is narrower is rounded off",
    "bend_radius": "inside a bend, which the flat shows as a line",
    "hem_radius": "inside a hem, which the flat shows as a line",
    "pipe_od": "inside the arch of a saddle, which the flat shows as a line",
    "pipe_gap": "inside the arch of a saddle, which the flat shows as a line",
    **dict.fromkeys(
        (
            "main_od",
            "branch_od",
            "branch_wall",
            "offset",
            "wide_end",
            "narrow_end",
            "cone_high",
            "foot_width",
            "foot_depth",
        ),
        "of what is rolled or pressed from the flat, which shows true lengths of its surface",
    ),
    **dict.fromkeys(
        ("top_round", "top_high", "off_right", "off_back"),
        "of what is pressed from the flat, which shows true lengths of its surface",
    ),
    "side_clearance": "added to the tab's length and the plate's thickness, which a slot shows together with it",
    "overcut": "half of it all round: all that is dimensioned is as cut",
    "least_margin": "a least: what is left over when the rows are centred makes the margin wider",
    "tie": "bridges stand where what would drop out wants them, if anything does; beside them it parts letters",
    "middle_plate": "of a variant, a share of it by chance",
    "side_plate": "of a variant, a share of it by chance",
    "tab_every": "it sets how many tabs an edge has",
}
"""Lengths that a drawing can't show between two points, each with its reason."""

many = tried(200, everyday=2)
some = tried(200, everyday=1)


def own(template: Template) -> dict[str, object]:
    return {name: spec for name, spec in template.parameters.specs().items() if name not in Parameters.specs()}


def outline_of(profile: Profile) -> Profile:
    """What of a profile is cut or marked, without its dimensions."""
    return replace(profile, dimensions=())


def test_one_template_a_file_named_after_its_slug():
    for slug, name in modules().items():
        module = importlib.import_module(name)
        held = [value for value in vars(module).values() if isinstance(value, Template)]
        assert held == [module.TEMPLATE]
        assert module.TEMPLATE.slug == slug
    assert sorted(TEMPLATES) == sorted(modules())


MATING = re.compile(
    r"\b(bore|bolt circle|spacing|pitch|gauge|apart|clearance|play|bends?|lip folded|k-factor|fit of|outside diameter"
    r"|holes? diameter|holes (along|in|on|up|for)|bolts in|tab first|work ?point to work ?point|over both bends"
    r"|length over all|height over all|diameter over the (tips|arms|long rays)|as measured|pin hole|pilot)\b",
    re.IGNORECASE,
)
"""Words for what mates with another part, or is the size asked for."""
MOVES_THOUGH = {
    "relief": "a slot beside a bend",
    "stem_bend": "the stem of a leaf is bent as a picture is",
    "back_mark": "how far a row lies from an edge",
    "mark_a": "how far a row lies from a bend",
    "mark_b": "how far a row lies from a bend",
    "bend_line": "where a test strip is bent",
    "plate_up": "how high the number plate sits",
}
"""Parameters with such a word that move all the same, each with its reason."""


def test_something_of_every_template_moves_freely():
    """But of flanges, which are nothing but what mates."""
    free = {
        slug
        for slug, each in TEMPLATES.items()
        if any(spec.moves == "free" for name, spec in own(each).items() if name not in optional_of(each))
    }
    assert TEMPLATES.keys() - free == {"flange-oval", "flange-round"}


def test_what_moves_though_it_is_called_as_mating_is_asked_of_some_template():
    called = {name for each in TEMPLATES.values() for name, spec in own(each).items() if MATING.search(spec.label)}
    assert MOVES_THOUGH.keys() <= called


def test_every_module_of_a_family_is_a_template():
    """A file that the registry doesn't see would be a template that nobody finds."""
    folder = Path(importlib.import_module("parts.templates").__file__).parent
    files = {path for path in folder.glob("*/*.py") if path.name != "__init__.py" and path.parent.name != "shared"}
    assert len(files) == len(modules())
    assert {".".join(("parts", "templates", *path.relative_to(folder).with_suffix("").parts)) for path in files} == set(
        modules().values()
    )


@EACH
def test_a_template_is_whole(template):
    assert_says_what_it_is(template)
    assert_defaults_within_limits(template)
    assert_mating_never_moves(template)
    assert_can_be_cut_as_it_comes(template)
    assert_presets_are_parts(template)


def assert_says_what_it_is(template):
    assert "-" in template.slug
    assert template.title
    assert template.title[0].isupper()
    assert template.summary.endswith(".")
    assert "\n" not in template.summary
    assert template.words
    assert all(word.strip() == word != "" for word in template.words)
    assert template.cautions
    assert all(caution.endswith(".") for caution in template.cautions)
    assert len(template.drawing.splitlines()) > 2, "the picture is to be indented by four"


def assert_defaults_within_limits(template):
    for name, spec in template.parameters.specs().items():
        assert spec.label, name
        if spec.minimum is not None:
            assert spec.minimum <= spec.default <= spec.maximum, name
        if spec.choices:
            assert spec.default in spec.choices, name
    assert template.parameters.read({}).texts() == {}
    low, high = thickness_range("air-plasma", "mild-steel")
    assert low <= template.parameters.read({}).thickness <= high


def assert_mating_never_moves(template):
    """Bolts, fits, the diameters in their place, texts, and whatever is called as what mates is."""
    specs = own(template)
    diameters = {spec.diameter for spec in specs.values() if spec.is_bolt}
    mating = {
        name
        for name, spec in specs.items()
        if spec.is_bolt or name in diameters or name == "fit" or spec.kind == "text" or MATING.search(spec.label)
    }
    assert [name for name in sorted(mating - MOVES_THOUGH.keys()) if specs[name].moves != "never"] == []


def assert_can_be_cut_as_it_comes(template):
    """Without a stop; and every parameter named by an opening or a dimension is one."""
    part = library.part(template.slug)
    assert [finding for finding in part.findings if finding.severity == "stop"] == []
    assert part.measures.area_mm2 > 0
    for opening in part.profile.inside:
        assert opening.parameter in own(template), opening.name
    assert {dimension.parameter for dimension in part.profile.dimensions} <= set(own(template))


def assert_presets_are_parts(template):
    """Real ones, without a stop."""
    assert len(template.presets) >= 3
    assert len({preset.name for preset in template.presets}) == len(template.presets)
    addresses = set()
    for preset in template.presets:
        part = library.part(template.slug, preset.name)
        assert [f.message for f in part.findings if f.severity == "stop"] == [], preset.name
        given = template.parameters.read(preset.values).texts()
        assert set(given) == set(preset.values), f"{preset.name}: no value may be a default"
        addresses.add(part.record.address)
    assert len(addresses) == len(template.presets)


def test_no_two_presets_are_alike():
    """Neither their names over the library, but for the parts of a set, nor what is drawn of one template."""
    every = [(each.name, slug) for slug, template in TEMPLATES.items() for each in template.presets]
    names = [name for name, _ in every if not re.match(r"(Small|Medium|Large) set: ", name)]
    assert sorted(set(names)) == sorted(names)
    for slug, template in TEMPLATES.items():
        read = [template.parameters.read_singly(preset.values) for preset in template.presets]
        assert len({tuple(each.texts().items()) for each in read}) == len(read), slug


@by_turns(0)
def test_any_values_are_drawn_or_refused_by_name(template):
    @many
    @given(values_for(template, changed=True))
    def check(values):
        try:
            assert_can_be_cut(parts.draw(template.slug, **values))
        except parts.Refused as refused:
            assert_named(refused, template)

    check()


@by_turns(1)
def test_what_is_drawn_keeps_to_what_it_says(template):
    """It can be cut and is measured right; every length in use is dimensioned, and typed as shown draws the same."""

    @some
    @given(accepted_for(template, changed=True), st.sampled_from(["mm", "in"]))
    def check(values, units):
        part = parts.draw(template.slug, **values)
        assert_can_be_cut(part)
        assert_measured(part)
        assert_in_use_is_dimensioned(template, part, values)
        assert_nothing_can_be_typed(template, part, values)
        assert_typed_draws_the_same(template, values, units)

    check()


def in_use(template: Template, values: dict[str, object], before: Profile, name: str, value: float) -> bool:
    """Whether the drawing changes when a length does; where it can't be changed alone, it is in use."""
    for change in (NUDGE_MM, -NUDGE_MM):
        try:
            with trying():
                after = outlined(template.slug, **{**values, name: value + change})
        except parts.Refused:
            continue
        return not same(outline_of(before), outline_of(after))
    return True


def same_words(one: str, other: str) -> bool:
    """Whether two texts differ in nothing but their numbers, and these by SAME_MM at most."""
    words, others = NUMBER.split(one), NUMBER.split(other)
    numbers = zip(NUMBER.findall(one), NUMBER.findall(other), strict=False)
    return words == others and all(abs(float(a) - float(b)) <= SAME_MM for a, b in numbers)


def same(one: Profile, other: Profile) -> bool:
    """Whether two profiles have the same loops and marks, to SAME_MM."""
    if len(one.boundary) != len(other.boundary) or len(one.marks) != len(other.marks):
        return False
    if not same_words(str(one.marks), str(other.marks)):
        return False
    for a, b in zip(one.boundary, other.boundary, strict=True):
        if len(a.segments) != len(b.segments):
            return False
        for s, t in zip(a.segments, b.segments, strict=True):
            if abs(s.start[0] - t.start[0]) > SAME_MM or abs(s.start[1] - t.start[1]) > SAME_MM:
                return False
            if abs(s.length - t.length) > SAME_MM:
                return False
    return True


def assert_in_use_is_dimensioned(template, part, values):
    profile, parameters = part.profile, template.parameters.read(values)
    shown = {dimension.parameter for dimension in profile.dimensions}
    for name, spec in own(template).items():
        value = getattr(parameters, name)
        if spec.kind != "length" or name in shown or name in UNMEASURED or value <= SAME_MM:
            continue  # of no length there is nothing to show
        if isinstance(parameters, Sized) and parameters.is_sized and parameters.follows(name):
            continue  # the size over all is shown, which it follows in proportion
        bolts = [s.name for s in parameters.specs().values() if s.diameter == name]
        if any(getattr(parameters, bolt) != BY_DIAMETER for bolt in bolts):
            continue  # the bolt sets the hole
        used = in_use(template, values, profile, name, value)
        assert not used, f"{name} is in use at {values} and has no dimension"


def assert_nothing_can_be_typed(template, part, values):
    """Where 0 leaves a length to the template, the drawing shows which: typed, it draws the same part."""
    for shown in part.profile.dimensions:
        if part.record.parameters[shown.parameter] == 0 and shown.measured > SAME_MM:
            typed = outlined(template.slug, **{**values, shown.parameter: shown.measured})
            assert same(outline_of(typed), outline_of(part.profile)), shown.parameter


def assert_typed_draws_the_same(template, values, units):
    """As texts and as plain values, in either unit."""
    drawn = template.parameters.read(values)
    whole = {name: getattr(drawn, name) for name in template.parameters.specs()} | {"units": units}
    part = parts.draw(template.slug, **whole)
    parameters = template.parameters.read(whole)
    assert template.parameters.read(parameters.texts()) == parameters
    assert outlined(template.slug, **parameters.texts()) == part.profile
    by_value = parts.draw(template.slug, **part.record.parameters)
    assert by_value.record == part.record
