"""The report: disagreements, assumptions, doubts, what is over a sheet, and its JSON."""

import json
import math
import re
from dataclasses import replace

import pytest

from parts import true_table
from parts.errors import Refused
from parts.truing.corrections import corrections
from parts.truing.machine import Table
from parts.truing.missing import missing
from parts.truing.model import put
from parts.truing.reading import Reading
from parts.truing.report import CAUTIONS, content, report
from parts.truing.sheet import SHEET_MM, OverASheet
from parts.truing.solve import solve
from parts.truing.words import Words
from tests.truing_tables import SQUARE, Simulated

OFF = Simulated(steps_x=100.05, steps_y=99.93, far_side_back=2.0, kerf=1.8)


def centres(degrees, nominal, measured, u=0.02):
    return Reading("centres", math.radians(degrees), nominal, measured, u)


def test_over_a_sheet_is_what_the_table_puts():
    """Against the corners of the sheet, put by the simulated table."""
    found = report(Table(), OFF.readings())
    w, h = SHEET_MM
    corners = {at: OFF.put(*at) for at in ((0, 0), (w, 0), (0, h), (w, h))}
    assert found.before.x == pytest.approx(math.dist(corners[0, 0], corners[w, 0]) - w, abs=1e-8)
    assert found.before.y == pytest.approx(math.dist(corners[0, 0], corners[0, h]) - h, abs=1e-8)
    diagonals = math.dist(corners[0, 0], corners[w, h]) - math.dist(corners[w, 0], corners[0, h])
    assert found.before.diagonals == pytest.approx(diagonals, abs=1e-8)


def test_corrected_it_is_within_the_uncertainty():
    found = report(Table(), OFF.readings())
    u = found.solution.estimates["scale_x"].standard_uncertainty
    assert found.after.x == pytest.approx(1.959964 * u * SHEET_MM[0], rel=1e-6)


def test_what_is_left_stays_and_counts():
    slight = Simulated(steps_x=100.003)
    found = report(Table(), slight.readings())
    each = found.solution.estimates["scale_x"]
    assert not each.differs_from_zero
    assert found.corrections[0].leave
    assert found.after.x == pytest.approx((each.value + 1.959964 * each.standard_uncertainty) * SHEET_MM[0], rel=1e-6)


def test_only_x():
    found = report(Table(), [centres(0, 300, 300.12)])
    assert list(found.solution.estimates) == ["scale_x"]
    assert set(found.missing) == {"scale_y", "out_of_square", "kerf", "hole_shrinkage"}
    assert found.missing["scale_y"].endswith("the distance between two hole centres along Y would.")
    assert (found.before.y, found.before.diagonals, found.after.y) == (None, None, None)
    assert [each.setting for each in found.corrections] == ["steps_per_mm_x"]
    assert any("no reading to spare" in caution for caution in found.cautions)


def test_repeated_readings_count_as_their_mean():
    repeats = [centres(0, 300, 300 + gap) for gap in (0.10, 0.12, 0.14, 0.12)]
    once = solve([centres(0, 300, 300.12, 0.01)]).estimates["scale_x"]
    found = solve(repeats).estimates["scale_x"]
    assert found.value == pytest.approx(once.value, rel=1e-12)
    assert found.standard_uncertainty == pytest.approx(once.standard_uncertainty, rel=1e-12)


def test_a_slip_is_told_with_what_the_others_make():
    readings = [*OFF.readings(), *OFF.readings()]
    slip = OFF.measured("centres", 45, 424)
    readings[2] = replace(readings[2], measured=slip + 10)
    found = report(Table(), readings)
    said, expected = Words().say(slip + 10), Words().say(slip)
    assert found.disagreements == (
        f"Reading 3 (centres 424 mm at 45°) is {said}; by the others it is {expected}. Measure it again.",
    )
    assert any("count every reading" in caution for caution in found.cautions)


def test_two_that_contradict_each_other_are_both_told():
    found = report(Table(), [centres(0, 300, 300.12), centres(0, 300, 301.12)])
    assert found.solution.disagreeing == ((0, 1),)
    assert found.disagreements == (
        "Readings 1 (centres 300 mm at 0°) and 2 (centres 300 mm at 0°) can't all be right; measure them again.",
    )


