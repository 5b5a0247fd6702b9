"""Where inches are worked in: defaults, presets and limits are the sizes that a shop chooses, and they draw."""

import re
from fractions import Fraction

import pytest

import parts
from parts.spec import Parameters, Preset, default_of
from parts.units import (
    MM_PER_IN,
    format_length,
    inch_least,
    inch_length,
    inch_most,
    inch_plate,
    inch_stock,
    parse_length,
)
from tests import library
from tests.depth import one_in, some_of

SAID = re.compile(r"[0-9]+|(?:[0-9]+-)?[0-9]+/(?:2|4|8|16|32|64)|[0-9]*\.[0-9]{1,3}")
"""A whole number, a fraction to 64ths, or thousandths."""
OF_THE_SHOP = {"bed_x", "bed_y", "sheet_x", "sheet_y"}


def number(mm):
    return format_length(mm, "in").removesuffix(" in")


@pytest.mark.parametrize(
    ("mm", "said"),
    [(0, "0"), (0.3, "0.012"), (0.5, "1/64"), (1, "1/32"), (3, "1/8"), (5, "3/16"), (6, "1/4"), (10, "3/8"),
     (12, "1/2"), (15, "5/8"), (20, "3/4"), (25, "1"), (35, "1-1/2"), (60, "2-1/2"), (100, "4"), (250, "10"),
     (1250, "48"), (1800, "72"), (88.9, "3-1/2"), (1320.8, "52"), (43.65625, "1-23/32")],
)  # fmt: skip
def test_a_length_becomes_the_size_chosen_nearest_to_it(mm, said):
    """Common practice: thousandths, 64ths, 32nds, 16ths, eighths, quarters, halves, whole inches as it grows."""
    assert number(inch_length(mm)) == said
    assert inch_length(inch_length(mm)) == inch_length(mm), "a size chosen is its own"


def test_sizes_never_change_places_and_stay_near():
    sizes = [mm for tenths in range(3, 6000, 7) if inch_length(mm := tenths / 10) != mm]
    inches = [inch_length(mm) for mm in sizes]
    assert inches == sorted(inches)
    assert all(abs(one - other) <= 0.22 * one for one, other in zip(sizes, inches, strict=True))


@pytest.mark.parametrize(
    ("mm", "plate", "stock"),
    [(1.5, "1/16", "16 ga"), (2, "3/32", "14 ga"), (3, "1/8", "1/8"), (5, "3/16", "3/16"), (6, "1/4", "1/4"),
     (8, "5/16", "5/16"), (10, "3/8", "3/8"), (12, "1/2", "1/2"), (20, "3/4", "3/4"), (25, "1", "1")],
)  # fmt: skip
def test_plate_is_what_is_on_the_rack(mm, plate, stock):
    """Common practice; steel gauges by their table, 16 ga 0.0598 in."""
    assert number(inch_plate(mm)) == plate
    assert inch_stock(mm, "steel") == stock


@pytest.mark.parametrize(
    ("least", "most", "said"), [(25, 1500, ("1", "59")), (10, 300, ("7/16", "11-3/4")), (0.3, 3, ("0.012", "3/32"))]
)
def test_limits_are_said_to_the_inside(least, most, said):
    assert (number(inch_least(least)), number(inch_most(most))) == said
    assert least <= inch_least(least) < inch_most(most) <= most


@pytest.mark.parametrize("slug", some_of(31, library.SLUGS))
def test_in_inches_a_default_is_a_sound_part(slug):
    part = library.part(slug, units="in")
    assert [f.message for f in part.findings if f.severity == "stop"] == []
    assert part.record.template.parameters.read({"units": "in"}).texts() == {"units": "in"}
    for name, spec in part.record.specs.items():
        assert name == "units" or default_of(spec, "in") == part.record.parameters[name], name


