"""Drawings from elsewhere that came in wrong in silence, or were refused a hair too soon."""

import math

import pytest

from tests.files.foreign import areas, block, circle, document, dxf, insert, read, svg
from tests.unit.test_own import box
from tests.unit.test_read_roles import told


def test_a_wide_line_that_tapers_along_an_arc_is_cut_round():
    """A quarter about (0, 0) at 100, 10 to 20 wide: its sides are spirals, its area 100 (10 + 20)/2 pi/2."""
    made, space = document()
    space.add_lwpolyline([(100, 0, 10, 20, math.tan(math.pi / 8)), (0, 100)], format="xyseb")
    reading = read(made)
    (loop,), (row,) = reading.profile.outside, reading.account.outlines
    assert loop.area == pytest.approx(100 * 15 * math.pi / 2, rel=1e-6)
    dx, dy = (loop.box[i] - row.box[i] for i in (0, 1))
    for k in range(101):
        turn, half = k / 100 * math.pi / 2, 5 + 5 * k / 100
        for radius in (100 - half, 100 + half):
            p = radius * math.cos(turn) + dx, radius * math.sin(turn) + dy
            assert min(math.dist(p, s.nearest(p)) for s in loop.segments) < 0.001
    assert [f.severity for f in reading.findings] == ["note"]


@pytest.mark.parametrize("bulge", [1.0, -0.5, 0.2])
@pytest.mark.parametrize("widths", [(0, 6), (6, 0), (4, 6)])
def test_a_taper_to_a_tip_or_along_any_arc_closes(bulge, widths):
    made, space = document()
    space.add_lwpolyline([(0, 0, *widths, bulge), (80, 0)], format="xyseb")
    reading = read(made)
    sweep, chord = 4 * math.atan(abs(bulge)), 80
    radius = chord / 2 / math.sin(sweep / 2)
    assert reading.open == ()
    (loop,) = reading.profile.outside
    assert loop.area == pytest.approx(radius * sum(widths) / 2 * sweep, rel=1e-4)


@pytest.mark.parametrize(
    ("radius", "degrees", "closes"), [(600, 359.99, True), (5000, 359.99, True), (600, 359.9, False)]
)
def test_an_arc_that_lacks_the_rounding_of_its_angles_is_a_circle(radius, degrees, closes):
    made, space = document()
    space.add_arc((0, 0), radius, 0, degrees)
    reading = read(made)
    assert bool(reading.profile.outside) == closes
    if closes:
        assert reading.profile.outside[0].circle.diameter == pytest.approx(2 * radius)
        assert reading.healed[-1].startswith("joined 1 gap of up to ")


def test_a_block_of_another_file_is_said():
    elsewhere = "0\nBLOCK\n2\nXR\n70\n4\n10\n0\n20\n0\n1\nother.dxf\n0\nENDBLK\n"
    reading = read(dxf(box(100, 60) + insert("XR"), elsewhere))
    assert told(reading) == [("warn", "1 block that isn't in the file left out.")]


def test_a_block_scaled_to_nothing_is_said():
    placed = insert("B", "41\n0\n42\n1\n") * 2
    reading = read(dxf(box(100, 60) + placed, block("B", circle(10, 10, 3))))
    assert told(reading) == [("warn", "2 blocks scaled to nothing left out: scales of them are zero.")]
    assert areas(reading) == ([6000.0], [])


def test_a_circle_of_no_radius_is_counted():
    reading = read(dxf(box(100, 60) + circle(10, 10, 0) + circle(20, 10, 0)))
    assert reading.healed == ("dropped 2 lines of no length",)


def test_what_is_done_to_several_is_said_of_several():
    made, space = document()
    space.add_circle((0, 0), 50)
    space.add_image(made.add_image_def("a.png", (1, 1)), (0, 0), (5, 5))
    space.add_image(made.add_image_def("b.png", (1, 1)), (0, 0), (5, 5))
    (finding,) = read(made).findings
    assert finding.message == "2 pictures left out: they have no lines to cut."
    assert finding.remedy == "Trace them into outlines if they are to be cut."


def test_elements_that_svg_does_not_know_are_said():
    reading = read(svg('<rect width="90" height="90"/><shape><circle cx="30" cy="30" r="5"/></shape>'))
    assert reading.healed[-1] == "passed over 1 entity in an element that isn't SVG's"
