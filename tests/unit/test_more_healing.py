"""More healing: what is open or drawn twice is offered the tolerance that mends it, and nothing beyond the limit."""

import pytest

import parts
from parts.checking.more_healing import with_more_healing
from parts.checking.tolerance import most_healed
from parts.units import parse_length
from tests.files.foreign import INCH, circle, dxf, line
from tests.unit.test_heal_tolerance import KERF, check, gap
from tests.unit.test_own import box

HIGHEST = KERF / 3


def offers(checked) -> list[str]:
    return [text for finding in checked.part.findings for name, text in finding.changes if name == "tolerance"]


def seat(x, y):
    return box(100, 60, x, y)


@pytest.mark.parametrize("size", [0.11, 0.3, 0.32, 0.6, 0.66])
def test_the_offer_is_taken_and_the_gap_is_joined(size):
    checked = check(gap(size))
    (offer,) = offers(checked)
    assert size <= parse_length(offer) <= HIGHEST
    assert "would mend it" in checked.part.findings[0].remedy
    again = check(gap(size), tolerance=offer)
    assert (again.closed, again.stopped) == (True, False)


@pytest.mark.parametrize("size", [0.67, 0.9, 5])
def test_nothing_beyond_a_third_of_the_kerf_is_offered(size):
    assert size > HIGHEST
    checked = check(gap(size))
    assert checked.stopped
    assert offers(checked) == []
    assert "Healing up to" not in checked.part.findings[0].remedy


def test_a_tolerance_that_was_asked_for_too_small_is_offered_more():
    assert offers(check(gap(0.08), tolerance=0.05)) == ["0.1mm"]


def test_in_inches_it_is_offered_in_inches():
    edges = line(0, 0, 4, 0) + line(4, 0, 4, 2) + line(4.01, 2, 0, 2) + line(0, 2, 0, 0)
    (offer,) = offers(parts.check(dxf(edges, units=INCH), "p.dxf", thickness="1/4"))
    assert offer.endswith("in")
    assert 0.254 <= parse_length(offer) <= 0.3
    assert parts.check(dxf(edges, units=INCH), "p.dxf", thickness="1/4", tolerance=offer).closed


@pytest.mark.parametrize("apart", [0.15, 0.3])
def test_an_outline_drawn_twice_is_told_as_that(apart):
    twice = dxf(box(100, 60) + box(100 - 2 * apart, 60 - 2 * apart, apart, apart))
    checked = check(twice)
    (told,) = (f for f in checked.part.findings if "drawn twice" in f.message)
    assert (told.rule, told.severity) == ("loops", "stop")
    assert checked.at_drawing(told.at) in ([pytest.approx(v) for v in p] for p in _corners(apart))
    again = check(twice, tolerance=dict(told.changes)["tolerance"])
    assert (again.stopped, again.part.measures.pierces) == (False, 1)


def _corners(apart):
    a, b, c = apart, 100 - apart, 60 - apart
    return [(x, y) for x in (a, b, 0, 100) for y in (a, c, 0, 60)]


def test_a_line_drawn_twice_is_offered_it():
    twice = dxf(box(100, 60) + line(0, 60.3, 100, 60.3))
    checked = check(twice)
    (offer,) = offers(checked)
    assert not check(twice, tolerance=offer).stopped


def test_two_gaps_are_mended_by_one_tolerance():
    edges = line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.2, 40, 0, 40) + line(0, 40, 0, 0.45)
    checked = check(dxf(edges))
    assert set(offers(checked)) == {"0.45mm"}
    assert not check(dxf(edges), tolerance="0.45mm").stopped


def test_what_stays_open_is_not_said_to_be_mended():
    """One gap within reach and a loose line far off: only the first is offered it."""
    edges = line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.3, 40, 0, 40) + line(0, 40, 0, 0)
    checked = check(dxf(edges + line(200, 0, 230, 0)))
    told = {f.message: bool(f.changes) for f in checked.part.findings if f.rule == "loops"}
    assert told == {
        "The outline is open here by 0.3 mm.": True, "This line joins nothing at either end, 30 mm long.": False,
    }  # fmt: skip


def test_a_sound_drawing_and_two_real_slots_are_read_once():
    def never(_: float):
        raise AssertionError("read again")

    for data in (box(100, 60), box(100, 60) + circle(50, 30, 10)):
        checked = check(dxf(data))
        reading = _Read(checked)
        assert with_more_healing(reading, checked.part.findings, most_healed(checked.part.record.job), never) == ()


class _Read:
    """What is asked of a reading before it is read again."""

    def __init__(self, checked):
        self.tolerance_mm, self.open = checked.tolerance_mm, checked.open
