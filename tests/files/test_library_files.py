"""The DXF of every template as it comes and of its presets: three other readers find the part that was measured.

The sums are over what the readers found and compared with the measures, so a loop left out, one too many or one
written twice shows, not only one that is off.
"""

import math
from functools import cache

import pytest

import parts
from parts.export import dxf
from parts.record import Record
from tests import library
from tests.depth import DEEP, one_in
from tests.files import readers
from tests.files.readers import near

UNIT_MM = {"mm": 1.0, "in": 25.4}
EXACT = 1e-9
"""Of readers that take arcs as arcs: the rounding of a few hundred sums."""

TEMPLATES = parts.templates()
ALL = {slug: ("", *(preset.name for preset in template.presets)) for slug, template in TEMPLATES.items()}
TURN = {slug: at for at, slug in enumerate(ALL)}
ONE_BY_TURNS = {slug: names[1 + TURN[slug] % (len(names) - 1)] for slug, names in ALL.items()}
PARTS = [
    pytest.param(slug, preset, id=f"{slug} {preset or 'as it comes'}".replace("/", " to "))
    for slug, names in ALL.items()
    for preset in (names if DEEP else [("", ONE_BY_TURNS[slug])[TURN[slug] % 2]])
]
"""Every other template as it comes, a preset of the others; in a deep run each with all of them."""
SOLID = PARTS if DEEP else one_in(4, (each for each in PARTS if each.values[1]))


@cache
def made(slug, preset, units):
    """The record of a part, and its file."""
    record = library.part(slug, preset, units=units).record
    return record, dxf.write(record)


@cache
def by_ezdxf(slug, preset, units):
    return readers.by_ezdxf(made(slug, preset, units)[1])


def cut(found):
    """What of a reading is cut: area, length, number of loops, of OUTSIDE less INSIDE."""
    outside, inside = found["OUTSIDE"], found.get("INSIDE", [])
    assert all(read.closed for read in (*outside, *inside))
    area = math.fsum(read.area for read in outside) - math.fsum(read.area for read in inside)
    return area, math.fsum(read.length for read in (*outside, *inside)), len(outside) + len(inside)


def box(found):
    boxes = [read.box for read in found["OUTSIDE"]]
    return tuple(low(b[i] for b in boxes) for i, low in enumerate((min, min, max, max)))


def assert_measured(record: Record, found, area_slack: float = 0.0, length_slack: float = 0.0, box_slack: float = 0.0):
    unit, m = UNIT_MM[record.units], record.measures
    area, length, loops = cut(found)
    assert loops == m.loops
    assert area * unit**2 == near(m.area_mm2, rel=EXACT, abs=loops * area_slack)
    assert length * unit == near(m.cut_length_mm, rel=EXACT, abs=loops * length_slack)
    within = box_slack + 1e-9 * max(m.width_mm, m.height_mm)
    assert [v * unit for v in box(found)] == near([0, 0, m.width_mm, m.height_mm], rel=0, abs=within)


@pytest.mark.parametrize(("slug", "preset"), PARTS)
def test_two_readers_find_what_was_measured(slug, preset):
    """In millimetres or, every other, in inches; in a deep run each in both. Marks stand on their layers."""
    for units in UNIT_MM if DEEP else [list(UNIT_MM)[TURN[slug] % 2]]:
        record, text = made(slug, preset, units)
        assert_measured(record, by_ezdxf(slug, preset, units))
        slack = readers.slack(record)
        assert_measured(record, readers.by_gdal(text), slack.area, slack.length, slack.box)
        assert_marks_on_their_layers(record, by_ezdxf(slug, preset, units))


@pytest.mark.parametrize(("slug", "preset"), SOLID)
def test_the_kernel_of_solids_finds_what_was_measured(slug, preset):
    """In an everyday run a preset of every other, by turns: as they come they have a test in `test_dxf.py`."""
    record, text = made(slug, preset, "mm")
    m = record.measures
    layers = ["OUTSIDE", "INSIDE"] if record.profile.inside else ["OUTSIDE"]
    faces = {layer: readers.by_occ(text, layer) for layer in layers}
    areas = {layer: math.fsum(area for area, _ in found) for layer, found in faces.items()}
    assert sum(len(found) for found in faces.values()) == m.loops
    # OpenCASCADE takes points 1e-7 mm apart for one, so a very short segment may move its neighbours' ends by that
    slack = 1e-7 * m.cut_length_mm
    assert areas["OUTSIDE"] - areas.get("INSIDE", 0.0) == near(m.area_mm2, rel=EXACT, abs=slack)
    length = math.fsum(length for found in faces.values() for _, length in found)
    assert length == near(m.cut_length_mm, rel=EXACT, abs=1e-7 * m.loops)


def assert_marks_on_their_layers(record, found):
    """Bends, scribed lines and drill centres: as many, and of the lengths, that the profile has."""
    unit = UNIT_MM[record.units]
    due = readers.expected(record, unit)
    for layer in ("BEND", "SCRIBE", "DRILL"):
        lengths = [[read.length for read in of.get(layer, [])] for of in (found, due)]
        assert len(lengths[0]) == len(lengths[1])
        assert math.fsum(lengths[0]) == near(math.fsum(lengths[1]), rel=EXACT)
    scribed = math.fsum(read.length for read in found.get("SCRIBE", []))
    assert scribed * unit == near(record.measures.scribe_length_mm, rel=EXACT)
    assert [read.kind for read in found.get("DRILL", [])].count("POINT") == record.measures.drill_centres
