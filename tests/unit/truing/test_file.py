"""Measurements as a file: what is read, and what is refused by its entry's name."""

import math

import pytest

from parts.errors import DataError, Problem, Refused
from parts.truing.file import MOST_READINGS, parsed, read, unmeasured
from parts.truing.instruments import usual_u, warmth
from parts.truing.machine import Table
from parts.truing.reading import Reading

NOT_TOLD = {"piece": "the piece", "growth": 0.0, "warmth_u": warmth().u}
DEGREES = 'must be a temperature such as "24 \u00b0C" or "75 \u00b0F", -50 to 150 \u00b0C.'


def entry(**values):
    row = {"kind": "centres", "nominal": "300 mm", "measured": "300.12 mm", "u": "0.02 mm", **values}
    return "[[reading]]\n" + "".join(
        f"{name} = {value if not isinstance(value, str) else repr(value)}\n"
        for name, value in row.items()
        if value is not None
    )


def refused(text):
    with pytest.raises(Refused) as caught:
        read(text)
    return caught.value.problems


def test_all_of_a_file():
    machine = (
        '[machine]\nname = "Fernhollow table"\ntravel_x = "52 in"\ntravel_y = "98 in"\n'
        'gantry_rail_spacing = "1500 mm"\nsteps_per_mm_x = 100.0\nsteps_per_mm_y = 80\nkerf = "1.5 mm"\n'
    )
    assert read(machine + entry(direction_deg=45)) == (
        Table("Fernhollow table", 52 * 25.4, 98 * 25.4, 1500, 100, 80, 1.5),
        (Reading("centres", math.radians(45), 300, 300.12, 0.02, tool="caliper", **NOT_TOLD),),
    )


@pytest.mark.parametrize(
    ("top", "nominal", "measured", "expected"),
    [
        ("", '"11.8 in"', '"11-13/16 in"', (299.72, 300.0375)),
        ("", "300", "300.12", (300, 300.12)),
        ('units = "in"\n', "12", "12.005", (304.8, 304.927)),
        ('units = "in"\n', '"300 mm"', '"300.1 mm"', (300, 300.1)),
        ("", '"1 ft"', '"12.01 in"', (304.8, 305.054)),
    ],
    ids=["inches", "bare is mm", "bare in a file of inches", "mm in a file of inches", "feet"],
)
def test_lengths_are_shop_text(top, nominal, measured, expected):
    text = f'{top}[[reading]]\nkind = "centres"\nnominal = {nominal}\nmeasured = {measured}\nu = "0.02 mm"\n'
    (reading,) = read(text)[1]
    assert (reading.nominal, reading.measured) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("values", "instrument"),
    [
        ({}, "caliper"),
        ({"nominal": "1000 mm", "measured": "1000.2 mm"}, "caliper"),
        ({"nominal": "1000.1 mm", "measured": "1000.2 mm"}, "tape"),
        ({"kind": "reversal", "measured": "0.6 mm"}, "scriber-and-rule"),
        ({"instrument": "steel-rule"}, "steel-rule"),
    ],
    ids=["caliper", "longest by caliper", "tape", "reversal", "said"],
)
def test_without_u_it_is_that_of_the_usual_instrument(values, instrument):
    (reading,) = read(entry(u=None, **values))[1]
    assert (reading.u, reading.instrument, reading.tool) == (usual_u()[instrument], instrument, instrument)


@pytest.mark.parametrize(
    ("given", "u", "instrument", "tool"),
    [
        ({"u": "0.01 mm"}, 0.01, "", "caliper"),
        ({"u": "0.01 mm", "instrument": "tape"}, 0.01, "", "tape"),
        ({"u": "0.01 mm", "instrument": "micrometer"}, 0.01, "", ""),
        ({"u": None, "instrument": "height-gauge"}, 0.03, "height-gauge", "height-gauge"),
    ],
    ids=["usual", "both", "one of its own errors unknown", "alone"],
)
def test_a_u_is_of_the_reading_and_an_instrument_of_what_it_shares(given, u, instrument, tool):
    (reading,) = read(entry(**given))[1]
    assert (reading.u, reading.instrument, reading.tool) == (u, instrument, tool)


