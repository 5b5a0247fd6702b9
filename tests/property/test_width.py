"""Necks against brute force on random regions, and against places worked out by hand."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.geometry.draft import circle, fillet, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import Motion, mirror, rotation, translation
from parts.geometry.narrow import boundary
from parts.geometry.narrow.width import Neck, necks
from parts.geometry.segment import Arc, Line, distance
from tests.depth import tried
from tests.property import regions as shapes
from tests.property.width_reference import STEP, Place, Region

WIDTH_MM = 1e-6
"""The brute force settles a minimum to 1e-8 mm along the boundary; its width is surer than that."""
LIMIT = 6.0
KINDS = [shapes.plate, shapes.bent_strip, shapes.comb, shapes.ring, shapes.wild]


def holes(outside: Loop, *inside: Loop) -> list[Loop]:
    return [outside.running(counter_clockwise=True), *(loop.running(counter_clockwise=False) for loop in inside)]


def widths(loops: list[Loop], limit: float) -> list[float]:
    return [neck.width for neck in necks(loops, limit)]


# ------------------------------------------------------------------------------------- random regions


def place_of(neck: Neck, places: list[Place]) -> int | None:
    """The index of the place that a neck is, among those found by brute force."""
    for index, place in enumerate(places):
        apart = place.middles - np.array(neck.middle)
        if abs(place.width - neck.width) <= WIDTH_MM and np.hypot(*apart.T).min() <= 2 * STEP:
            return index
    return None


def has_fan(loops: tuple[Loop, ...]) -> bool:
    """Whether a corner is the centre of an arc: the chords between them join two runs of that width."""
    arcs = [s for loop in loops for s in loop.segments if isinstance(s, Arc)]
    corners = [s.start for loop in loops for s in loop.segments]
    return any(distance(arc.centre, corner) <= 1e-6 for arc in arcs for corner in corners)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_no_place_missed_none_invented_each_once(kind):
    @tried(40, everyday=2)
    @given(shapes.regions(kind))
    def compare(loops):
        found = necks(loops, LIMIT)
        region = Region(loops)
        places = region.places(LIMIT)
        matched = [place_of(neck, places) for neck in found]
        for neck, index in zip(found, matched, strict=True):
            if index is None:  # not come upon from the grid: looked for from the neck itself
                place = region.confirms(neck.start, neck.end, LIMIT)
                assert place is not None, f"invented: {neck}"
                assert place.width == pytest.approx(neck.width, abs=WIDTH_MM)
        known = [index for index in matched if index is not None]
        assert has_fan(loops) or len(known) == len(set(known)), f"found twice: {found}"
        missed = [place for i, place in enumerate(places) if place.sure and i not in known]
        assert not missed, f"missed: {missed[0].width} mm at {missed[0].middles[0]}, found {found}"

    compare()


@tried(60)
@given(shapes.regions())
def test_the_search_over_many_segments_finds_the_same(loops):
    few = necks(loops, LIMIT)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(boundary, "MANY_SEGMENTS", 0)
        many = necks(loops, LIMIT)
    assert [neck.width for neck in many] == pytest.approx([neck.width for neck in few], abs=1e-9)
    assert {(n.loop_a, n.loop_b) for n in many} == {(n.loop_a, n.loop_b) for n in few}


MOTIONS = st.builds(rotation, st.floats(-4, 4), st.tuples(st.floats(-50, 50), st.floats(-50, 50))) | st.builds(
    mirror, st.tuples(st.floats(-50, 50), st.floats(-50, 50)), st.floats(-4, 4)
)


@tried(60)
@given(shapes.regions(), MOTIONS)
def test_a_moved_region_has_the_same_widths(loops, motion: Motion):
    moved = [motion.loop(loop) for loop in loops]
    assert widths(moved, LIMIT) == pytest.approx(widths(list(loops), LIMIT), abs=1e-7)


@tried(60)
@given(shapes.regions(), st.floats(1, 6))
def test_a_lower_limit_leaves_the_narrower_ones(loops, limit):
    narrower = [neck for neck in necks(loops, LIMIT) if neck.width < limit - 1e-9]
    found = necks(loops, limit)
    assert [neck.width for neck in found] == pytest.approx([neck.width for neck in narrower], abs=1e-9)
    for neck, due in zip(found, narrower, strict=True):
        assert neck.middle == pytest.approx(due.middle, abs=1e-7)


# ------------------------------------------------------------------------------------- worked out by hand

PLATE = rectangle((0, 0), 100, 60)


def wedge(angle: float) -> Loop:
    return polygon([(0, 0), (50, 0), (50 * math.cos(angle), 50 * math.sin(angle))])


def washer(turn_hole: float) -> list[Loop]:
    hole = rotation(turn_hole).loop(circle((0, 0), 30))
    return holes(circle((0, 0), 38), hole)


BY_HAND = {
    # two holes of 20: centres 24 apart along (3, 4) / 5, so 24 - 20
    "two holes": (holes(PLATE, circle((40, 20), 20), circle((54.4, 39.2), 20)), 5, [4.0]),
    "hole and straight edge": (holes(PLATE, circle((30, 14), 20)), 5, [4.0]),
    # hole of 10 inside an outside arc of radius 50, 42 from its centre: 50 - 42 - 5
    "hole and round edge": (holes(circle((0, 0), 100), circle((0, 42), 10)), 5, [3.0]),
    # a bite of radius 20 around (50, 60) out of the upper edge; the hole of 10 is 28 below: 28 - 20 - 5
    "hole and hollow edge": (
        holes(Loop.through([(0, 0, 0), (100, 0, 0), (100, 60, 0), (70, 60, -1), (30, 60, 0), (0, 60, 0)]),
              circle((50, 32), 10)),
        5, [3.0],
    ),
    # the edge runs through (0, 0) along (3, 4) / 5; the slot's near end is a half circle of radius 3 about
    # (24, 22), which is |24 * 4 - 22 * 3| / 5 = 6 off the edge
    "slot and slanted edge": (
        holes(polygon([(0, 0), (90, 0), (90, 80), (60, 80)]), slot((29, 22), 16, 6)), 5, [3.0]),
    "uniform washer": (washer(0.0), 5, [4.0]),
    "uniform washer, the hole begun elsewhere": (washer(1.0), 5, [4.0]),
    # a washer whose hole is 1 off the centre: narrowest on that side alone, 19 - 15 - 1
    "washer off centre": (holes(circle((0, 0), 38), circle((1, 0), 30)), 8, [3.0]),
    # strip of 20 with a hole of 14 in its middle: 3 on either side, and the strip's own run either side
    # of the hole, 20 wide, which is two places as the hole parts them
    "strip with a hole": (holes(rectangle((0, 0), 100, 20), circle((50, 10), 14)), 25, [3.0, 3.0, 20.0, 20.0]),
    "strip with a hole, at a limit below the strip": (
        holes(rectangle((0, 0), 100, 20), circle((50, 10), 14)), 5, [3.0, 3.0]),
    "strip alone": ([rectangle((0, 0), 100, 4)], 5, [4.0]),
    "strip, an edge in two pieces": ([polygon([(0, 0), (37, 0), (100, 0), (100, 4), (0, 4)])], 5, [4.0]),
    # notches 40 deep from both sides, their corners 3 along and 4 up from each other: 5
    "notches with corners opposite": (
        [polygon([(0, 0), (50, 0), (50, 28), (60, 28), (60, 0), (100, 0), (100, 60), (47, 60), (47, 32),
                  (37, 32), (37, 60), (0, 60)])],
        6, [5.0],
    ),
    # two windows that overlap by nothing: their corners stand exactly over each other
    "windows corner over corner": (
        holes(PLATE, rectangle((20, 20), 10, 10), rectangle((30, 34), 10, 10)), 5, [4.0]),
    "windows side by side": (holes(PLATE, rectangle((20, 20), 10, 10), rectangle((34, 25), 10, 10)), 5, [4.0]),
    # two fingers 3 wide, 2 apart, 20 long, on a plate: the material's width is that of the fingers
    "fingers": (
        [polygon([(0, 0), (40, 0), (40, 20), (23, 20), (23, 40), (20, 40), (20, 20), (18, 20), (18, 40),
                  (15, 40), (15, 20), (0, 20)])],
        5, [3.0, 3.0],
    ),
    "hook": (
        [polygon([(0, 0), (30, 0), (30, 30), (20, 30), (20, 26), (26, 26), (26, 4), (0, 4)])],
        5, [4.0, 4.0, 4.0],
    ),
    # three quarters of a ring: a run bent round, its ends square
    "open ring": (
        [Loop.through([(20, 0, math.tan(3 * math.pi / 8)), (0, -20, 0), (0, -16, -math.tan(3 * math.pi / 8)),
                       (16, 0, 0)])],
        5, [4.0],
    ),
    # a rounded L of one width all round: legs and bend are one run
    "rounded L": (
        [polygon([fillet(0, 0, 10), (40, 0), (40, 4), fillet(4, 4, 6), (4, 40), (0, 40)])], 5, [4.0]),
    # the fillet goes round the inner corner at one distance, but the legs are told of one by one
    "L, sharp inside": (
        [polygon([fillet(0, 0, 4), (40, 0), (40, 4), (4, 4), (4, 30), (0, 30)])], 5, [4.0, 4.0]),
    # a disc on a stem: the stem's sides end on the disc, whose own width is no narrow place
    "stem and disc": (
        [Loop.through([(-2, -30, 0), (2, -30, 0), (2, -math.sqrt(96), math.tan((math.pi - math.asin(0.2)) / 2)),
                       (-2, -math.sqrt(96), 0)])],
        30, [4.0],
    ),
    # two discs of radius 10 that overlap in a chord of 4
    "round neck between two discs": (
        [Loop.through([(2, 0, math.tan((math.pi - math.asin(0.2)) / 2)), (-2, 0, math.tan(
            (math.pi - math.asin(0.2)) / 2))])],
        30, [4.0],
    ),
    "pointed wedge": ([wedge(0.05)], 60, []),
    "disc": ([circle((0, 0), 3)], 10, []),
    "blunt triangle": ([polygon([(0, 0), (5, 0), (2, 4)])], 50, []),
    # convex outlines with no two sides parallel have no narrow place, however small
    "rounded wedge": ([polygon([fillet(0, 0, 0.5), (50, 0), (48, 10)])], 60, []),
}  # fmt: skip


@pytest.mark.parametrize(("loops", "limit", "expected"), BY_HAND.values(), ids=BY_HAND.keys())
def test_by_hand(loops, limit, expected):
    assert widths(list(loops), limit) == pytest.approx(expected, abs=WIDTH_MM)


@pytest.mark.parametrize(
    ("width", "limit", "found"),
    [(4.99, 5.0, [4.99]), (5.0, 5.0, []), (5.0 - 1e-7, 5.0, [5.0]), (5.01, 5.0, [])],
    ids=["under", "at", "a hair under", "over"],
)
def test_a_neck_at_the_limit_passes(width, limit, found):
    notched = polygon(
        [(0, 0), (40, 0), (45, 30 - width), (50, 0), (100, 0), (100, 60), (50, 60), (45, 30), (40, 60), (0, 60)]
    )
    assert widths([notched], limit) == pytest.approx(found, abs=WIDTH_MM)
    assert [n.middle for n in necks([notched], limit)] == [
        pytest.approx((45, 30 - width / 2), abs=WIDTH_MM) for _ in found
    ]


def test_a_neck_is_told_where_it_is_and_between_which_loops():
    (neck,) = necks(holes(PLATE, circle((30, 14), 20), circle((80, 40), 10)), 5)
    ends = sorted([neck.start, neck.end])
    assert ends[0] == pytest.approx((30, 0), abs=1e-9)
    assert ends[1] == pytest.approx((30, 4), abs=1e-9)
    assert (neck.loop_a, neck.loop_b, neck.width) == (0, 1, pytest.approx(4.0, abs=1e-12))
    assert neck.middle == pytest.approx((30, 2), abs=1e-9)


def test_a_run_is_told_by_the_chord_in_its_middle():
    (neck,) = necks([rectangle((0, 0), 100, 4)], 5)
    assert neck.middle == pytest.approx((50, 2), abs=1e-9)


def test_what_lies_between_parts_a_run():
    """A window 3 mm deep between the strip's edges: 3.5 mm over and under it, and the strip on either side."""
    strip = holes(rectangle((0, 0), 100, 10), rectangle((40, 3.5), 20, 3))
    assert widths(strip, 11) == pytest.approx([3.5, 3.5, 10, 10], abs=WIDTH_MM)


