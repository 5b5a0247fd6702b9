"""The bend table: numbers, sums by hand, and where the lines are from the end, however the part lies."""

import json
import math
from dataclasses import replace

import pytest

import parts
from parts.drawing import lay_out
from parts.export import bend_notes, bend_rows
from parts.forming.table import bend_table
from parts.geometry.draft import rectangle
from parts.geometry.motion import rotation, translation
from parts.geometry.segment import Line
from parts.profile import Bend, Profile


def table(part):
    return bend_table(part.profile, part.record.job.cut.thickness_mm, part.record.job.brake)


def of(*marks, loop=None):
    part = parts.draw("bracket-bent-angle", thickness=3)
    return bend_table(
        Profile((loop or rectangle((0, 0), 100, 60),), (), marks),
        part.record.job.cut.thickness_mm,
        part.record.job.brake,
    )


def test_a_hat_by_hand():
    """3 mm bent to 3 mm, K 0.38: allowance pi/2 (3 + 1.14) = 6.5031, deduction 12 - 6.5031, line 1 at 54 + 3.2515."""
    rows = table(parts.draw("bracket-bent-hat", thickness=3, bend_radius=3, k=0.38))
    assert [(row.number, row.degrees, row.way) for row in rows] == [
        (1, 90, "up"), (2, 90, "down"), (3, 90, "down"), (4, 90, "up"),
    ]  # fmt: skip
    for row in rows:
        assert (row.fold.radius, row.fold.k) == (3, 0.38)
        assert row.fold.allowance == pytest.approx(6.5031, abs=1e-4)
        assert row.deduction == pytest.approx(5.4969, abs=1e-4)
    steps = [54 + 3.25155, 48 + 6.5031, 78 + 6.5031, 48 + 6.5031]
    assert [row.from_end for row in rows] == pytest.approx([sum(steps[: i + 1]) for i in range(4)], abs=1e-3)


def test_the_flat_is_the_outside_dimensions_less_the_deductions():
    part = parts.draw("bracket-bent-z", bend=40, thickness=3)
    assert part.measures.width_mm == pytest.approx(60 + 60 + 60 - sum(row.deduction for row in table(part)), abs=1e-9)


@pytest.mark.parametrize("degrees", [30, 60, 75, 90])
def test_the_json_tells_an_angle_as_it_was_asked_for(degrees):
    """60 degrees, not 59.99999999999999, in the table and with the line."""
    said = json.loads(parts.draw("bracket-bent-z", bend=degrees, thickness=3).to_json())
    assert {bend["angle_deg"] for bend in (*said["bends"], *said["marks"])} == {degrees}


def test_half_a_turn_has_no_deduction():
    part = parts.draw("bracket-pipe-saddle")
    assert [row.deduction is None for row in table(part)] == [False, True, False]
    assert list(bend_rows(part.record))[1][5] == "-"


@pytest.mark.parametrize("degrees", [0, 30, 90, 135, 180, 250, 315])
def test_from_the_end_however_the_part_lies(degrees):
    """The line is 20 from one end and 80 from the other; the end meant is the one on the left, or below."""
    turn = rotation(math.radians(degrees), (7, 3))
    line = Line((20, 0), (20, 60))
    moved = Bend(Line(turn.point(line.start), turn.point(line.end)), math.pi / 2, 3.0)
    (row,) = of(moved, loop=translation(0, 0).loop(turn.loop(rectangle((0, 0), 100, 60))))
    flipped = 90 < degrees < 270
    assert row.from_end == pytest.approx(80 if flipped else 20, abs=1e-9)
    (back,) = of(replace(moved, line=moved.line.reversed()), loop=turn.loop(rectangle((0, 0), 100, 60)))
    assert back.from_end == pytest.approx(row.from_end, abs=1e-9)


