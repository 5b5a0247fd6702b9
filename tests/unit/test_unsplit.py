"""Segments made one that a drawing holds as two."""

import math
import random

import numpy as np
import pytest

from parts.geometry.corner import turn_between
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line
from parts.geometry.segments import Segments


def test_lines_and_arcs_in_pieces_are_whole_again():
    whole = slot((10, 5), 60, 20, 0.4)
    pieces = []
    for segment in whole.segments:
        at = segment.at(0.3)
        if isinstance(segment, Line):
            pieces += [Line(segment.start, at), Line(at, segment.end)]
        else:
            pieces += [Arc(segment.start, at, math.tan(0.3 * segment.sweep / 4)),
                       Arc(at, segment.end, math.tan(0.7 * segment.sweep / 4))]  # fmt: skip
    for begin in range(len(pieces)):
        found = Loop((*pieces[begin:], *pieces[:begin])).unsplit
        assert sorted(s.length for s in found) == pytest.approx(sorted(s.length for s in whole.segments))


def test_what_turns_however_little_stays_apart():
    assert len(polygon([(0, 0), (50, 1e-6), (100, 0), (100, 50)]).unsplit) == 4
    assert len(polygon([(0, 0), (50, 1e-10), (100, 0), (100, 50)]).unsplit) == 3


def test_arcs_of_other_circles_stay_apart():
    assert len(Loop.through([(0, 0, 0.2), (50, 0, 0.2), (25, 60, 0)]).unsplit) == 3
    # both touch the x axis at (0, 0), one of 20 and one of 30
    tangent = Loop.through([(-20, 20, math.tan(math.pi / 8)), (0, 0, math.tan(math.pi / 8)), (30, 30, 0)])
    assert len(tangent.unsplit) == 3


def test_a_circle_and_two_segments_stay_as_they_are():
    for loop in (circle((0, 0), 10), Loop.through([(0, 0, 0.5), (10, 0, 0.0)])):
        assert loop.unsplit == loop.segments
    quarters = Loop.through([(10 * math.cos(k * math.pi / 2), 10 * math.sin(k * math.pi / 2), math.tan(math.pi / 8))
                             for k in range(4)])  # fmt: skip
    assert quarters.unsplit == quarters.segments


def test_turns():
    assert rectangle((0, 0), 10, 10).corners == pytest.approx([math.pi / 2] * 4)
    assert rectangle((0, 0), 10, 10).reversed().corners == pytest.approx([-math.pi / 2] * 4)
    quarter = math.tan(math.pi / 8)
    into, out = Arc((-20, 0), (0, 20), quarter), Arc((0, 20), (20, 0), quarter)
    assert turn_between(into, out) == -math.pi  # the region is between the hollow sides when walked the other way
    assert turn_between(out.reversed(), into.reversed()) == math.pi


def test_turns_of_many_at_once_are_those_of_single_pairs():
    """Random segments, lines and arcs that follow each other, cusps and straight joints among them."""
    rng, quarter = random.Random(5), math.tan(math.pi / 8)
    into, out = Arc((-20, 0), (0, 20), quarter), Arc((0, 20), (20, 0), quarter)
    segments = [into, out, out.reversed(), into.reversed()]
    segments += [Line((0, 0), (9, 0)), Line((9, 0), (20, 0)), Line((20, 0), (9, 0))]
    for _ in range(300):
        start, end, bulge = (rng.uniform(-9, 9), 0.0), (0.0, rng.uniform(-9, 9)), rng.choice([0, rng.uniform(-3, 3)])
        segments.append(Arc(start, end, bulge) if bulge else Line(start, end))
    before, after = np.arange(len(segments) - 1), np.arange(1, len(segments))
    single = [turn_between(segments[i], segments[j]) for i, j in zip(before, after, strict=True)]
    assert Segments.of(segments).turn_between(before, after) == pytest.approx(single, abs=1e-9)
    assert {-math.pi, math.pi, 0.0} <= set(single)