def test_narrowest_first_and_each_of_a_row_of_holes_once():
    row = [circle((12 + i * (10 + i / 4), 30), 8) for i in range(7)]
    gaps = [(12 + (i + 1) * (10 + (i + 1) / 4)) - (12 + i * (10 + i / 4)) - 8 for i in range(6)]
    assert widths(holes(PLATE, *row), 6) == pytest.approx(sorted(gap for gap in gaps if gap < 6), abs=WIDTH_MM)


@pytest.mark.parametrize("sixty_fourths", [1, 3, 5, 7])
def test_a_place_on_the_edge_of_rounding_is_found_once(sixty_fourths):
    """1/64 in is 0.396875 mm: odd 64ths lie halfway between hundred-thousandths of a mm."""
    at = sixty_fourths * 25.4 / 64
    strip = polygon([(0, 0), (at, 0), (20 + at, 0), (40, 0), (40, 10 * at), (30, 10 * at), (0, 10 * at)])
    for turn in (0.0, math.pi / 2, 0.1):
        assert len(necks([rotation(turn, (at, at)).loop(strip)], 10 * at + 1)) == 1


def test_far_from_the_origin_nothing_changes():
    loops = holes(PLATE, circle((40, 20), 20), circle((54.4, 39.2), 20))
    far = [translation(9000, 7000).loop(loop) for loop in loops]
    assert widths(far, 5) == pytest.approx([4.0], abs=1e-8)