@pytest.mark.parametrize(("gap", "disagrees"), [(0.0930, False), (0.0932, True)], ids=["just under", "just over"])
def test_disagreeing_starts_at_3_29_of_its_own_uncertainty(gap, disagrees):
    """Two lengths with u 0.02 differ by 3.2905 * sqrt(2) * 0.02 = 0.09307 at the limit."""
    assert bool(solve([centres(0, 300, 300), centres(0, 300, 300 + gap)]).disagreeing) is disagrees


def test_many_that_disagree_are_said_to_be_less_sure():
    readings = [centres(0, 300, 300 + (1 if i % 2 else -1) * (1 + i / 50), 0.001) for i in range(60)]
    found = report(Table(), readings)
    assert len(found.solution.disagreeing) == 10
    assert any("less sure than their u says" in caution for caution in found.cautions)


QUESTION = "that is more than a shop misses. Is a reading mistyped, or was another piece cut than the rows say?"
READ = {
    "scale": lambda x: centres(0, 300, 300 * (1 + x)),
    "angle": lambda x: Reading("reversal", 0.0, 300, 600 * x, 0.02),
}


@pytest.mark.parametrize(("error", "asked"), [(0.00499, False), (0.00501, True)], ids=["just under", "just over"])
@pytest.mark.parametrize("what", READ)
@pytest.mark.parametrize("sign", [1, -1])
def test_what_a_shop_does_not_miss_is_asked_about_before_a_setting_is_told(what, error, asked, sign):
    known = Table(steps_per_mm_x=100.0, rail_spacing=1500)
    found = report(known, [READ[what](sign * error)])
    (made,) = found.corrections
    assert made.asked is asked
    assert (QUESTION in made.sentence) is asked
    assert any("slip in a reading" in caution for caution in found.cautions) is asked
    assert (made.new is None) is asked
    confirmed = report(replace(known, confirmed="yes"), [READ[what](sign * error)]).corrections[0]
    assert not confirmed.asked
    assert confirmed.new is not None


@pytest.mark.parametrize(("error", "asked"), [(0.99, False), (1.01, True)], ids=["just under", "just over"])
@pytest.mark.parametrize("kind", ["outside", "hole"])
def test_so_is_a_width(kind, error, asked):
    readings = [centres(0, 300, 300), Reading("outside", 0.0, 300, 300 - (error if kind == "outside" else 0), 0.02)]
    readings += [Reading("hole", 0.0, 10, 10 - error, 0.02)] if kind == "hole" else []
    made = report(Table(kerf=1.5), readings).corrections[-1]
    assert made.asked is asked
    assert made.sentence.count(QUESTION) == asked


def test_numbers_that_no_table_gives_are_refused():
    with pytest.raises(Refused, match="No table gives these readings"):
        report(Table(), [centres(0, 1, 2.5)])


def test_500_readings_settle_in_the_mean():
    readings = [*OFF.readings(SQUARE, 0.02)] * 71
    found = report(Table(), readings)
    once = solve(OFF.readings()).estimates["scale_x"].standard_uncertainty
    sure = found.solution.estimates["scale_x"].standard_uncertainty
    assert sure == pytest.approx(once / math.sqrt(71), rel=1e-6)


def test_assumed_instruments_are_stated():
    text = "".join(
        f'[[reading]]\nkind = "centres"\ndirection_deg = {d}\nnominal = 300\nmeasured = 300.1\n{u}' for d, u in
        ((0, ""), (90, "u = 0.02\n"), (45, ""), (135, 'instrument = "tape"\n'))
    )  # fmt: skip
    found = true_table(text)
    assert found.assumed == (
        "readings 1 and 3: no u given, so that of a caliper was taken, 0.03 mm.",
        "reading 4: no u given, so that of a tape was taken, 0.5 mm.",
        "how warm the piece was isn't told, so that a length is sure to 0.104 mm in a metre at best; say how warm "
        "piece and instrument were.",
    )
    assert [each["reading"] for each in json.loads(found.to_json())["assumed"]] == [1, 3, 4]


