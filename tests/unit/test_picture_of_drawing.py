"""The picture of someone's own drawing shows what is left out beside the part, and grows for it so far and no more."""

import re
from dataclasses import replace

import pytest

import parts
from parts.checking import picture
from parts.record import MOST_GROWN
from tests.files.foreign import circle, dxf, line
from tests.unit.test_own import box
from tests.unit.test_read_roles import on


def shown(entities, **more):
    """The record as the page shows it, and how many dotted lines its picture has."""
    checked = parts.check(dxf(entities), "p.dxf", thickness="6 mm", **more)
    record = replace(checked.part.record, aside=checked.account.aside)
    drawn, whole = picture(record)
    assert whole
    return record, len(re.findall('class="pw-aside-line"', drawn)), drawn


PLATE = box(100, 60)


@pytest.mark.parametrize(
    ("beside", "box_shown", "count"),
    [
        (circle(30, 30, 5, "DIM"), (0, 0, 100, 60), 1),
        (line(0, -20, 100, -20, "DIM"), (0, -20, 100, 60), 1),
        (on("BORDER", box(398, 200, -100, -50)), (-100, -50, 298, 150), 1),
        (on("BORDER", box(420, 200, -100, -50)), (0, 0, 100, 60), 0),
        (on("BORDER", box(10, 10, 200, 0)) + on("BORDER", box(10, 10, 900, 0)), (0, 0, 210, 60), 1),
    ],
    ids=["inside", "open line", "less than four times", "more", "the nearer of two"],
)  # fmt: skip
def test_it_grows_to_what_is_left_out_up_to_four_times(beside, box_shown, count):
    record, dotted, _ = shown(PLATE + circle(70, 30, 5) + beside)
    assert record.box == pytest.approx(box_shown)
    assert record.part_box == pytest.approx((0, 0, 100, 60))
    assert dotted == count
    assert max(record.box[2] - record.box[0], record.box[3] - record.box[1]) <= MOST_GROWN * 100


def test_the_size_is_that_of_the_part():
    _, _, drawn = shown(PLATE + circle(70, 30, 5) + line(-50, -20, 150, -20, "DIM"))
    assert ">100<" in drawn
    assert ">200<" not in drawn


def test_what_was_chosen_to_be_left_out_is_shown():
    _, dotted, _ = shown(PLATE + circle(70, 30, 5), outlines=["65,25,75,35=aside"])
    assert dotted == 1
