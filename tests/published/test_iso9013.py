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
def test_every_cell_just_over_within_and_at_its_ends(tolerance_class):
    for cell in CELLS:
        if cell[0] == tolerance_class:
            assert_cell_is_published(*cell)


def assert_cell_is_published(kept, over, to, low, high, value, check):
    """Ranges hold over their lower end, up to and including their upper one."""
    for thickness in (math.nextafter(over, math.inf), (over + to) / 2, to):
        for size in (math.nextafter(low, math.inf), (low + high) / 2, high):
            found = limit(kept, thickness, size)
            assert (found and found.limit_mm) == value
            assert found is None or found.recalled == check.startswith("memory")


def test_there_is_nothing_beyond_the_table():
    assert limit(1, 300.001, 500) is None
    assert limit(2, 0.0, 500) is None
    assert limit(2, 6, 8000.001) is None
    assert limit(2, 6, 0.0) is None
    assert limit(3, 6, 100) is None


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"class {row['tolerance_class']} to {row['thickness_to_mm']}")
def test_a_larger_size_is_never_held_closer(row):
    values = [value for _, _, value in ranges(row) if value is not None]
    assert values == sorted(values)


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
