"""One parameter: what it reads, refuses and says."""

import math

import pytest
from pydantic import BaseModel

from parts.errors import UnitsError
from parts.spec.kinds import angle, bolt, choice, count, fit, flag, length, number, text, thickness
from parts.spec.parameter import BY_DIAMETER, ReadingContext, Spec, hole_diameter, say_least, say_most, spec_of
from parts.units import parse_length


class Declared(BaseModel):
    leg: float = length("Leg", default=100, minimum=25, maximum=1500, help="Along the base.")
    plate: float = thickness("Thickness", default=6, minimum=0.3, maximum=150, group="Stock")
    holes: int = count("Holes", default=2, minimum=0, maximum=12)
    slope: float = angle("Slope", default=30, minimum=-90, maximum=90)
    ratio: float = number("Ratio", default=1.5, minimum=0, maximum=10)
    shape: str = choice("Shape", default="round", choices=("round", "half-round"))
    notch: bool = flag("Notch")
    word: str = text("Word", default="OAK", characters="ABKO 1", longest=5)
    size: str = bolt("Bolt", default="M10", diameter="leg")
    looseness: str = fit()


SPEC = {name: spec_of(name, field) for name, field in Declared.model_fields.items()}
MM, IN = ReadingContext("mm"), ReadingContext("in")
GAUGED = ReadingContext("mm", "steel")


def test_a_declaration():
    assert SPEC["leg"] == Spec("leg", "length", "Leg", 100, "Outline", "Along the base.", 25, 1500)
    assert [spec.kind for spec in SPEC.values()] == [
        "length", "length", "count", "angle", "number", "choice", "flag", "text", "choice", "choice"
    ]  # fmt: skip
    assert [spec.unit for spec in SPEC.values()] == ["mm", "mm", "", "deg", "", "", "", "", "", ""]


@pytest.mark.parametrize(
    ("name", "given", "reading", "value"),
    [
        ("leg", "100", MM, 100.0),
        ("leg", "4", IN, 101.6),
        ("leg", " 1-1/2 in ", MM, 38.1),
        ("leg", "2ft 3in", MM, 685.8),
        ("leg", 30, IN, 30.0),
        ("leg", 25.0 - 1e-10, MM, 25.0 - 1e-10),
        ("plate", "1/4", MM, 6.35),
        ("plate", "16 ga", GAUGED, pytest.approx(1.519, abs=1e-3)),
        ("holes", "three", MM, 3),
        ("holes", 4.0, MM, 4),
        ("slope", "22-1/2 deg", MM, 22.5),
        ("slope", -45, MM, -45.0),
        ("ratio", "1/2", IN, 0.5),
        ("shape", "Half_Round", MM, "half-round"),
        ("notch", "YES", MM, True),
        ("notch", "0", MM, False),
        ("notch", True, MM, True),
        ("word", " OAK 1 ", MM, "OAK 1"),
        ("word", "", MM, ""),
        ("size", "m8", MM, "M8"),
        ("size", "5/16 in", MM, "5/16"),
        ("size", "By-Diameter", MM, BY_DIAMETER),
        ("looseness", "LOOSE", MM, "loose"),
    ],
)
def test_read(name, given, reading, value):
    found = SPEC[name].read(given, reading)
    assert found == value
    assert type(found) is type(SPEC[name].read(SPEC[name].default, reading))


@pytest.mark.parametrize(
    ("name", "given", "reading", "message"),
    [
        ("leg", "24.99", MM, "must be at least 25 mm."),
        ("leg", "1500.01", MM, "must be at most 1500 mm."),
        ("leg", "0.98", IN, "must be at least 1 in."),
        ("leg", "60", IN, "must be at most 59 in."),
        ("leg", "-30", MM, "must be at least 25 mm."),
        ("leg", math.nan, MM, "nan can't be read as a length."),
        ("leg", math.inf, MM, "inf can't be read as a length."),
        ("leg", 10**400, MM, f"{'1' + '0' * 39} can't be read as a length."),
        ("leg", True, MM, "True can't be read as a length."),
        ("leg", None, MM, "None can't be read as a length."),
        ("leg", [100], MM, "[100] can't be read as a length."),
        ("holes", 10**400, MM, f"{'1' + '0' * 39} can't be read as a count."),
        ("holes", 1.5, MM, "1.5 can't be read as a count."),
        ("holes", "13", MM, "must be at most 12."),
        ("holes", -1, MM, "must be at least 0."),
        ("slope", "90.1", MM, "must be at most 90°."),
        ("ratio", 10.01, MM, "must be at most 10."),
        ("shape", "square", MM, "must be one of round, half round."),
        ("shape", 1, MM, "1 can't be read as a choice."),
        ("notch", "perhaps", MM, "must be on or off."),
        ("notch", 1, MM, "1 can't be read as a flag."),
        ("word", "OAKS", MM, "can't hold S; it may hold ABKOspaces and 1."),
        ("word", "OAKOAK", MM, "must be at most 5 characters long."),
    ],
)
def test_refuse(name, given, reading, message):
    with pytest.raises(UnitsError) as refused:
        SPEC[name].read(given, reading)
    assert str(refused.value) == message


