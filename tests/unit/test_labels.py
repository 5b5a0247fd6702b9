"""Labels tell the truth: what a label's words say is what is measured there, and each can be read alone."""

import re

import pytest

import parts
from parts.geometry import Arc, distance
from parts.profile import Drill
from parts.spec import Parameters
from tests import library
from tests.depth import some_of
from tests.strategies import quick

NEAR_MM = 1e-6
"""Rounding in sums of coordinates up to 10 m."""
ALONE = re.compile(
    r"^((its|their|them)\b.*|between (them|the two|their.*)|across|along|up|down|apart|in from the edge|diameter|"
    r"radius|step|bend|clearance|how many|turned by|hole|size)$"
    r"|\b(around|beside|of|between|to) (it|them|their|its)$",
    re.IGNORECASE,
)
"""Words that leave open of what."""


def centres(profile):
    """The centres of openings, of their round ends, and of drilled holes."""
    for opening in profile.inside:
        x0, y0, x1, y1 = opening.loop.box
        yield (x0 + x1) / 2, (y0 + y1) / 2
        yield from (s.centre for s in opening.loop.segments if isinstance(s, Arc))
    yield from (mark.at for mark in profile.marks if isinstance(mark, Drill))


def ends_at_holes(profile, shown):
    """Which of a dimension's two ends lie at the centre of a hole: there along its line, or there altogether."""
    level = 1 if shown.style in ("left", "right") else 0
    for end in (shown.start, shown.end):
        away = (distance(end, at) if shown.style == "along" else abs(end[level] - at[level]) for at in centres(profile))
        yield any(each <= NEAR_MM for each in away)


def is_box(profile, shown, sides):
    """Whether it is as long as one of these sides of all there is."""
    x0, y0, x1, y1 = profile.box
    return any(abs(shown.measured - {"x": x1 - x0, "y": y1 - y0}[side]) <= NEAR_MM for side in sides)


SAYS = {
    r"^(?!Tube|Sides).*over all": lambda profile, shown: is_box(profile, shown, "xy"),
    r"^Width over all": lambda profile, shown: is_box(profile, shown, "x"),
    r"^Height over all": lambda profile, shown: is_box(profile, shown, "y"),
    r"^(?!.* or |Tube that).*diameter": lambda profile, shown: shown.style == "diameter",
    r"^(Corner )?[Rr]adius|radius$": lambda profile, shown: shown.style == "radius" or shown.parameter == "radius",
    r"^Height(?! of the (teeth|bar)|.*along the axis)": lambda profile, shown: shown.style in ("left", "right"),
    r"(, | )up$": lambda profile, shown: shown.style in ("left", "right"),
    r"[HhBb]o(le|lt) (spacing|pitch)|[Hh]ole to hole|[Bb]olt to bolt|holes apart": lambda profile, shown: all(
        ends_at_holes(profile, shown)
    ),
    r"[Hh]oles? .*from|[Bb]ack mark|[Hh]ole centres": lambda profile, shown: any(ends_at_holes(profile, shown)),
    r"[Dd]epth|[Ll]ength": lambda profile, shown: shown.style not in ("radius", "diameter"),
}
"""What a label's words say of its dimension."""
ASSEMBLED = {"box-fire-pit"}
"""Its heights and lengths are of what is put together, not of the sheet."""


@pytest.mark.parametrize(
    "slug", [t.slug for t in some_of(24, quick(parts.templates().values()), first=2) if t.slug not in ASSEMBLED]
)
def test_a_label_says_what_is_measured(slug):
    template = parts.templates()[slug]
    presets = some_of(1, template.presets)
    for part in (library.part(slug), *(library.part(slug, preset.name) for preset in presets)):
        for shown in part.profile.dimensions:
            label = template.parameters.specs()[shown.parameter].label
            said = [holds for words, holds in SAYS.items() if re.search(words, label)]
            wrong = [shown for holds in said if not holds(part.profile, shown)]
            assert wrong == [], label


def test_each_label_can_be_read_alone():
    """And no template has one twice."""
    common = Parameters.specs()
    specs = {
        (spec.name, spec.label): slug
        for slug, template in parts.templates().items()
        for spec in template.parameters.specs().values()
        if spec.name not in common
    }
    labels = [(slug, spec.label) for slug, t in parts.templates().items() for spec in t.parameters.specs().values()]
    assert len(set(labels)) == len(labels)
    assert [(slug, *of) for of, slug in specs.items() if ALONE.search(of[1])] == []
    assert len(specs) > 700
