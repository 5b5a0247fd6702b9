"""The rules of the void on random parts: the same however a part lies and is drawn, and as shapely sees it.

shapely (GEOS) is the outside reference: what a jet of radius r reaches is the void opened by a disc, buffer(-r)
then buffer(r), on arcs flattened to CHORD.
"""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from parts.cutting.process import cut_for
from parts.geometry.disk import pocket as pocket_module
from parts.geometry.disk.pocket import Pocket, pockets
from parts.geometry.loop import Loop
from parts.geometry.motion import Motion, mirror, rotation
from parts.geometry.narrow.gaps import gaps
from parts.geometry.narrow.width import necks
from parts.geometry.room import room_in
from parts.geometry.segment import Arc, Line, Segment
from parts.geometry.view import ring
from parts.profile import Opening, Profile
from parts.rules import inside_corner, lost_detail, pierce_room, slot_width
from tests.depth import tried
from tests.jobs import job
from tests.property import regions as shapes

CUT = replace(
    cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=1.0, narrowest_slot_mm=3.0, inside_radius_mm=1.5,
    smallest_hole_mm=4.0, pierce_diameter_mm=3.0, lead_in_mm=3.0,
)  # fmt: skip
JOB = job(CUT)
CHORD = 1e-4
FLAT = 5e-3
"""What the chords make of a depth between walls nearly parallel: a disc then rests some 30 chord errors elsewhere."""
RULES = [slot_width, lost_detail, inside_corner, pierce_room]

quick = tried(60)


def profile_of(loops: tuple[Loop, ...]) -> Profile:
    return Profile(loops[:1], tuple(Opening(loop, f"window {i}") for i, loop in enumerate(loops[1:])))


def said(rule, profile):
    """What a rule says of a profile, without the places: they are looked at apart."""
    found = [(f.severity, f.measured, 1 + len(f.also), f.message.split(" ")[0]) for f in rule.check(profile, JOB)]
    return sorted(found, key=lambda each: (each[0], each[2], each[3], round(each[1], 5)))


def assert_same(rule, one, other):
    due, found = said(rule, one), said(rule, other)
    assert [(s, n, w) for s, _, n, w in found] == [(s, n, w) for s, _, n, w in due]
    assert [m for _, m, _, _ in found] == pytest.approx([m for _, m, _, _ in due], abs=1e-6)


def halves(segment: Segment, at: float) -> list[Segment]:
    middle = segment.at(at)
    if isinstance(segment, Line):
        return [Line(segment.start, middle), Line(middle, segment.end)]
    first, second = (math.tan(part * segment.sweep / 4) for part in (at, 1 - at))
    return [Arc(segment.start, middle, first), Arc(middle, segment.end, second)]


MOTIONS = st.builds(rotation, st.floats(-4, 4), st.tuples(st.floats(-50, 50), st.floats(-50, 50))) | st.builds(
    mirror, st.tuples(st.floats(-50, 50), st.floats(-50, 50)), st.floats(-4, 4)
)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.RULE)
@quick
@given(shapes.regions(), MOTIONS)
def test_the_same_however_the_part_lies(rule, loops, motion: Motion):
    profile = profile_of(loops)
    assert_same(rule, profile, profile.moved(motion))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.RULE)
@quick
@given(shapes.regions(), st.floats(0.1, 0.9), st.integers(0, 30))
def test_the_same_with_segments_in_two_and_loops_begun_elsewhere(rule, loops, at, first):
    def drawn(loop: Loop) -> Loop:
        pieces = [piece for segment in loop.segments for piece in halves(segment, at)]
        start = first % len(pieces)
        return Loop((*pieces[start:], *pieces[:start])).reversed()

    assert_same(rule, profile_of(loops), profile_of(tuple(drawn(loop) for loop in loops)))


# ------------------------------------------------------------------------------------- against shapely


def void_of(loops: tuple[Loop, ...]) -> shapely.Geometry:
    """The void as far as 20 mm around the part."""
    outside = shapely.Polygon(ring(loops[0], CHORD))
    holes = [shapely.Polygon(ring(loop, CHORD)) for loop in loops[1:]]
    around = shapely.box(*outside.bounds).buffer(20, join_style="mitre")
    return shapely.union_all([around.difference(outside), *holes])


def reached(loops: tuple[Loop, ...], radius: float) -> shapely.Geometry:
    fine = {"quad_segs": 400}
    return (
        void_of(loops).buffer(-radius * (1 - 1e-4), **fine).buffer(radius, **fine)
    )  # so that a just fitting disc fits


