"""The tolerance of healing: as asked, or the usual, never more than a third of the kerf; and stated in the result."""

import json

import pytest

import parts
from parts.cutting.process import cut_for
from parts.errors import Problem
from tests.files.foreign import INCH, circle, dxf, line
from tests.unit.test_own import box

KERF = cut_for("air-plasma", "mild-steel", 6.0).kerf_mm


def gap(mm: float) -> bytes:
    return dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50 + mm, 40, 0, 40) + line(0, 40, 0, 0))


def check(data: bytes, **values) -> parts.Checked:
    return parts.check(data, "p.dxf", **{"thickness": 6, **values})


@pytest.mark.parametrize(
    ("tolerance", "mm", "closed"),
    [(None, 0.1, True), (None, 0.11, False), ("", 0.1, True), (0.05, 0.05, True), (0.05, 0.06, False),
     ("0.05 mm", 0.06, False),     ("0.3", 0.25, True), ("0.01 in", 0.25, True), ("0.01 in", 0.26, False),
     ("1/64 in", 0.39, True), (0.6, 0.6, True)],
    ids=str,
)  # fmt: skip
def test_gaps_are_joined_up_to_it(tolerance, mm, closed):
    checked = check(gap(mm), tolerance=tolerance)
    assert checked.closed == closed
    if not closed:
        (finding,) = checked.part.findings
        assert (finding.measured, finding.limit) == (pytest.approx(mm), checked.tolerance_mm)


@pytest.mark.parametrize(
    ("process", "thickness", "tolerance"),
    [("air-plasma", 6, 0.1), ("waterjet", 10, 0.1), ("laser", 1, None), ("laser", 3, None)],
)
def test_it_is_never_more_than_a_third_of_the_kerf(process, thickness, tolerance):
    third = cut_for(process, "mild-steel", thickness).kerf_mm / 3
    asked = {"process": process, "thickness": thickness}
    assert check(dxf(box(50, 40)), **asked).tolerance_mm == pytest.approx(tolerance or third)
    assert check(dxf(box(50, 40)), **asked, tolerance=third).tolerance_mm == pytest.approx(third)


@pytest.mark.parametrize("said", ["0.67", "1 mm", "-0.1", "0", "1/1000000 in", 5, float("nan"), "0.0005"])
def test_more_or_less_is_refused(said):
    with pytest.raises(parts.Refused) as refused:
        check(dxf(box(50, 40)), tolerance=said)
    assert refused.value.problems == (
        Problem("tolerance", str(said),
                f"must be 0.001 mm to 0.661 mm: no more than a third of the kerf, {KERF:.6g} mm here, may be healed."),
    )  # fmt: skip


@pytest.mark.parametrize("said", ["a hair", "0.1 furlong", True])
def test_what_is_no_length_is_refused(said):
    with pytest.raises(parts.Refused) as refused:
        check(dxf(box(50, 40)), tolerance=said)
    (problem,) = refused.value.problems
    assert (problem.parameter, problem.value) == ("tolerance", str(said))


def test_a_bare_number_is_in_the_drawings_units():
    checked = check(dxf(box(4, 2), units=INCH), thickness="1/4 in", tolerance="0.01")
    assert checked.tolerance_mm == pytest.approx(0.254)


def test_it_is_refused_together_with_no_other_value_twice():
    with pytest.raises(parts.Refused) as refused:
        check(dxf(box(50, 40)), thickness=900, tolerance="1")
    assert [problem.parameter for problem in refused.value.problems] == ["thickness"]


def test_each_mend_is_in_the_json_with_its_size_and_place():
    drawn = gap(0.03) + b""
    twice = dxf(line(0, 0, 50, 0) + line(0, 0.02, 50, 0.02) + line(50, 0, 50, 40) + line(50.03, 40, 0, 40)
                + line(0, 40, 0, 0) + circle(20, 20, 8) + circle(20.05, 20, 8) + line(30, 10, 30.04, 10))  # fmt: skip
    said = json.loads(check(twice).to_json())
    assert said["tolerance_mm"] == 0.1
    assert sorted((m["kind"], round(m["size_mm"], 6)) for m in said["mends"]) == [
        ("double", 0.02), ("gap", 0.03), ("outline", 0.05), ("stray", 0.04),
    ]  # fmt: skip
    (joined,) = (m for m in said["mends"] if m["kind"] == "gap")
    assert joined["at"] == pytest.approx([50, 40], abs=0.05)
    assert check(drawn).healed == ("joined 1 gap of up to 0.03 mm",)


def test_a_few_sizes_stand_in_the_sentence_one_by_one():
    drawn = dxf(
        box(50, 40) + "".join(line(5 * i, 10, 5 * i + size, 10) for i, size in enumerate((0.01, 0.05, 0.02), 1))
    )
    assert check(drawn).healed == ("dropped 3 stray lines of up to 0.05 mm (0.01 mm, 0.02 mm, 0.05 mm)",)


@pytest.mark.parametrize("scale", [1, 2, 600])
def test_it_is_the_same_for_a_jewel_and_for_a_gate(scale):
    """A plate of 5 mm to 3 m with a hair in its outline and in its hole."""
    w, h, r = 5 * scale, 3 * scale, 0.6 * scale
    drawn = line(0, 0, w, 0) + line(w, 0.04, w, h) + line(w, h, 0, h) + line(0, h, 0, 0)
    half = "0\nARC\n8\n0\n10\n{}\n20\n{}\n40\n{}\n50\n{}\n51\n{}\n"
    drawn += half.format(w / 2, h / 2, r, 0, 180) + half.format(w / 2 + 0.02, h / 2, r, 180, 360)
    checked = check(dxf(drawn), thickness=1, process="laser")
    (hole,) = checked.part.profile.inside
    assert hole.loop.circle.diameter == pytest.approx(2 * r, abs=0.04)
    assert max(mend.size_mm for mend in checked.mends) <= checked.tolerance_mm
