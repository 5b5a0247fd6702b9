"""Every file we write, read back: the same loops on the same sides, the same marks, the same units."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.export import dxf, layers, svg
from parts.profile import Bend, Drill, Profile, Scribe
from parts.read import layers as read_layers
from parts.read import read_drawing
from parts.record import Record
from tests import library
from tests.depth import one_in, some_of
from tests.files.records import FEW, LIBRARY, MADE, SLUGS, SPECIAL, UNITS, VERSIONS, in_file, special
from tests.strategies import parts_of

REL = 1e-9


def near(value: float):
    return pytest.approx(value, rel=REL, abs=1e-9)


def check(record: Record, kind: str) -> None:
    text = dxf.write(record) if kind == "dxf" else svg.write(record)
    reading = read_drawing(text.encode(), f"part.{kind}")
    assert reading.units == (record.units if kind == "dxf" else "mm")  # our SVG is always in mm
    assert reading.healed == ()
    assert reading.findings == ()
    assert reading.open == ()
    assert_same(reading.profile, record.profile, sized=kind == "dxf" and record.drill_circles)


def assert_same(read: Profile, due: Profile, *, sized: bool) -> None:
    """`sized` is whether the file says how large drilled holes are."""
    assert [(near(loop.area), near(loop.perimeter)) for loop in due.outside] == [
        (loop.area, loop.perimeter) for loop in read.outside
    ]
    assert [(near(o.loop.area), near(o.loop.perimeter)) for o in due.inside] == [
        (o.loop.area, o.loop.perimeter) for o in read.inside
    ]
    for a, b in zip(read.boundary, due.boundary, strict=True):
        # an SVG's arc has no centre: of nearly half a circle it is found to the root of the rounding, some nanometres
        assert a.box == tuple(pytest.approx(v, abs=1e-5) for v in b.box)
        assert (a.circle is None) == (b.circle is None)
    assert lengths(read, Scribe) == [near(v) for v in lengths(due, Scribe)]
    bends = [[(m.line.start, m.line.end) for m in p.marks if isinstance(m, Bend)] for p in (read, due)]
    assert flat(bends[0]) == [near(v) for v in flat(bends[1])]
    due_drills = [m for m in due.marks if isinstance(m, Drill)]
    sizes = [m.diameter if sized else 0.0 for m in due_drills]
    assert [m.diameter for m in read.marks if isinstance(m, Drill)] == [near(size) for size in sizes]
    drills = [[m.at for m in p.marks if isinstance(m, Drill)] for p in (read, due)]
    assert flat(drills[0]) == [near(v) for v in flat(drills[1])]


def lengths(profile: Profile, kind: type[Scribe]) -> list[float]:
    """Length of each stroke of scribe; a file may have a mark of two strokes as two marks."""
    strokes: list[float] = []
    for mark in profile.marks:
        last = None
        for segment in mark.path if isinstance(mark, kind) else ():
            if last is not None and math.dist(last, segment.start) < 1e-6:
                strokes[-1] += segment.length
            else:
                strokes.append(segment.length)
            last = segment.end
    return sorted(strokes)


def flat(value) -> list[float]:
    return [value] if isinstance(value, float | int) else [v for inner in value for v in flat(inner)]


@pytest.mark.parametrize(("slug", "version", "units"), one_in(4, LIBRARY, 1))
def test_a_template_at_its_defaults(slug, version, units):
    record = library.part(slug, dxf_version=version, units=units, notes=True).record
    check(record, "dxf")
    check(record, "svg")


@pytest.mark.parametrize("slug", some_of(8, SLUGS, 2))
@FEW
@given(data=st.data(), made=st.sampled_from([(v, u) for v in VERSIONS for u in UNITS]))
def test_a_template_at_any_values(slug, data, made):
    record = in_file(data.draw(parts_of(parts.templates()[slug], common=True, changed=True)).record, *made)
    check(record, "dxf")
    check(record, "svg")


@pytest.mark.parametrize(("version", "units"), MADE)
@pytest.mark.parametrize("name", SPECIAL)
def test_a_profile_that_is_hard_to_write(name, version, units):
    record = in_file(special(name), version, units)
    check(record, "dxf")
    check(record, "svg")


def test_the_layers_are_those_we_write():
    for name in read_layers.OWN:
        assert getattr(layers, name) == getattr(read_layers, name) == name


def test_units_asked_for_against_the_files_own_are_followed_and_said():
    text = parts.draw("gusset-triangle", leg_a="100 mm", units="mm").to_dxf()
    reading = read_drawing(text.encode(), "part.dxf", units="in")
    assert reading.units == "in"
    x0, _, x1, _ = reading.profile.box
    assert x1 - x0 == pytest.approx(2540)
    (finding,) = reading.findings
    assert finding.severity == "warn"
    assert "millimetres" in finding.message
    assert "inches, as asked" in finding.message