@quick
@given(shapes.regions(), st.sampled_from([0.5, 1.0, 1.5]))
def test_a_pocket_is_as_deep_as_shapely_finds_it(loops, radius):
    """No shallower; nor deeper, but where a disc beyond a wall may be nearer to the tip."""
    found = list(pockets(loops, radius, math.radians(20)))
    opened = reached(loops, radius) if found else None
    for pocket in found:
        away = opened.distance(shapely.Point(pocket.tip))
        assert away <= pocket.depth + FLAT
        gaps_to = (math.dist(s.nearest(pocket.tip), pocket.tip) for loop in loops for s in loop.segments)
        if pocket.depth < min(gap for gap in gaps_to if gap > FLAT):
            assert away == pytest.approx(pocket.depth, abs=FLAT)


@quick
@given(shapes.regions(), st.sampled_from([0.5, 1.5]), st.sampled_from([20, 60, 130]))
def test_sharp_corners_all_at_once_are_those_found_one_by_one(loops, radius, degrees):
    found = []
    for many in (pocket_module.MANY_SEGMENTS, 0):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(pocket_module, "MANY_SEGMENTS", many)
            found.append(list(pockets(loops, radius, math.radians(degrees))))
    for one, other in zip(*found, strict=True):
        assert (one.loop, one.corners, len(one.stretch)) == (other.loop, other.corners, len(other.stretch))
        for p, q in zip(places(one), places(other), strict=True):
            assert p == pytest.approx(q, abs=1e-7)
        assert one.drawn_radius == pytest.approx(other.drawn_radius, abs=1e-7)


def places(of: Pocket) -> list[tuple[float, float]]:
    ends = [end for segment in of.stretch for end in (segment.start, segment.end)]
    return [of.centre, of.tip, (of.depth, of.radius), (of.turn, of.back), *ends]


@quick
@given(shapes.regions(), st.sampled_from([0.5, 1.0, 1.5]))
def test_no_corner_that_the_disc_does_not_reach_is_left_out(loops, radius):
    """A corner that stays clear of shapely's opened void is in a pocket, or no disc rests near: the void is narrow."""
    found = list(pockets(loops, radius, math.radians(20)))
    opened, narrow = reached(loops, radius), gaps(loops, 2 * radius)
    for index, loop in enumerate(loops):
        within = [pocket for pocket in found if pocket.loop == index]
        for corner in (segment.start for segment in loop.segments):
            lost = opened.distance(shapely.Point(corner)) > 0.1 * radius
            if lost and not any(touches(pocket.stretch, corner) for pocket in within):
                room = room_in(loop) if index else None
                shut = room is not None and room.radius <= radius + 1e-3  # the flattened void is that much tighter
                assert shut or any(index in (gap.loop_a, gap.loop_b) for gap in narrow), (corner, radius)


def touches(stretch, p):
    return any(math.dist(segment.nearest(p), p) < 1e-5 for segment in stretch)


@quick
@given(shapes.regions(), st.sampled_from([1.0, 2.0, 4.0]))
def test_gaps_are_the_necks_of_the_void_but_for_mouths_of_ears(loops, limit):
    every = necks([loop.reversed() for loop in loops], limit)
    found = gaps(loops, limit)
    missing = [neck for neck in every if not any(math.dist(neck.middle, gap.middle) < 1e-6 for gap in found)]
    assert len(found) + len(missing) == len(every)
    assert sorted(gap.width for gap in found) == [gap.width for gap in found]
    for neck in missing:  # both its ends are those of arcs that turn right, as at an ear
        for end in (neck.start, neck.end):
            at = [s for loop in loops for s in loop.segments if end in (s.start, s.end)]
            assert any(isinstance(s, Arc) and s.bulge < 0 for s in at), neck


@quick
@given(shapes.regions().flatmap(st.sampled_from))
def test_the_largest_circle_is_as_large_as_shapely_finds_it(loop):
    room = room_in(loop)
    line = shapely.maximum_inscribed_circle(shapely.Polygon(ring(loop, CHORD)), tolerance=1e-4)
    assert room.radius == pytest.approx(line.length, abs=0.02)
    assert room.radius >= line.length - 0.02
    assert loop.contains(room.centre)
    assert min(math.dist(s.nearest(room.centre), room.centre) for s in loop.segments) == pytest.approx(room.radius)
