"""Bent profile: the flats of the angle, U, Z and hat once more, what can't be bent, and every number of bends."""

import pytest

import parts
from parts.errors import Refused

SLUG = "bracket-bent-profile"
BARE = {"corner_radius": 5, "width": 80, "thickness": 4}
ALIKE = [
    ("bracket-bent-angle", "flange_a=50 flange_b=40 bend=70", "bends=1 piece_1=50 piece_2=40 bend_1=70"),
    ("bracket-bent-z", "flange_a=50 web=45 flange_b=40 bend=80",
     "bends=2 piece_1=50 piece_2=45 piece_3=40 bend_1=80 bend_2=-80"),
    ("bracket-bent-hat", "foot=45 side=50 top=70 bend=75",
     "bends=4 piece_1=45 piece_2=50 piece_3=70 piece_4=50 piece_5=45 bend_1=75 bend_2=-75 bend_3=-75 bend_4=75"),
]  # fmt: skip


def values(text):
    return dict(each.split("=") for each in text.split())


@pytest.mark.parametrize(("slug", "theirs", "ours"), ALIKE)
def test_it_draws_the_flats_of_the_others(slug, theirs, ours):
    without = {name: 0 for name in parts.templates()[slug].parameters.specs() if name.startswith("holes_")}
    other = parts.draw(slug, **BARE, **values(theirs), **without)
    own = parts.draw(SLUG, **BARE, **values(ours))
    assert own.profile.outside == other.profile.outside
    assert own.profile.marks == other.profile.marks
    assert own.record.template.parameters.read(own.record.parameters).bent_size == pytest.approx(
        other.record.template.parameters.read(other.record.parameters).bent_size, abs=1e-6
    )


def test_each_number_of_bends_is_drawn_and_the_flat_is_the_sum_less_the_deductions():
    for count in range(1, 9):
        part = parts.draw(SLUG, bends=count, holes_a=2, bolt="M5", mark_a=9, first=15)
        marks = part.profile.marks
        assert len(marks) == count
        p = part.record.template.parameters.read(part.record.parameters)
        deductions = sum(fold.deduction for fold in p.folds)
        assert part.measures.width_mm == pytest.approx(sum(p.outside) - deductions, abs=1e-9)
        assert not part.stopped


@pytest.mark.parametrize(
    ("text", "parameter", "words"),
    [
        ("bend_2=0", "bend_2", "must be 5° or more"),
        ("piece_2=12", "piece_2", "between its bends"),
        ("piece_1=6", "piece_1", "beyond its bend"),
        ("piece_5=110", "piece_5", "runs into a piece before it"),
        ("piece_1=60 piece_5=60", "piece_5", "runs into a piece before it"),
        ("holes_a=1 mark_a=3", "mark_a", "inside the end"),
        ("holes_b=1 mark_b=24", "mark_b", "clear the bend"),
    ],
)
def test_what_cant_be_bent_is_refused(text, parameter, words):
    with pytest.raises(Refused) as refused:
        parts.draw(SLUG, **values(text))
    assert any(p.parameter == parameter and words in p.message for p in refused.value.problems)
