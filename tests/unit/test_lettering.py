"""Lettering: every letter within its cell, strokes as told, texts as wide as said."""

import itertools
import math

import pytest

from parts.artwork.lettering import alphabet, characters, scribed, text_width
from parts.geometry.segment import Arc, Line

CAPITALS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .-/+\"':"
FINEST_ANGLE = math.radians(0.01)  # turns are written to 0.0001 degrees


def box_of(marks):
    boxes = [segment.box for mark in marks for segment in mark.path]
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def test_the_characters_are_those_of_the_alphabet_and_the_small_letters():
    assert sorted(characters()) == sorted(CAPITALS + "abcdefghijklmnopqrstuvwxyz")


@pytest.mark.parametrize("character", CAPITALS.replace(" ", ""))
def test_a_letter_fills_no_more_than_its_cell(character):
    x0, y0, x1, y1 = box_of(scribed(character, (0, 0), 6))
    assert x0 >= -1e-4
    assert y0 >= -1e-4
    assert x1 <= text_width(character, 6) + 1e-4
    assert y1 <= 6 + 1e-4


@pytest.mark.parametrize("character", [c for c in CAPITALS if c.isalnum()])
def test_letters_and_digits_stand_on_the_line_and_reach_the_top_from_side_to_side(character):
    assert box_of(scribed(character, (0, 0), 6)) == pytest.approx((0, 0, text_width(character, 6), 6), abs=1e-4)


@pytest.mark.parametrize("character", CAPITALS)
def test_few_strokes_and_each_a_chain(character):
    marks = scribed(character, (0, 0), 6)
    assert len(marks) <= 3
    for mark in marks:
        assert all(a.end == b.start for a, b in itertools.pairwise(mark.path))


@pytest.mark.parametrize("character", CAPITALS)
def test_arcs_run_on_smoothly_save_where_a_letter_has_a_corner(character):
    for mark in scribed(character, (0, 0), 6):
        for a, b in itertools.pairwise(mark.path):
            if isinstance(a, Arc) or isinstance(b, Arc):
                (ax, ay), (bx, by) = a.heading_at_end, b.heading_at_start
                turn = abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by))
                assert turn < FINEST_ANGLE or character in "23", character


def test_no_two_letters_are_alike():
    drawn = {c: frozenset(frozenset([s.start, s.end]) for m in scribed(c, (0, 0), 6) for s in m.path) for c in CAPITALS}
    assert len(set(drawn.values())) == len(CAPITALS)


def test_an_l_is_two_strokes_of_the_grid():
    (mark,) = scribed("L", (10, 20), 12)
    assert mark.path == (Line((10, 32), (10, 20)), Line((10, 20), (17, 20)))


def test_a_zero_is_a_stadium_with_a_bar():
    ring, bar = scribed("0", (0, 0), 6)
    # Two half turns of radius 1.5 and two straight sides of 3.
    assert sum(segment.length for segment in ring.path) == pytest.approx(3 * math.pi + 6, rel=1e-12)
    assert bar.path[0].length == pytest.approx(math.hypot(1, 2.4), rel=1e-12)


def test_small_letters_are_scribed_as_capitals():
    assert scribed("Table 1", (3, 4), 8) == scribed("TABLE 1", (3, 4), 8)
    assert text_width("Table 1", 8) == text_width("TABLE 1", 8)


def test_a_text_is_as_wide_as_its_letters_and_gaps():
    # L 3.5, gap 1.5, space 2, gap 1.5, H 4: 12.5 units of a grid 6 high.
    assert text_width("L H", 6) == pytest.approx(12.5, rel=1e-12)
    assert text_width("L H", 9) == pytest.approx(18.75, rel=1e-12)
    assert text_width("", 9) == 0
    assert box_of(scribed("L H", (0, 0), 9)) == pytest.approx((0, 0, 18.75, 9), rel=1e-12)
    assert scribed("", (0, 0), 9) == ()


def test_a_turned_text_runs_along_its_angle():
    turned = scribed("AB 8", (5, 7), 10, math.pi / 2)
    flat = scribed("AB 8", (0, 0), 10)
    for mark, level in zip(turned, flat, strict=True):
        for a, b in zip(mark.path, level.path, strict=True):
            assert a.start == pytest.approx((5 - b.start[1], 7 + b.start[0]), abs=1e-12)
            assert a.length == pytest.approx(b.length, rel=1e-12)


def test_the_grid_is_as_documented():
    assert (alphabet().top, alphabet().gap) == (6, 1.5)
