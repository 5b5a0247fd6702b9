"""Several files of one table: a frame, targets and a comb, each filled in as its sheet asks, are taken together."""

import math

import pytest

from parts import draw
from parts.errors import DataError, Problem, Refused
from parts.truing import true_table
from parts.truing.several import true_tables
from tests.truing_tables import Simulated

OFF = Simulated(steps_x=100.05, steps_y=99.93, far_side_back=2.0, kerf=1.8)
ANGLE = math.atan2(2.0, 1500)


def filled_in(slug, table=OFF, **values):
    """The sheet's file with what a table makes of each place, to a ten thousandth of a mm."""
    sheet = draw(slug, **values).measuring_sheet()
    head, *rows = sheet.to_toml().split("[[reading]]")
    assert len(rows) == len(sheet.places)
    for i, place in enumerate(sheet.places):
        read = table.measured(place.kind, math.degrees(place.direction), place.nominal)
        if sheet.record.units == "in":
            read /= 25.4
        assert rows[i].count('measured = ""') == 1
        rows[i] = rows[i].replace('measured = ""', f'measured = "{read:.6f}"')
    return "[[reading]]".join([head, *rows])


PIECES = ("square-test", "square-frame", "square-targets", "gauge-kerf-comb", "gauge-hole-ladder")
TRUE = {"scale_x": 5e-4, "scale_y": -7e-4, "out_of_square": ANGLE, "kerf": 0.3, "hole_shrinkage": 0.0}
CLOSE = {"scale_x": 2e-6, "scale_y": 2e-6, "out_of_square": 2e-6, "kerf": 2e-4, "hole_shrinkage": 2e-4}
"""What rounding the nominal lengths and the readings to a ten thousandth of a mm leaves open."""


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("slug", PIECES)
def test_each_sheet_filled_in_gives_the_errors_that_its_piece_settles(slug, units):
    found = true_table(filled_in(slug, units=units))
    assert found.left_out == ()
    assert found.solution.estimates
    for name, each in found.solution.estimates.items():
        assert each.value == pytest.approx(
            TRUE[name], abs=2e-6 if name in ("scale_x", "scale_y", "out_of_square") else 2e-4
        )
        assert found.solution.disagreeing == ()


def test_frame_targets_and_comb_together_settle_what_none_does_alone():
    named = [(slug.rsplit("-")[-1], filled_in(slug)) for slug in PIECES[1:]]
    found = true_tables(named)
    assert found.missing == {}
    assert len(found.solution.readings) == 13 + 12 + 10 + 12
    for name, each in found.solution.estimates.items():
        assert each.value == pytest.approx(
            TRUE[name], abs=2e-6 if name in ("scale_x", "scale_y", "out_of_square") else 2e-4
        )
        alone = [true_table(text).solution.estimates.get(name) for _, text in named]
        assert all(one is None or one.standard_uncertainty >= each.standard_uncertainty for one in alone)


def test_readings_are_named_by_their_file():
    slip = filled_in("square-frame").replace('measured = "350.1', 'measured = "353.1', 1)
    found = true_tables([("frame", slip), ("targets", filled_in("square-targets"))])
    assert found.disagreements[0].startswith("Reading 1 (frame A, centres 350 mm at 0°) is 353.1")


def test_what_is_left_out_is_named_by_its_file():
    blank = draw("gauge-kerf-comb", steps="3").measuring_sheet().to_toml()
    one = blank.replace('measured = ""', 'measured = "6.3"', 1)
    found = true_tables([("comb", one), ("frame", filled_in("square-frame"))])
    assert found.left_out == ("comb B", "comb C", "comb D", "comb E")


def with_machine(line):
    return filled_in("square-frame").replace('kerf = ""', line)


def test_machines_are_put_together():
    found = true_tables([("a", with_machine('kerf = "1.5 mm"')), ("b", with_machine('travel_x = "52 in"'))])
    assert (found.table.kerf, found.table.travel_x) == (1.5, 52 * 25.4)


def test_machines_that_contradict_are_refused():
    with pytest.raises(Refused) as caught:
        true_tables([("a", with_machine('kerf = "1.5 mm"')), ("b", with_machine('kerf = "1.4 mm"'))])
    message = "is 1.5 mm in a; files taken together must be of one table as it was set."
    assert caught.value.problems == (Problem("b: machine kerf", "1.4 mm", message),)


def test_and_are_told_in_the_units_of_the_pieces():
    sheet = filled_in("square-frame", units="in")
    inches = [sheet.replace('kerf = ""', f"kerf = {kerf}") for kerf in (0.06, 0.05)]
    with pytest.raises(Refused) as caught:
        true_tables([("a", inches[0]), ("b", inches[1])])
    (problem,) = caught.value.problems
    assert (problem.value, problem.message.split(";")[0]) == ("0.05 in", "is 0.06 in in a")


def test_what_cannot_be_used_is_named_with_its_file():
    with pytest.raises(Refused) as caught:
        true_tables([("a", "[[reading]]\nkind = 'x'\n"), ("b", filled_in("square-frame")), ("c", "")])
    assert [problem.parameter for problem in caught.value.problems][:1] == ["a: reading 1 kind"]
    assert caught.value.problems[-1].parameter == "c: reading"
    with pytest.raises(DataError, match=r"^b: The measurements can't be read"):
        true_tables([("b", "= nonsense")])


def test_no_more_readings_are_taken_than_of_one_file():
    many = "".join(["[[reading]]\nkind = 'centres'\nnominal = 300\nmeasured = 300.1\n"] * 300)
    with pytest.raises(Refused, match="at most 500"):
        true_tables([("a", many), ("b", many)])