def test_in_inches_every_default_is_a_size_a_shop_says():
    for slug, template in parts.templates().items():
        for name, spec in template.parameters.specs().items():
            value = default_of(spec, "in")
            assert not (spec.is_bolt and str(value).startswith("M")), (slug, name)
            if spec.kind == "length":
                least, most = map(parse_length, spec.limits("in").split(" to "))
                assert SAID.fullmatch(number(value)), (slug, name, number(value))
                assert least - 1e-9 <= value <= most + 1e-9, (slug, name, spec.limits("in"))
                assert bool(value) == bool(spec.default), f"{slug} {name}: 0 stands for what the template settles"


def test_in_inches_every_preset_is_a_sound_part():
    """Drawn is one in eight, in a deep run each; what they say is looked at of all."""
    for at, (slug, template) in enumerate(parts.templates().items()):
        assert len({preset.name_in("in") for preset in template.presets}) == len(template.presets), slug
        drawn = one_in(8, template.presets, at % 8)
        for preset in template.presets:
            values = preset.values_in("in", template.parameters)
            if preset in drawn:
                assert_sound(slug, preset, values)
            if preset.is_metric:
                continue
            assert not re.search(r"\bmm\b|\b(?:EN|ISO|DN|PN) ?[0-9]", preset.name_in("in")), preset.name
            for name, text in values.items():
                if template.parameters.specs()[name].kind == "length" and not text.endswith("ga"):
                    assert SAID.fullmatch(text), (slug, preset.name, name, text)


def assert_sound(slug, preset, values):
    part = parts.draw(slug, **{"units": "in", **values})
    assert [f.message for f in part.findings if f.severity == "stop"] == [], (slug, preset.name)
    if preset.is_metric:
        assert loops(part) == loops(library.part(slug, preset.name)), f"{slug} {preset.name} is to stay as it is"


def loops(part):
    """What is cut; numbers that are scribed beside it are in the working units."""
    return part.profile.outside, [opening.loop for opening in part.profile.inside]


def test_a_preset_says_what_is_otherwise_in_inches():
    specs = parts.templates()["gusset-triangle"].parameters
    preset = Preset("Any", "leg_a=100 leg_b=6in thickness=1.5 bolt=M12 snipe=0", inches="toe=3/4", inch_name="Other")
    values = preset.values_in("in", specs)
    assert values == {"leg_a": "4", "leg_b": "6", "thickness": "16 ga", "bolt": "1/2", "snipe": "0", "toe": "3/4"}
    assert preset.values_in("mm", specs) == preset.values
    assert (preset.name_in("mm"), preset.name_in("in")) == ("Any", "Other")


def test_values_given_mean_what_they_say_and_the_rest_is_of_the_units():
    """An address says what differs from the defaults of its own units, so that it alone draws the same part."""
    part = parts.draw("gusset-triangle", units="in", leg_a="100 mm", thickness="6mm")
    assert (part.record.parameters["leg_a"], part.record.parameters["leg_b"]) == (100, 4 * MM_PER_IN)
    assert part.record.address == "/parts/gusset-triangle?leg_a=100mm&thickness=6mm&units=in"
    plain = parts.draw("gusset-triangle", leg_b="4in")
    assert plain.record.address == "/parts/gusset-triangle?leg_b=101.6mm"


def test_a_bolt_that_is_the_default_is_said_beside_a_diameter_of_mm():
    """Left out, the diameter by itself would set the hole: the same part is to be drawn from what is said of it."""
    washer = parts.templates()["plate-washer"].parameters
    given = washer.read({"bolt": "3/4", "hole": 11.0, "units": "in"})
    assert given.bolt == default_of(washer.specs()["bolt"], "in")
    assert washer.read(given.texts()) == given


def test_a_hint_says_its_lengths_in_inches():
    """0.1 and 0.25 mm are common practice on each side of a tab in its slot: 0.004 in and 0.01 in."""
    spec = parts.templates()["box-tray"].parameters.specs()["side_clearance"]
    assert "0.004 to 0.01 in (common practice)" in spec.help_in("in")
    assert spec.help_in("mm") == spec.help


def test_the_bed_of_inches_is_the_built_in_one():
    for name in OF_THE_SHOP:
        spec = Parameters.specs()[name]
        assert default_of(spec, "in") == spec.default
        assert Fraction(str(spec.default)) / Fraction("25.4") == int(spec.default / 25.4)