def test_a_foot_on_a_joint_beyond_which_the_boundary_comes_nearer_is_no_neck():
    """Over the corner the upper edge goes over from a line into an arc of less than its distance, coming down.

    The circle on the chord from the corner to the joint is empty, but the arc beyond is nearer to the corner.
    """
    d, r = 10.0, 7.0
    top = [Line((40, -20), (40, d)), Line((40, d), (0, d))]
    arc = Arc((0, d), (-r, d - r), math.tan(math.pi / 8))
    rest = [Line((-r, d - r), (-r, -20)), Line((-r, -20), (-2, -20)), Line((-2, -20), (0, 0)),
            Line((0, 0), (2, -20)), Line((2, -20), (40, -20))]  # fmt: skip
    loop = Loop((*top, arc, *rest))
    assert loop.counter_clockwise
    assert not [n for n in necks([loop], 12) if n.width == pytest.approx(d)]


def test_joints_opposite_each_other_are_judged_side_by_side():
    """Left of the chord the lower edge is hollow and the upper round, right of it the other way about.

    With curvatures -1/10 and 1 on each side, -0.1 + 1 - 0.1 * 4 = 0.5 is above zero: a neck of 4.
    """
    hollow, round_, d = math.tan(math.asin(0.6) / 4), -math.tan(math.pi / 8), 4.0
    lower = [(-6, 2, hollow), (0, 0, round_), (1, -1, 0), (1, -30, 0), (20, -30, 0), (20, d - 2, 0)]
    upper = [(6, d - 2, hollow), (0, d, round_), (-1, d + 1, 0), (-1, d + 30, 0), (-20, d + 30, 0), (-20, 2, 0)]
    assert widths([Loop.through([*lower, *upper])], 5) == pytest.approx([d], abs=WIDTH_MM)


def test_a_cusp_that_points_into_the_region_is_a_corner():
    """A hole between four arcs tangent at its points, 3 mm from the edge at one of them."""
    quarter = math.tan(math.pi / 8)
    star = Loop.through([(10, 0, -quarter), (0, 10, -quarter), (-10, 0, -quarter), (0, -10, -quarter)])
    assert widths(holes(rectangle((-30, -20), 43, 40), star), 5) == pytest.approx([3.0], abs=WIDTH_MM)