def test_json_has_the_fields_agreed():
    found = report(Table("Fernhollow table"), OFF.readings()[:5])
    said = json.loads(found.to_json())
    assert said == json.loads(json.dumps(content(found)))
    for name in ("scale_x", "scale_y", "out_of_square_deg", "kerf_error_mm"):
        fields = {"value", "standard_uncertainty", "low95", "high95", "differs_from_zero"}
        assert fields <= set(said[name])
        assert said[name]["low95"] < said[name]["value"] < said[name]["high95"]
    assert said["hole_shrinkage_mm"] is None
    assert set(said["missing"]) == {"hole_shrinkage_mm"}
    assert said["out_of_square_deg"]["value"] == pytest.approx(math.degrees(math.atan2(2, 1500)), abs=1e-9)
    assert said["kerf_error_mm"]["value"] == pytest.approx(0.3, abs=1e-9)
    assert len(said["residuals"]) == 5
    assert {"corrections", "cautions"} <= set(said)
    assert said["cautions"][-len(CAUTIONS) :] == list(CAUTIONS)


def test_the_json_of_too_little_is_null_with_a_reason():
    said = content(report(Table(), [centres(0, 300, 300.1)]))
    assert said["scale_y"] is None
    assert "Nothing here tells the scale of Y" in said["missing"]["scale_y"]
    assert said["over_a_sheet"]["before_mm"]["y"] is None


def test_missing_speaks_of_one_reading_where_one_is_enough():
    assert missing([centres(0, 300, 300), centres(90, 300, 300)]) == {
        "out_of_square": "Nothing here tells the angle between the axes by itself; "
        "one diagonal between hole centres would.",
        "kerf": "Nothing here tells the jet's width by itself; an outside length along X would.",
        "hole_shrinkage": "Nothing here tells how much smaller round holes come out by itself; "
        "an outside length along X and the diameter of a hole would.",
    }


def test_all_is_said_in_the_working_units():
    """A metre of steel grows 0.24 mm in 20 K, so 8 ft of it 0.585 mm, which is 0.023 in: worked by hand."""
    again = [centres(0, 304.8, 304.8)] * 4
    found = report(Table(), [*again, centres(0, 304.8, 305.8)], "in")
    assert found.disagreements == (
        "Reading 5 (centres 12 in at 0°) is 12.039 in; by the others it is 12 in. Measure it again.",
    )
    assert any("20 °C of difference is 0.023 in in 8 ft of steel" in caution for caution in found.cautions)
    assert any("is 0.24 mm in a metre of steel" in caution for caution in report(Table(), again).cautions)


