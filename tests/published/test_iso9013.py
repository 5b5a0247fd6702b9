"""Every cell of the limit deviations against tests/reference/iso9013_limits.csv, copied apart from the data file."""

import csv
import math
from pathlib import Path

import pytest

import parts
from parts.cutting.expected import expected, limit, outside, tolerance_class
from parts.cutting.process import PROCESSES
from parts.geometry.draft import circle, rectangle
from parts.geometry.motion import rotation

REFERENCE = Path(__file__).parents[1] / "reference" / "iso9013_limits.csv"
_, *LINES = REFERENCE.read_text(encoding="utf-8").splitlines()
ROWS = list(csv.DictReader(LINES))


def ranges(row):
    """Each column's range of sizes and what stands there, None where it is blank."""
    for name, text in row.items():
        if name.startswith("pm_nominal_"):
            low, high = name.removeprefix("pm_nominal_").split("_to_")
            yield float(low), float(high), float(text) if text else None


CELLS = [
    (int(row["tolerance_class"]), float(row["thickness_over_mm"]), float(row["thickness_to_mm"]), *cell, row["check"])
    for row in ROWS
    for cell in ranges(row)
]


def test_the_reference_is_whole():
    assert len(CELLS) == 27 * 10
    assert sum(cell[5] is not None for cell in CELLS) == 209


@pytest.mark.parametrize("tolerance_class", sorted({cell[0] for cell in CELLS}))
def test_every_cell_at_its_beginning_within_and_just_under_its_end(tolerance_class):
    for cell in CELLS:
        if cell[0] == tolerance_class:
            assert_cell_is_published(*cell)


def assert_cell_is_published(kept, over, to, low, high, value, check):
    """Sizes hold from their lower end to under their upper one, as the 2017 tables head them; thicknesses up to it."""
    for thickness in (math.nextafter(over, math.inf), (over + to) / 2, to):
        for size in (low or math.nextafter(0, 1), (low + high) / 2, math.nextafter(high, 0)):
            found = limit(kept, thickness, size)
            assert check.startswith("memory") or (found and found.limit_mm) == value
            assert found is None or found.recalled == check.startswith("memory")


HEADING = "0 to <3, >=3 to <10, >=10 to <35, >=35 to <125, >=125 to <315, >=315 to <1000, >=1000 to <2000"
"""Of the columns of nominal sizes, on a page that reprints the tables of the 2017 edition (seen)."""


def test_a_size_at_a_boundary_belongs_to_the_column_that_begins_there():
    """125 mm in 6 mm plate: 1.1 by class 2, not the 0.9 of 35 to under 125; the column's own heading says so."""
    begin = [float(each.split(" ")[0].lstrip(">=")) for each in HEADING.split(", ")]
    assert begin == [low for row in ROWS[:1] for low, _, _ in ranges(row)][: len(begin)]
    assert limit(2, 6, 125).limit_mm == 1.1
    assert limit(2, 6, math.nextafter(125, 0)).limit_mm == 0.9


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"class {row['tolerance_class']} to {row['thickness_to_mm']}")
def test_at_a_boundary_the_limit_is_never_the_narrower_of_the_two(row):
    kept, thickness = int(row["tolerance_class"]), float(row["thickness_to_mm"])
    for _, high, value in ranges(row):
        at = limit(kept, thickness, high)
        assert at is None or value is None or at.limit_mm >= value


def test_there_is_nothing_beyond_the_table():
    assert limit(1, 300.001, 500) is None
    assert limit(2, 0.0, 500) is None
    assert limit(2, 6, 8000) is None
    assert limit(2, 6, math.nextafter(8000, 0)) is not None
    assert limit(2, 6, 0.0) is None
    assert limit(3, 6, 100) is None


def test_class_2_over_20_mm_is_told_as_from_memory_and_never_as_published():
    """Nobody here has seen these rows, so no check of their values would be more than memory against memory."""
    for row in ROWS:
        recalled = row["tolerance_class"] == "2" and float(row["thickness_over_mm"]) >= 20
        found = limit(int(row["tolerance_class"]), float(row["thickness_to_mm"]), 500)
        assert recalled == found.recalled == row["check"].startswith("memory")


SIZES = (1, 3, 5, 10, 20, 35, 60, 125, 200, 315, 500, 1000, 1500, 2000, 3000, 4000, 5000, 6000, 7000)
THICKNESSES = (
    0.5,
    1,
    2,
    3.15,
    5,
    6.3,
    8,
    10,
    12,
    15,
    18,
    20,
    22,
    25,
    28,
    40,
    50,
    80,
    100,
    120,
    150,
    180,
    220,
    280,
    300,
)


