"""A round hole is known however it is drawn, and what isn't one stays what it is."""

import math
import random

import pytest

from parts.geometry.draft import rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc
from parts.read import read_drawing
from parts.read.circles import round_loop
from tests.depth import first_number, several
from tests.property import disguises
from tests.property.disguises import DISGUISES, TOLERANCE, Plate

PARTS = several(4, deep=2000)
FIRST = first_number()
FILES = {"dxf": disguises.as_dxf, "svg": disguises.as_svg}


def known(drawn: Plate, kind: str, data: bytes) -> str:
    """What is wrong with how the holes of a plate were read, or nothing."""
    reading = read_drawing(data, f"plate.{kind}")
    circles = [opening.loop.circle for opening in reading.profile.inside]
    if reading.findings or not all(circles) or len(circles) != len(drawn.holes) or len(reading.profile.outside) != 1:
        return f"{len(circles)} openings, {circles.count(None)} not round, {reading.findings}, {reading.healed}"
    if not reading.healed or not all(mend.size_mm <= 0.25 for mend in reading.mends):
        return f"not told: {reading.healed} {reading.mends}"
    for hole in drawn.holes:
        middle = hole.x, hole.y if kind == "dxf" else drawn.height - hole.y
        circle = min(circles, key=lambda circle: math.dist(circle.centre, middle))
        off = max(abs(circle.diameter - hole.diameter), math.dist(circle.centre, middle))
        if off > TOLERANCE:
            return f"{circle} for {hole}"
    return ""


@pytest.mark.parametrize("kind", FILES)
@pytest.mark.parametrize("disguise", DISGUISES, ids=lambda disguise: disguise.__name__)
def test_every_hole_is_known_with_its_diameter_and_told(disguise, kind):
    wrong = {}
    for number in range(FIRST, FIRST + PARTS):
        drawn = disguises.plate(number)
        if said := known(drawn, kind, FILES[kind](drawn, disguise, number)):
            wrong[number] = said
    assert not wrong


@pytest.mark.parametrize("disguise", DISGUISES, ids=lambda disguise: disguise.__name__)
def test_a_drawing_without_disguise_is_read_without_a_word(disguise):
    """What is told above is told of the disguise alone."""
    drawn = disguises.plate(DISGUISES.index(disguise))
    assert read_drawing(disguises.as_dxf(drawn, disguises.plain, 1), "plain.dxf").healed == ()


def regular(count: int, radius: float, turn: float = 0.1) -> Loop:
    step = 2 * math.pi / count
    return Loop.through(
        (radius * math.cos(turn + i * step), radius * math.sin(turn + i * step), 0) for i in range(count)
    )


def nut(count: int, across: float) -> Loop:
    """A recess of as many sides, as wide across flats."""
    return regular(count, across / 2 / math.cos(math.pi / count))


FLAT = 4.88, math.sqrt(25 - 4.88**2)
NO_CIRCLE = {
    "square": rectangle((0, 0), 5, 5), "small square": rectangle((0, 0), 0.5, 0.5),
    "hexagon": regular(6, 5), "small hexagon": regular(6, 0.5), "octagon": regular(8, 1),
    "eleven sides": regular(11, 2),
    "twelve-sided recess for M4": nut(12, 7), "for M6": nut(12, 10), "for M20": nut(12, 30),
    "hexagon with its sides in two": Loop.through(
        (*p, 0) for s in regular(6, 1).segments for p in (s.start, s.at(0.5))),
    "slot": slot((0, 0), 10.5, 10), "small slot": slot((0, 0), 2.3, 2), "tiny slot": slot((0, 0), 0.6, 0.5),
    "square with large rounds": rectangle((0, 0), 10, 10, 4.4),
    "a flat of 0.12 mm": Loop.through([(*FLAT, math.tan((math.pi - math.acos(4.88 / 5)) / 2)), (4.88, -FLAT[1], 0)]),
}  # fmt: skip


@pytest.mark.parametrize("loop", NO_CIRCLE.values(), ids=NO_CIRCLE.keys())
@pytest.mark.parametrize("tolerance", [0.01, 0.1])
def test_what_is_no_circle_by_more_than_the_tolerance_stays(loop, tolerance):
    assert round_loop(loop, tolerance) is None


@pytest.mark.parametrize("tolerance", [0.05, 0.1, 0.3])
@pytest.mark.parametrize("share", [0.98, 1.02])
def test_twelve_sides_are_a_circle_by_how_far_they_bow(tolerance, share):
    radius = share * tolerance / (1 - math.cos(math.pi / 12))
    found = round_loop(regular(12, radius), tolerance)
    assert (found is not None) == (share < 1)
    if found:
        assert found.off_mm == pytest.approx(share * tolerance)
        assert found.circle.diameter == pytest.approx(2 * radius)


@pytest.mark.parametrize("more", [0.3, 0.5])
def test_a_short_slot_is_a_circle_only_within_the_tolerance_and_by_how_much_is_told(more):
    found = round_loop(slot((0, 0), 10 + more, 10), 0.1)
    assert (found is not None) == (more < 0.4)
    if found:
        assert more / 5 < found.off_mm < more / 3


def test_a_circle_with_a_bump_or_a_notch_stays_as_drawn():
    rng = random.Random(1)
    for size in (0.05, 0.3):
        turn = rng.uniform(0, 6)
        tip = 5 + size
        bumped = Loop((
            Arc((5 * math.cos(turn), 5 * math.sin(turn)), (5 * math.cos(turn + 6.2), 5 * math.sin(turn + 6.2)),
                math.tan(6.2 / 4)),
            *Loop.through([(5 * math.cos(turn + 6.2), 5 * math.sin(turn + 6.2), 0),
                           (tip * math.cos(turn + 6.24), tip * math.sin(turn + 6.24), 0),
                           (5 * math.cos(turn), 5 * math.sin(turn), 0)]).segments[:2],
        ))  # fmt: skip
        assert (round_loop(bumped, 0.1) is not None) == (size < 0.1)