def test_what_isnt_told_is_the_shops_brake_and_no_angle_is_no_row():
    untold, told = Bend(Line((20, 0), (20, 60))), Bend(Line((50, 0), (50, 60)), math.pi / 2)
    (row,) = of(untold, told)
    assert row.number == 2
    brake = parts.draw("bracket-bent-angle", thickness=3).record.job.brake
    assert (row.fold.radius, row.fold.k) == (brake.inside_radius(3), brake.neutral(3, brake.inside_radius(3)).k)
    assert (row.neutral.name, row.v_opening) == ("Machinery's Handbook", 24)


def test_whose_k_it_is_is_told_and_over_which_v(own_file):
    """By default the handbook's, then the shop's choice of formula, the shop's own K, and the part's over them all."""

    def told(**values):
        row = table(parts.draw("bracket-bent-angle", thickness=3, **values))[0]
        return round(row.fold.k, 4), row.neutral.name, row.neutral.kind

    assert told() == (0.4074, "Machinery's Handbook", "published")
    own_file.write_text('[brake]\nk_by = "din-6935"\n')
    assert told() == (round((0.65 + 0.5 * math.log10(3.84 / 3)) / 2, 4), "DIN 6935", "from memory")
    own_file.write_text('[brake]\nk_factor = 0.39\nsource = "coupon of March"\n')
    assert told() == (0.39, "the shop's own", "yours")
    part = parts.draw("bracket-bent-angle", thickness=3)
    assert list(bend_notes(part.record)) == [
        "Bent: 60 by 80 by 60 mm over all. Sizes named outside are the bent part's; on the flat they run past the bend "
        "lines.",
        "Inside radius 3.84 mm: as air bending over that V leaves it.",
        "K: shop's own file: coupon of March.",
        "V opening: 24 mm.",
    ]
    assert told(k=0.41) == (0.41, "given", "yours")


def test_each_v_is_told_with_its_bends():
    """The arch of a saddle is formed round a bar; bends of other radii want other dies."""
    saddle, (first, last) = parts.draw("bracket-pipe-saddle"), (Line((20, 0), (20, 60)), Line((60, 0), (60, 60)))
    assert list(bend_notes(saddle.record))[-1] == "V opening: 50 mm."
    marks = (Bend(first, math.pi / 2, 8.0), Bend(last, math.pi / 2, 16.0))
    record = replace(saddle.record, profile=Profile((rectangle((0, 0), 100, 60),), (), marks))
    assert list(bend_notes(record))[-1] == "V opening: 50 mm at 1; 100 mm at 2."


def test_a_part_without_bends_has_no_table():
    part = parts.draw("gusset-triangle")
    assert table(part) == ()
    assert list(bend_rows(part.record)) == []


@pytest.mark.parametrize("slug", ["bracket-bent-hat", "bracket-bent-u", "bracket-pipe-saddle"])
def test_each_number_stands_at_its_line_on_the_drawing(slug):
    part = parts.draw(slug)
    drawing = lay_out(part.record, 200, 150)
    (marks,) = drawing.of("bends")
    x0, y0 = drawing.origin
    rows = table(part)
    assert [text.text.split()[0] for text in marks.texts] == [str(row.number) for row in rows]
    for text, row in zip(marks.texts, rows, strict=True):
        start, end = ((x0 + x * drawing.scale, y0 + y * drawing.scale) for x, y in (row.line.start, row.line.end))
        assert Line(start, end).nearest(text.at) == pytest.approx(text.at, abs=1.2 * text.size + 1e-6)
        assert row.way in text.text or len(text.text) == 1


@pytest.mark.parametrize("slug", ["bumper-set", "developed-transition"])
def test_of_several_pieces_each_line_is_told_from_the_end_of_its_own(slug):
    """What a brake's stop is set by is the same on the drawing of all as on that of the piece."""
    whole = parts.draw(slug)
    alone = [row.from_end for name in whole.pieces for row in whole.piece(name).record.bend_table]
    assert sorted(row.from_end for row in whole.record.bend_table) == pytest.approx(sorted(alone), abs=1e-9)
