"""The search for the maximum inscribed circle, beside circles known by hand and those of another library."""

import math

import pytest
import shapely
from hypothesis import assume, example, given
from hypothesis import strategies as st

import parts
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.inscribed import inscribed
from parts.geometry.loop import Loop
from parts.geometry.segments import Segments
from parts.geometry.view import centres
from parts.geometry.view import polygon as flattened
from parts.tolerance import FLATTEN_MM

L_SHAPE = polygon([(0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30)])
HALF_RING = Loop.through([(50, 0, 1), (-50, 0, 0), (-44, 0, -1), (44, 0, 0)])
DOGBONE = polygon([(0, 0), (40, 0), (40, 6), (24, 6), (24, 3), (16, 3), (16, 6), (0, 6)])


def search(*loops: Loop, least: float = 0.0, enough: float = math.inf):
    return inscribed(Segments.of([s for loop in loops for s in loop.segments]), loops[0].box, least, enough)


@pytest.mark.parametrize(
    ("loops", "radius"),
    [
        pytest.param([rectangle((0, 0), 40, 12)], 6, id="rectangle"),
        pytest.param([slot((0, 0), 70, 9, 0.3)], 4.5, id="slot"),
        pytest.param([polygon([(0, 0), (40, 0), (0, 30)])], 10, id="triangle 3-4-5"),
        # beside the corner at (10, 10), in the corner at the origin: r sqrt 2 + r = 10 sqrt 2
        pytest.param([L_SHAPE], 10 * math.sqrt(2) / (1 + math.sqrt(2)), id="L"),
        pytest.param([HALF_RING], 3, id="half a ring"),
        pytest.param([DOGBONE], 3, id="dogbone"),
        pytest.param([circle((0, 0), 20), circle((0, 0), 8)], 3, id="round an island"),
        pytest.param([circle((5, 5), 20)], 10, id="circle"),
    ],
)
def test_the_largest_circle_is_the_one_known_by_hand(loops, radius):
    found = search(*loops)
    assert radius - FLATTEN_MM <= found.radius <= radius + 1e-9
    assert radius - 1e-9 <= found.most <= radius + 1.001 * FLATTEN_MM
    assert search(*loops, least=radius + 2 * FLATTEN_MM).most < radius + 2 * FLATTEN_MM
    assert search(*loops, enough=radius - 2 * FLATTEN_MM).most == math.inf


@example([(5.0, 0.0), (5.0, 0.0), (5.0, 1e-10), (20.0, 0.0)])  # an arc of a radius of 50,000 km
@example([(22.0, 0.0), (10.0, 0.5), (6.0, 1e-10), (26.0, 0.0), (5.0, 0.0)])
@example([(25.28125, 0.0), (39.0, 0.0), (8.5, 1e-10), (26.0, 0.0), (5.0, 0.0), (5.0, 0.5)])
@given(st.lists(st.tuples(st.floats(5, 40), st.floats(-0.6, 0.6)), min_size=4, max_size=14))
def test_it_is_as_large_as_another_library_finds_it(rows):
    angles = (2 * math.pi * i / len(rows) for i in range(len(rows)))
    loop = Loop.through([(r * math.cos(a), r * math.sin(a), b) for (r, b), a in zip(rows, angles, strict=True)])
    shape = flattened(loop, chord_error=FLATTEN_MM / 10)
    assume(shape.is_valid)
    radius = shapely.maximum_inscribed_circle(shape, tolerance=FLATTEN_MM / 10).length
    found = search(loop)
    assert abs(found.radius - radius) <= 1.5 * FLATTEN_MM
    x0, y0, x1, y1 = centres(flattened(loop), found.radius)
    assert x0 <= found.centre[0] <= x1
    assert y0 <= found.centre[1] <= y1
    assert centres(flattened(loop), 1.04 * found.most + 2 * FLATTEN_MM) is None
    assert found.most >= radius - FLATTEN_MM / 5
    assert shapely.Point(found.centre).within(shape)
    for away in (-0.05, 0.05):  # whether one of a given size fits is answered the same way
        decided = search(loop, least=radius + away, enough=radius + away)
        assert (decided.most == math.inf) == (away < 0)


def test_a_finding_in_a_passage_of_one_width_is_told_in_its_middle():
    part = parts.draw("silhouette-sunburst", thickness=10, slot_width=10)
    told = [finding for finding in part.findings if finding.rule == "pierce-room"]
    assert len(told) == 6
    for finding, opening in zip(told, part.profile.inside, strict=False):
        longest = max(opening.loop.segments, key=lambda segment: segment.length)
        assert math.dist(longest.at(0.5), finding.at) == pytest.approx(finding.measured / 2, abs=1e-9)