@pytest.mark.parametrize("text", ["", "wide", "10 kg", "1/0", "M99"])
@pytest.mark.parametrize("name", ["leg", "plate", "holes", "slope", "size"])
def test_text_that_is_none_of_it_is_refused_in_one_sentence(name, text):
    with pytest.raises(UnitsError) as refused:
        SPEC[name].read(text, MM)
    assert "\n" not in str(refused.value)
    assert str(refused.value)


@pytest.mark.parametrize(
    ("value", "passes"),
    [(24.99, False), (25 - 1e-8, False), (25 - 1e-10, True), (25, True), (25.01, True), (1500, True),
     (1500 + 1e-10, True), (1500 + 1e-8, False)],
)  # fmt: skip
def test_limits(value, passes):
    if passes:
        assert SPEC["leg"].read(value, MM) == value
    else:
        with pytest.raises(UnitsError):
            SPEC["leg"].read(value, MM)


@pytest.mark.parametrize(
    ("name", "value", "units", "said"),
    [
        ("leg", 38.1, "mm", "38.1 mm"),
        ("leg", 38.1, "in", "1-1/2 in"),
        ("slope", 22.5, "mm", "22.5°"),
        ("notch", True, "mm", "yes"),
        ("notch", False, "mm", "no"),
        ("holes", 3, "mm", "3"),
        ("ratio", 1.5, "in", "1.5"),
        ("shape", "round", "mm", "round"),
    ],
)
def test_say(name, value, units, said):
    assert SPEC[name].say(value, units) == said


@pytest.mark.parametrize(
    ("name", "value"),
    [("leg", 100 / 3), ("leg", 38.1), ("slope", 22.123456789), ("notch", True), ("notch", False), ("holes", 7),
     ("ratio", 0.1 + 0.2), ("word", "OAK 1"), ("size", "5/16")],
)  # fmt: skip
@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("read_in", [MM, IN])
def test_text_reads_back_to_the_very_value_whatever_the_units(name, value, units, read_in):
    assert SPEC[name].read(SPEC[name].text(value, units), read_in) == value


@pytest.mark.parametrize(
    ("name", "units", "limits"),
    [
        ("leg", "mm", "25 mm to 1500 mm"),
        ("leg", "in", "1 in to 59 in"),
        ("holes", "in", "0 to 12"),
        ("slope", "mm", "-90° to 90°"),
        ("shape", "mm", "one of round, half round"),
        ("notch", "mm", ""),
    ],
)
def test_limits_in_words(name, units, limits):
    assert SPEC[name].limits(units) == limits


@pytest.mark.parametrize("mm", [25, 5.5555, 5.5554, 1.9996, 0.0004, 38.1, 300 / 7, 1e4 / 3])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_limit_as_it_is_said_is_accepted(mm, units):
    """Rounded to the side of what is allowed, by no more than the last decimal."""
    step = 0.001 if units == "mm" else 0.0254
    assert mm - 1e-9 <= parse_length(say_least(mm, units)) < mm + step
    assert mm - step < parse_length(say_most(mm, units)) <= mm + 1e-9


def test_holes_by_bolt_and_by_diameter():
    """ISO 273, M10: fine 10.5, medium 11, coarse 12 (from the published table)."""
    assert [hole_diameter("M10", name, 99) for name in ("close", "normal", "loose")] == [10.5, 11, 12]
    assert hole_diameter(BY_DIAMETER, "close", 99) == 99