def told(kept, thicknesses, sizes):
    return [found.limit_mm for t in thicknesses for s in sizes if (found := limit(kept, t, s))]


@pytest.mark.parametrize("kept", [1, 2])
def test_a_larger_size_and_a_thicker_plate_are_never_held_closer(kept):
    """The recalled rows too, of which no value is compared with anything."""
    rows = [told(kept, (thickness,), SIZES) for thickness in THICKNESSES]
    columns = [told(kept, THICKNESSES, (size,)) for size in SIZES]
    assert sum(map(len, rows)) > 300
    assert all(values == sorted(values) for values in (*rows, *columns))


def test_class_2_allows_more_up_to_four_metres():
    for thickness in (0.5, 2, 5, 8, 12, 18, 22, 28, 40, 80, 120, 180, 220, 280):
        for size in (2, 5, 20, 60, 200, 500, 1500, 3000):
            one, two = limit(1, thickness, size), limit(2, thickness, size)
            assert one is None or two is None or one.limit_mm < two.limit_mm


def test_classes_of_the_processes():
    """Usual classes by a trade page; ISO 9013's scope is flame, plasma and laser, so a waterjet has none."""
    assert {process: tolerance_class(process) for process in PROCESSES} == {
        "air-plasma": 2, "fine-plasma": 2, "oxy-fuel": 2, "laser": 1, "waterjet": None,
    }  # fmt: skip
    assert expected("waterjet", 6, 100) is None
    assert expected("air-plasma", 6, 100).limit_mm == 0.9
    assert expected("laser", 6, 100).limit_mm == 0.25


# ------------------------------------------------------------------ what the limits are for


def found_outside(process, thickness, *loops):
    return {each.what: each for each in outside(process, thickness, loops)}


PRACTICE = [
    row
    for row in csv.DictReader((REFERENCE.parent / "cutting_practice.csv").read_text(encoding="utf-8").splitlines()[1:])
    if row["quantity"] == "thickness range covered by ISO 9013:2017"
]


@pytest.mark.parametrize("row", PRACTICE, ids=lambda row: row["process"])
def test_the_scope_is_the_published_one(row):
    """Just in it and just out of it, at both ends; rows marked V2."""
    assert row["check"] == "V2"
    round_one = circle((0, 0), 300)
    low, high = float(row["low"]), float(row["high"])
    for process in {"plasma": ("air-plasma", "fine-plasma")}.get(row["process"], (row["process"],)):
        for thickness, told in ((low, False), (high, False), (low - 0.01, True), (high + 0.01, True)):
            assert ("thickness" in found_outside(process, thickness, round_one)) == told, (process, thickness)


def test_the_scope_has_a_row_for_each_process_with_a_class():
    assert len(PRACTICE) == 3
    assert [p for p in PROCESSES if not any(outside(p, 500, ()))] == ["waterjet"]


@pytest.mark.parametrize("turn", [0.0, 0.6, math.pi / 2])
def test_up_to_four_times_as_long_as_wide(turn):
    """From memory. However the part lies."""
    held, over = (rotation(turn).loop(rectangle((0, 0), length, 100)) for length in (400, 401))
    assert found_outside("laser", 6, held) == {}
    found = found_outside("laser", 6, held, over)["length to width"]
    assert (found.value, found.most, found.recalled) == (pytest.approx(4.01), 4, True)


def test_a_cut_of_350_mm_round_the_part_or_more():
    """From memory."""
    held, short = rectangle((0, 0), 100, 75), rectangle((0, 0), 100, 74.9)
    assert found_outside("oxy-fuel", 6, held) == {}
    found = found_outside("oxy-fuel", 6, held, short)["cut length"]
    assert (found.value, found.least) == (pytest.approx(349.8), 350)


def test_it_is_said_beside_the_size_where_it_matters():
    from parts.export import outside_said

    long = parts.draw("bracket-strap", long=600, width=40).record
    assert outside_said(long).startswith("15 times as long as wide (up to 4)")
    assert outside_said(long).endswith(", from memory")
    assert outside_said(parts.draw("plate-base").record) == ""
    assert outside_said(parts.draw("bracket-strap", long=600, width=40, process="waterjet").record) == ""
