"""No step in a flat: a hair more of radius, thickness or angle makes a hair more or less of length, and never a jump.

A jump is what a step changes beyond the run of the steps beside it: the flat follows its dimensions by itself, by
2 tan(A/2) - A of each millimetre of radius at a bend of A. Over radius and angle the whole change is held as well.
"""

import math
from functools import cache
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.geometry.reach import envelope, extreme_at
from parts.part import outlined
from parts.shop import held
from parts.templates.shared.bent import Bent
from tests.depth import DEEP, one_in, tried

PAN = "box-pan"  # a cross of four sides: tests/property/test_folded.py folds it
BENT = {slug: t for slug, t in parts.templates().items() if issubclass(t.parameters, Bent) and slug != PAN}
MOST_MM = 0.02
STEP = 0.01  # mm or degrees
FINE = STEP / 4  # over the thickness, where a row of V turns the slope: a bend in a curve shrinks with it, no jump does
MATERIALS = ("mild-steel", "stainless-steel", "aluminium")
LARGE = {
    "bracket-bent-angle": "flange_a=300 flange_b=300 mark_a=200 mark_b=200",
    "bracket-bent-profile": "bends=3 piece_1=300 piece_2=300 piece_3=400 piece_4=300 bend_3=-90",
    "bracket-bent-hat": "top=400 side=300 foot=300 mark=200",
    "bracket-bent-u": "flange_a=300 web=400 flange_b=300 mark=200",
    "bracket-bent-z": "flange_a=300 web=400 flange_b=300 mark_a=200 mark_b=200",
    "bracket-pipe-saddle": "rise=300 foot=300 mark=200 pipe_od=400",
    "bumper-skid": "lip=300 body=1000",
    "gusset-flange-brace": "leg_a=900 leg_b=900 flange=300 ends=350 toe=60",
}
"""Room for any bend between 0.5 and 20 mm of sheet."""
ANGLED = [slug for slug, t in BENT.items() if "bend" in t.parameters.specs()]
CUT = {"process": "waterjet"}


def flat_length(slug, **values):
    """How long the flat is square to its first bend, mm."""
    given_words = dict(word.split("=") for word in LARGE[slug].split())
    profile = outlined(slug, **given_words, **CUT, **values)
    line = next(mark.line for mark in profile.marks if mark.kind == "bend")
    across = math.atan2(*reversed(line.heading)) + math.pi / 2
    reach = envelope(profile.outside)
    return sum(extreme_at(reach, way).support(way) for way in (across, across + math.pi))


def jump(at, x, step=STEP):
    """What the step from x changes, and what of that isn't the run of the steps beside it."""
    before, here, there, beyond = (at(x + i * step) for i in (-1, 0, 1, 2))
    return abs(there - here), abs(there - here - (here - before + beyond - there) / 2)


def test_every_bent_template_is_looked_at():
    assert set(LARGE) == set(BENT)


@pytest.mark.parametrize(
    ("slug", "thickness", "formula"), one_in(3, product(BENT, [1.0, 6.0, 12.0], ["handbook", "din-6935"]))
)
def test_over_the_radius(own_file, slug, thickness, formula):
    """Where tables of K step, at R of 1 and 3 T, where DIN's formula ends, and between."""
    own_file.write_text(f'[brake]\nk_by = "{formula}"\n')
    for ratio in (0.1, 0.65, 1, 3, 5.011):
        whole, beside = jump(lambda r: flat_length(slug, thickness=thickness, bend_radius=r), ratio * thickness)
        assert whole <= MOST_MM, (ratio, whole)
        assert beside <= MOST_MM, (ratio, beside)


@pytest.mark.parametrize("slug", BENT)
def test_six_millimetres_of_radius_and_a_hundredth_more(slug):
    """6 mm sheet: from R = T to a hair beyond it."""
    by = [flat_length(slug, thickness=6, bend_radius=r) for r in (6, 6.01)]
    assert abs(by[1] - by[0]) <= MOST_MM


@pytest.mark.parametrize("slug", BENT)
@pytest.mark.parametrize("material", MATERIALS)
def test_over_the_thickness(slug, material):
    """At rows of V openings and least radii, where one takes over from the other, and a little beside.

    Of an everyday run each template is asked at a third of them in each metal, the next at others.
    """
    rows = (0.79375, 1.5, 1.5875, 2.5, 3, 3.175, 4, 5, 6, 7, 8, 9.5, 10, 12, 12.7, 15.8)
    for row in rows if DEEP else rows[(MATERIALS.index(material) + list(BENT).index(slug)) % 3 :: 3]:
        at = cache(lambda t: flat_length(slug, thickness=t, material=material))
        for first in (-2, -1):  # the step up to the row, and the one from it on
            short, here, there, beyond = (at(row + (first + i) * FINE) for i in range(4))
            beside = abs(there - here - (here - short + beyond - there) / 2)
            assert beside <= MOST_MM, (row, beside)


@pytest.mark.parametrize("slug", ANGLED)
def test_over_the_angle(slug):
    for degrees in (16, 30, 45, 60, 75, 89.5):
        whole, beside = jump(lambda a: flat_length(slug, thickness=6, bend=a), degrees)
        assert whole <= MOST_MM, (degrees, whole)
        assert beside <= MOST_MM, (degrees, beside)


@pytest.mark.parametrize("slug", BENT)
@tried(25)
@given(data=st.data())
def test_anywhere(slug, data):
    thickness = data.draw(st.floats(0.6, 19.9))
    material = data.draw(st.sampled_from(MATERIALS))
    radius = data.draw(st.floats(0.1, 30))
    with held():
        whole, _ = jump(lambda r: flat_length(slug, thickness=thickness, material=material, bend_radius=r), radius)
        _, beside = jump(lambda t: flat_length(slug, thickness=t, material=material), thickness, FINE)
    assert max(whole, beside) <= MOST_MM
