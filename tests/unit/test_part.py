"""The pipeline: what a drawn part holds, and what refuses to be one."""

import math
from urllib.parse import parse_qsl, urlsplit

import pytest

import parts
from parts.geometry.segment import Arc
from parts.part import address

GUSSET = "gusset-triangle"


def refusal(**values: object) -> list[tuple[str, str, str]]:
    with pytest.raises(parts.Refused) as refused:
        parts.draw(GUSSET, **values)
    return [(p.parameter, p.value, p.message) for p in refused.value.problems]


def test_measures_of_a_gusset_by_hand():
    """100 by 100, toe 12, snipe 15, sharp corners, 6 mm mild steel (7.85 g/cm³), two holes of 11."""
    part = parts.draw(GUSSET, corner_radius=0, holes_a=2)
    area = 12 * 100 + (100 - 12) * (100 + 12) / 2 - 15**2 / 2 - 2 * math.pi * 5.5**2
    m = part.measures
    assert m.area_mm2 == pytest.approx(area)
    assert m.cut_length_mm == pytest.approx(2 * 85 + 2 * 12 + 88 * math.sqrt(2) + 15 * math.sqrt(2) + 22 * math.pi)
    assert (m.pierces, m.loops, m.width_mm, m.height_mm, m.drill_centres) == (3, 3, 100, 100, 0)
    assert m.mass_kg == pytest.approx(area * 6 * 7.85e-6)
    assert m.scribe_length_mm == 0
    assert m.cutting_time_s == pytest.approx(m.cut_length_mm / part.record.job.cut.feed_mm_s, rel=0.2)
    assert m.pierce_time_s == pytest.approx(3 * 0.45)


def test_the_profile_sits_at_the_origin_with_the_material_on_the_left():
    profile = parts.draw(GUSSET, holes_a=1, first_hole=75, lightening=30).profile
    assert profile.box == pytest.approx((0, 0, 100, 100))
    assert [loop.counter_clockwise for loop in profile.outside] == [True]
    assert [opening.loop.counter_clockwise for opening in profile.inside] == [False] * 2
    assert sum(isinstance(s, Arc) for s in profile.outside[0].segments) == 4


def test_small_holes_are_drilled_unless_asked():
    cut = parts.draw(GUSSET, holes_a=2, bolt="M4", small_holes="cut")
    drilled = parts.draw(GUSSET, holes_a=2, bolt="M4")
    assert [f.rule for f in cut.findings] == ["hole-to-thickness"] * 2
    assert [(f.rule, f.severity) for f in drilled.findings] == [("hole-making", "note")]
    assert (drilled.measures.pierces, drilled.measures.drill_centres) == (1, 2)
    assert drilled.profile.marks[0].at == pytest.approx((35, 20))


def test_what_a_finding_says_to_change_clears_it():
    values = {"holes_a": 2, "bolt": "M4", "small_holes": "cut"}
    (finding, _) = parts.draw(GUSSET, **values).findings
    assert parts.draw(GUSSET, **{**values, **dict(finding.changes)}).findings == ()


def test_an_unknown_template():
    with pytest.raises(parts.UnknownTemplate) as unknown:
        parts.draw("gusset-sadle")
    (problem,) = unknown.value.problems
    assert (problem.parameter, problem.value) == ("template", "gusset-sadle")
    assert "did you mean gusset-saddle?" in problem.message
    with pytest.raises(parts.UnknownTemplate) as unknown:
        parts.draw("xylophone")
    assert "gusset-triangle" in str(unknown.value)


def test_a_slug_is_never_taken_for_a_parameter():
    assert refusal(slug=1) == [("slug", "1", "is not a parameter of this template.")]


@pytest.mark.parametrize(
    ("values", "problems"),
    [
        ({"holes_a": 2, "pitch": 11}, [("pitch", "11 mm", "must be more than 11 mm to keep metal between the holes.")]),
        ({"holes_a": 1, "first_hole": 150}, [("first_hole", "150 mm", "must be less than 84.221 mm on leg A.")]),
        ({"lightening": 80}, [("lightening", "80 mm", "must be less than 65.608 mm to keep metal all round.")]),
        (
            {
                "leg_a": 200,
                "leg_b": 200,
                "toe": 60,
                "corner_radius": 30,
                "holes_a": 1,
                "first_hole": 190,
                "back_mark": 10,
            },
            # as far from the fillet as a leg 6 mm longer has it, in whole mm
            [
                (
                    "holes_a",
                    "1",
                    "the hole in leg A runs over the edge: make “Leg along the base” 206 mm or more, or make it 0.",
                )
            ],
        ),
        ({"toe": 86}, [("snipe", "15 mm", "must be less than 14 mm beside the toe on the shorter leg.")]),
        ({"thickness": 140}, None),
        ({"process": "laser", "material": "granite"}, None),
        ({"leg_a": 10**400}, [("leg_a", str(10**400), f"{'1' + '0' * 39} can't be read as a length.")]),
    ],
)
def test_what_cant_be_drawn_is_refused_by_name(values, problems):
    found = refusal(**values)
    if problems is None:
        assert {name for name, _, _ in found} <= {*values}
    else:
        assert found == problems


@pytest.mark.parametrize(
    "values",
    [{}, {"leg_a": "6 in", "holes_a": 3}, {"units": "in", "leg_a": "4-1/16", "thickness": "10 ga", "bolt": "3/8"},
     {"leg_a": 100 / 3 + 50, "notes": True}],
)  # fmt: skip
def test_the_address_alone_draws_the_part_again(values):
    part = parts.draw(GUSSET, **values)
    url = urlsplit(part.record.address)
    again = parts.draw(url.path.removeprefix("/parts/"), **dict(parse_qsl(url.query, strict_parsing=bool(url.query))))
    assert again.record == part.record


def test_addresses_are_plain():
    assert address("a-b", {}) == "/parts/a-b"
    assert address("a-b", {"bolt": "5/16", "text": "A & B"}) == "/parts/a-b?bolt=5/16&text=A%20%26%20B"


def test_cautions_are_those_of_the_template_the_material_and_the_process():
    part = parts.draw(GUSSET)
    assert part.cautions[0] == part.record.template.cautions[0]
    assert set(part.record.job.cut.cautions) <= set(part.cautions)
    assert len(set(part.cautions)) == len(part.cautions)


def test_a_part_is_shown_by_the_address_that_draws_it():
    assert repr(parts.draw("gusset-triangle", leg_a=150)) == "<Part /parts/gusset-triangle?leg_a=150mm>"


def test_each_format_of_the_interface_has_its_method():
    part = parts.draw(GUSSET)
    texts = {"dxf": part.to_dxf(), "svg": part.to_svg(), "json": part.to_json()}
    assert {kind: text.encode() for kind, text in texts.items()} == {kind: part.file(kind) for kind in texts}
    assert part.to_pdf() == part.file("pdf")