@pytest.mark.parametrize(
    ("top", "said", "celsius"),
    [
        ("", "31", 31), ("", "'31'", 31), ("", "'31 \u00b0C'", 31), ("", "'88 F'", 280 / 9), ("", "'-4 \u00b0F'", -20),
        ('units = "in"\n', "88", 280 / 9), ('units = "in"\n', "'31C'", 31), ("", "-50", -50), ("", "150", 150),
    ],
)  # fmt: skip
def test_a_temperature_is_in_degrees_of_the_file_or_those_it_says(top, said, celsius):
    text = f"{top}[piece]\ntemperature = {said}\ninstrument_temperature = ''\n{entry()}"
    (reading,) = read(text)[1]
    assert reading.growth == pytest.approx(warmth("steel", celsius).growth, rel=1e-12)
    assert reading.warmth_u == warmth("steel", celsius).u


@pytest.mark.parametrize("said", ["135", "'135'", "'135 deg'", "135.0"])
def test_directions_are_degrees(said):
    text = entry().replace("[[reading]]\n", f"[[reading]]\ndirection_deg = {said}\n")
    assert read(text)[1][0].direction == pytest.approx(math.radians(135))


def test_a_reversal_may_be_negative():
    assert read(entry(kind="reversal", measured="-0.3 mm"))[1][0].measured == -0.3


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        (entry(kind="center"), Problem(
            "reading 1 kind", "center",
            "must be one of centres, outside, inside, hole, reversal; did you mean centres?")),
        (entry(direction_deg=361), Problem("reading 1 direction_deg", "361", "must be degrees, -360 to 360.")),
        (entry(direction_deg=math.nan), Problem("reading 1 direction_deg", "nan", "must be degrees, -360 to 360.")),
        (entry(nominal="0 mm"), Problem("reading 1 nominal", "0 mm", "must be more than 0.")),
        (entry(measured=-300), Problem("reading 1 measured", "-300", "must be more than 0.")),
        (entry(measured=True).replace("True", "true"),
         Problem("reading 1 measured", "True", 'must be a length such as "300.12 mm", or plain mm.')),
        (entry(measured=11.81), Problem(
            "reading 1 measured", "11.81 mm",
            "is far from the nominal 300 mm; look at the units and at what was measured.")),
        (entry(measured="101 m", nominal="100 m"), Problem("reading 1 measured", "101 m", "must be at most 100 m.")),
        (entry(u="0 mm"), Problem("reading 1 u", "0 mm", "must be more than 0.")),
        (entry(u=1e-7), Problem("reading 1 u", "1e-07", "must be 0.000001 to 100 mm.")),
        (entry(u=100.1), Problem("reading 1 u", "100.1", "must be 0.000001 to 100 mm.")),
        (entry(u=None, instrument="ruler"), Problem(
            "reading 1 instrument", "ruler",
            "must be one of caliper, tape, steel-rule, scriber-and-rule, feeler-gauge, height-gauge, or give u.")),
        ("[piece]\nmetal = 'lead'\n" + entry(), Problem(
            "piece metal", "lead", "must be one of steel, stainless, aluminium, copper, brass.")),
        ("[piece]\ntemperature = 'hot'\n" + entry(), Problem("piece temperature", "hot", DEGREES)),
        ("[piece]\ntemperature = 151\n" + entry(), Problem("piece temperature", "151", DEGREES)),
        ("[piece]\ninstrument_temperature = '-50.1 C'\n" + entry(),
         Problem("piece instrument_temperature", "-50.1 C", DEGREES)),
        ("[piece]\ntemprature = 20\n" + entry(),
         Problem("piece temprature", "", "isn't known; did you mean temperature?")),
        ("piece = 2\n" + entry(), Problem("piece", "2", "must be a table, [piece].")),
        ("[piece]\ndrawing = 3\n" + entry(),
         Problem("piece drawing", "3", "must be the address of its drawing, at most 2000 long.")),
        ("[machine]\nconfirmed = 'perhaps'\n" + entry(), Problem(
            "machine confirmed", "perhaps",
            "must be yes, where errors this large were looked at and are so; or empty.")),
        (entry(piece="x" * 81), Problem(
            "reading 1 piece", f"{'x' * 60}...", "must be text of one line, at most 80 characters.")),
        (entry(messured=1), Problem("reading 1 messured", "", "isn't known; did you mean measured?")),
        (entry(kind="reversal", measured="299 mm"), Problem(
            "reading 1 measured", "299 mm",
            "is no gap of a square: it is more than a quarter of the nominal; give the gap alone.")),
        ("[machine]\nsteps_per_mm_x = '100 mm'\n" + entry(),
         Problem("machine steps_per_mm_x", "100 mm", "must be a number.")),
        ("[machine]\nname = 7\n" + entry(),
         Problem("machine name", "7", "must be text of one line, at most 80 characters.")),
        ("[machine]\ngantry = 'z'\n" + entry(),
         Problem("machine gantry", "z", "must be x or y, the axis that the gantry lies along.")),
        ("machine = 1\n" + entry(), Problem("machine", "1", "must be a table, [machine].")),
        ("units = 'cm'\n" + entry(), Problem("units", "cm", "must be mm or in.")),
        ("", Problem("reading", "[]", "give each reading as a table, [[reading]], one at least.")),
        ("reading = 3", Problem("reading", "3", "give each reading as a table, [[reading]], one at least.")),
        (entry() * (MOST_READINGS + 1), Problem("reading", "501", "at most 500 readings are taken.")),
    ],
    ids=lambda value: value.parameter if isinstance(value, Problem) else "",
)  # fmt: skip
def test_what_cannot_be_used_is_refused_by_name(text, problem):
    assert refused(text) == (problem,)


