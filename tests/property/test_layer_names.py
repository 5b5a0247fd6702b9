"""No cut geometry is lost by a layer's name: of random parts on common layers, every outline is cut or told of."""

import math
import re
from collections import Counter

import pytest

from parts.read import ReadDrawing, read_drawing
from tests.depth import first_number, several
from tests.property.layered import Drawn, missing, part

COUNT = several(60, 500)
_WARNED = re.compile(r"([\d,]+) closed outlines?.* on layer (.+) left out")


def middles(reading: ReadDrawing, shift: tuple[float, float]) -> list[tuple[tuple[float, float], float]]:
    """The middle of each loop's box in the drawing's own coordinates, and its area."""
    boxes = [(loop.box, loop.area) for loop in reading.profile.boundary]
    return [(((a + c) / 2 + shift[0], (b + d) / 2 + shift[1]), area) for (a, b, c, d), area in boxes]


def lost(made: list[Drawn], reading: ReadDrawing) -> list[Drawn]:
    """What is neither cut nor told of by a warning that names its layer."""
    told: Counter[str] = Counter()
    for finding in reading.findings:
        if finding.severity == "warn" and (said := _WARNED.match(finding.message)):
            told[said[2]] += int(said[1].replace(",", ""))
    silent = []
    for each in missing(made, middles(reading, corner(made, reading))):
        told[each.layer] -= 1
        if told[each.layer] < 0:
            silent.append(each)
    return silent


def corner(made: list[Drawn], reading: ReadDrawing) -> tuple[float, float]:
    """How far the reading was moved: by what brings most of what was found onto what was drawn."""
    found = middles(reading, (0.0, 0.0))
    pairs = ((each, at) for each in made for at, area in found if math.isclose(each.area, area, rel_tol=1e-6))
    shifts = Counter((round(e.middle[0] - x, 3), round(e.middle[1] - y, 3)) for e, (x, y) in pairs)
    return shifts.most_common(1)[0][0] if shifts else (0.0, 0.0)


@pytest.mark.parametrize("number", range(start := first_number(), start + COUNT))
def test_every_outline_is_cut_or_told_of(number):
    data, made = part(number)
    reading = read_drawing(data, f"part {number}.dxf")
    assert not lost(made, reading), [each.layer for each in made]


@pytest.mark.parametrize("number", range(start, start + several(10, 100)))
def test_what_is_chosen_is_cut_whole(number):
    """With every layer chosen to be cut nothing is left aside, and nothing is asked."""
    data, made = part(number)
    reading = read_drawing(data, "chosen.dxf", layers={each.layer: "cut" for each in made})
    assert not list(missing(made, middles(reading, corner(made, reading))))
    assert not [finding for finding in reading.findings if finding.severity == "warn"]
