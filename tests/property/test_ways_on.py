"""The ways on from a refusal: one at least, and each, taken, is drawn; the first changes the least."""

import pytest
from hypothesis import Phase, given
from hypothesis import strategies as st

import parts
from parts.part import outlined
from parts.ways import MOST, ways_on
from tests.depth import several, tried
from tests.strategies import quick, values_for

TEMPLATES = quick(parts.templates().values())
DEAR = [
    ("sign-letters", {
        "font": "rounded", "overlap": "0.10874", "corners": "round", "hang": "none", "overall_height": "0.10874mm",
        "ends": "0.10874", "bar": "0.10874mm", "mending": "0.10874",
    }),
]  # fmt: skip
"""Of what takes seconds to draw: it took minutes to look for a way on."""


def refused(slug, values):
    """Why values are refused; nothing where they are drawn."""
    try:
        outlined(slug, **values)
    except parts.Refused as error:
        return error.problems
    return ()


def assert_leads_on(slug, values):
    """That what is refused has ways on, and that each is drawn."""
    problems = refused(slug, values)
    if not problems:
        return
    ways = ways_on(slug, values, problems)
    assert 1 <= len(ways) <= MOST
    for way in ways:
        assert way.changes
        assert way.text
        assert refused(slug, {**values, **way.changes}) == (), way
    assert [len(way.changes) for way in ways] == sorted(len(way.changes) for way in ways)


@tried(2000, everyday=30, phases=[Phase.explicit, Phase.generate])
@given(data=st.data())
def test_each_way_on_from_any_refusal_is_drawn(data):
    template = data.draw(st.sampled_from(TEMPLATES))
    specs = template.parameters.specs()
    values = {name: specs[name].text(value) for name, value in data.draw(values_for(template)).items()}
    assert_leads_on(template.slug, values)


@pytest.mark.parametrize(("slug", "values"), [
    ("gusset-triangle", {"toe": "4,5"}),
    ("gusset-triangle", {"toe": "400", "snipe": "", "units": "in"}),
    ("gusset-triangle", {"material": "brass", "thickness": "300"}),
    ("gusset-triangle", {"process": "lasr", "bolt": "M7", "hole": "0.001"}),
    ("bracket-bent-z", {"thickness": "77"}),
    ("silhouette-moon-cloud", {"moon_radius": "720", "height": "654", "end_radius": "8.7"}),
    ("square-test", {"inside_size": "200"}),
    ("silhouette-gear", {"eye": "8.728", "foot": "stake", "units": "in"}),
    ("silhouette-leaf", {"vein_pairs": "-3"}), *several([], DEAR),
])  # fmt: skip
def test_what_can_not_be_read_or_is_not_cut_leads_on_too(slug, values):
    assert refused(slug, values)
    assert_leads_on(slug, values)