def test_every_entry_at_fault_is_named():
    names = [problem.parameter for problem in refused(entry(kind="x", u="y") + entry(nominal="z"))]
    assert names == ["reading 1 kind", "reading 1 u", "reading 2 nominal"]


@pytest.mark.parametrize("text", ["[[reading", "a = " + "[" * 100_000, "kind = \x00"], ids=["open", "deep", "control"])
def test_what_is_no_toml_is_said(text):
    with pytest.raises(DataError, match="can't be read as TOML"):
        read(text)


@pytest.mark.parametrize("nominal", ["20 mm", "20.1 mm"])
def test_what_is_a_quarter_and_5_mm_off_is_far(nominal):
    text = entry(nominal=nominal, measured="15 mm")
    if nominal == "20 mm":
        assert read(text)[1][0].nominal == 20  # 5 mm off, not more
    else:
        assert refused(text)[0].parameter == "reading 1 measured"


def test_a_long_value_is_cut_short():
    assert len(refused(entry(kind="x" * 1000))[0].value) < 100


def test_what_is_left_empty_is_not_measured_yet():
    text = '[machine]\nname = ""\nkerf = ""\ngantry = " "\nsteps_per_mm_x = ""\nsteps_per_mm_y = "80"\n'
    text += entry(note="A") + entry(note="B", measured="", nominal="any", u="") + entry(u="", instrument="")
    table, readings = read(text)
    assert table == Table(steps_per_mm_y=80.0)
    assert [(each.number, each.note, each.u) for each in readings] == [(1, "A", 0.02), (3, "", usual_u()["caliper"])]
    assert unmeasured(parsed(text)) == ("B",)
    assert unmeasured(parsed(entry(measured=" "))) == ("1",)


def test_problems_keep_the_numbers_of_the_file():
    assert refused(entry(measured="") + entry(measured="30o"))[0].parameter == "reading 2 measured"


def test_a_file_without_any_measured_length_is_refused():
    assert refused(entry(measured="") * 3) == (
        Problem("reading", "3 of them", "hold no measured length yet; one at least has to."),
    )


def test_a_reading_without_the_entry_is_refused():
    assert refused(entry(measured=None))[0].parameter == "reading 1 measured"


@pytest.mark.parametrize(("note", "shown"), [("C", "C"), (" two  words ", "two words"), (7, ""), ("a\\nb", "")])
def test_a_note_is_shown_where_it_is_a_line_of_text(note, shown):
    text = entry().replace("[[reading]]\n", f"[[reading]]\nnote = {note if note == 7 else chr(34) + note + chr(34)}\n")
    assert read(text)[1][0].note == shown
