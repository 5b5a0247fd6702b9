"""Leavings within the tolerance of healing change no verdict; beyond it they are told."""

import random
from collections import Counter

import pytest

import parts
from parts import Checked
from tests.depth import first_number, several
from tests.property import leavings
from tests.property.leavings import LEAVINGS, Drawn

PARTS = several(2, deep=600)
TOGETHER = several(8, deep=2000)
FIRST = first_number()
BELOW = (2e-4, 0.01, 0.015, 0.3, 0.7, 0.95)
"""Sizes in tolerances; 0.015 is 0.0015 mm of 0.1 mm."""


def check(drawn: Drawn) -> Checked:
    return parts.check(leavings.as_dxf(drawn), "p.dxf", thickness=drawn.thickness, process=drawn.process)


def stops(checked: Checked) -> Counter[str]:
    return Counter(finding.rule for finding in checked.part.findings if finding.severity == "stop")


def doubtful(checked: Checked) -> set[str]:
    """Rules that measured something so near to their limit that a move within the tolerance decides."""
    return {
        finding.rule
        for finding in checked.part.findings
        if finding.rule != "loops" and finding.measured is not None and finding.limit is not None
        and abs(finding.measured - finding.limit) <= 2.5 * checked.tolerance_mm
    }  # fmt: skip


def differing(before: Checked, after: Checked) -> set[str]:
    """The rules that stop one drawing and not the other, or elsewhere more often."""
    was, now = stops(before), stops(after)
    return {rule for rule in was | now if was[rule] != now[rule]} - doubtful(before) - doubtful(after)


@pytest.mark.parametrize("size", ["below", "at"])
@pytest.mark.parametrize("kind", LEAVINGS)
def test_within_the_tolerance_the_verdict_is_that_of_the_clean_drawing(kind, size):
    wrong = {}
    for number in range(FIRST, FIRST + PARTS):
        clean, rng = leavings.clean(number), random.Random(f"{kind}{size}{number}")
        before = check(clean)
        mm = before.tolerance_mm * (1.0 if size == "at" else rng.choice(BELOW))
        after = check(leavings.leave(clean, kind, mm, rng))
        told = [mend.size_mm for mend in after.mends if mend.size_mm > before.tolerance_mm + 1e-5]
        if different := differing(before, after) or told:
            wrong[number] = (mm, different, after.healed, [finding.message for finding in after.part.findings])
    assert not wrong


def test_several_leavings_in_one_drawing_are_healed_together():
    """Where they meet in one place they may come to more than the tolerance together: one in a hundred does."""
    wrong = {}
    for number in range(FIRST, FIRST + TOGETHER):
        clean, rng = leavings.clean(number), random.Random(number)
        before = check(clean)
        spoilt = clean
        for _ in range(4):
            mm = before.tolerance_mm * rng.choice([2e-4, 0.01, 0.1, 0.3, 0.45])
            spoilt = leavings.leave(spoilt, rng.choice(list(LEAVINGS)), mm, rng)
        after = check(spoilt)
        if different := differing(before, after):
            wrong[number] = (different, after.healed, [finding.message for finding in after.part.findings])
    assert len(wrong) <= TOGETHER // 100, wrong


@pytest.mark.parametrize("kind", ["gap", "short", "double", "tail", "stray", "spike"])
def test_beyond_the_tolerance_it_is_told(kind):
    """Healed all the same is only what moves nothing by more: a line that ends past another and is trimmed to it."""
    silent = {}
    for number in range(FIRST, FIRST + PARTS):
        clean, rng = leavings.clean(number), random.Random(number)
        before = check(clean)
        spoilt = leavings.leave(clean, kind, 2.1 * before.tolerance_mm, rng)
        if (spoilt.rings, spoilt.extra) == (clean.rings, clean.extra):
            continue  # it would shorten a line, and an arc was chosen
        after = check(spoilt)
        moved = [mend.size_mm for mend in after.mends]
        if stops(after)["loops"] <= stops(before)["loops"] and (not moved or max(moved) > before.tolerance_mm + 1e-5):
            silent[number] = (after.healed, after.part.findings)
    assert not silent