class TestCorrections:
    KNOWN = Table("", None, None, 1500, 100.05, 99.93, 1.5)

    def test_sentences(self):
        found = [each.sentence for each in corrections(solve(OFF.readings()), self.KNOWN, Words())]
        assert found[:4] == [
            "X comes out 0.5 mm long in a metre. Change the steps per mm of X from 100.05 to 100.",
            "Y comes out 0.7 mm short in a metre. Change the steps per mm of Y from 99.93 to 100.",
            "The axes stand 0.0764° more than square. Move the side of the gantry at the far end of X toward +Y by "
            "2 mm over the 1500 mm between its rails, or change its homing offset by as much.",
            "The jet takes 0.3 mm more in width than was allowed for. Change the kerf setting from 1.5 mm to 1.8 mm.",
        ]
        assert found[4].startswith("Leave the size of round holes: no error shows.")

    def test_sentences_where_little_is_known(self):
        found = [each.sentence for each in corrections(solve(OFF.readings()), Table(), Words("in"))]
        assert found[0].endswith("Multiply the steps per unit of X by 0.999500 (or its gear ratio likewise).")
        assert "toward +Y by 0.128 in for each 8 ft between its rails" in found[2]
        assert found[3] == "The jet takes 0.012 in more in width than was allowed for. Raise the kerf setting by that."

    def test_the_other_signs(self):
        other = Simulated(steps_x=99.95, steps_y=100.07, far_side_back=-2.0, kerf=1.2)
        found = [each.sentence for each in corrections(solve(other.readings()), Table(), Words())]
        assert "X comes out 0.5 mm short" in found[0]
        assert "Y comes out 0.7 mm long" in found[1]
        assert "less than square" in found[2]
        assert "toward -Y" in found[2]
        assert "0.3 mm less in width" in found[3]
        assert "Lower the kerf" in found[3]

    @pytest.mark.parametrize(
        ("known", "across"),
        [
            (Table(), "X"),
            (Table(travel_x=1300, travel_y=2500), "X"),
            (Table(travel_x=2500, travel_y=1300), "Y"),
            (Table(travel_x=2500, travel_y=1300, gantry="X"), "X"),
            (Table(gantry="Y"), "Y"),
        ],
        ids=["unknown", "along Y", "along X", "said", "said Y"],
    )
    def test_which_side_of_the_gantry_goes_where(self, known, across):
        """A gantry along Y is the same table seen in a mirror that exchanges the axes: the same angle, the same way."""
        sentence = corrections(solve(OFF.readings()), known, Words())[2].sentence
        ahead = {"X": "Y", "Y": "X"}[across]
        assert f"at the far end of {across} toward +{ahead} by 1.333 mm for each metre between its rails" in sentence

    def test_larger_holes(self):
        readings = [replace(r, measured=r.measured + (0.5 if r.kind == "hole" else 0)) for r in OFF.readings()]
        found = [each.sentence for each in corrections(solve(readings), Table(), Words())]
        assert found[4].startswith("Round holes come out 0.5 mm larger than slots")
        assert "or draw them that much smaller. But measure reading 7 (hole" in found[4]

    def test_exact_zero_is_left(self):
        assert all(each.leave for each in corrections(solve(Simulated().readings()), Table(), Words()))


def test_a_simulated_table_is_the_model_turned():
    """Distances between points put are the same by the simulation and by the model with its errors."""
    errors = solve(OFF.readings()).errors
    a, b = (37.0, 410.0), (-220.0, 90.0)
    assert math.dist(OFF.put(*a), OFF.put(*b)) == pytest.approx(math.dist(put(errors, *a), put(errors, *b)), abs=1e-9)


SETTINGS = Table(steps_per_mm_x=100.0, steps_per_mm_y=100.0, rail_spacing=1500, kerf=1.5)
SLIPPED = {
    "a scale": lambda r: replace(r, measured=r.measured * 1.006) if r.direction == 0 else r,
    "the other": lambda r: replace(r, measured=r.measured * 1.006) if r.direction else r,
}


def in_both(y=1.0003):
    return [centres(0, 300, 300.2), centres(0, 300, 300.21), *(centres(90, 300, 300 * y) for _ in range(2))]


@pytest.mark.parametrize("what", SLIPPED)
def test_while_one_error_is_asked_about_no_other_setting_is_told(what):
    """A slip that makes one scale 6 mm in a metre: neither its setting nor any other is told until it is answered."""
    slipped = [SLIPPED[what](reading) for reading in in_both()]
    found = report(SETTINGS, slipped)
    assert found.in_question
    assert not found.disagreements
    assert sum(each.asked for each in found.corrections) == sum(each.waits for each in found.corrections) == 1
    for each in found.corrections:
        assert each.new is None
        assert not each.leave
        assert not re.search(r"Change|Multiply|Move|Raise|Lower|Leave", each.sentence)
    (waiting,) = (each.sentence for each in found.corrections if each.waits)
    assert "'s scale waits until that is cleared up; as the readings stand, it comes out " in waiting
    assert found.after == OverASheet(None, None, None)
    answered = report(replace(SETTINGS, confirmed="yes"), slipped)
    assert not answered.in_question
    assert all(each.new is not None and not each.waits for each in answered.corrections)
    assert answered.after.x is not None


def test_what_may_be_nothing_is_not_said_to_be_left_while_another_is_asked_about():
    found = report(SETTINGS, [SLIPPED["a scale"](reading) for reading in in_both(1.0)])
    (waiting,) = (each for each in found.corrections if each.waits)
    assert waiting.sentence.endswith(", which may be nothing.")


def test_readings_in_order_are_in_no_question():
    found = report(SETTINGS, in_both())
    assert not found.in_question
    assert not any(each.asked or each.waits for each in found.corrections)
