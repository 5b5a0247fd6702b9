"""The pipe saddle against sums made by hand, on the flat and folded up."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.pipe_saddle import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import SOFT_STEEL, k_of, radius_of
from tests.property.flattened import published_hole
from tests.property.folding import fold
from tests.strategies import parts_of

many = tried(200)


def flat_length(v):
    """Neutral line from end to end: foot, quarter turn, leg, half turn over the pipe, and back."""
    t = v["thickness"]
    r, arch = radius_of(v), v["pipe_od"] / 2 + v["pipe_gap"]
    quarter = math.pi / 2 * (r + k_of(v) * t)
    half = math.pi * (arch + k_of(v) * t)
    return 2 * (v["foot"] - r - t) + 2 * quarter + 2 * (v["rise"] - r - t) + half


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    v = part.record.parameters
    length, width, r = flat_length(v), v["width"], v["corner_radius"]
    holes, hole = 2 * v["holes_foot"], published_hole(v, "bolt", "hole")
    area = length * width - (4 - math.pi) * r**2 - holes * math.pi / 4 * hole**2
    edge = 2 * (length + width) - (8 - 2 * math.pi) * r + holes * math.pi * hole
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((length, width), rel=1e-9)


def test_the_pipe_goes_in_with_the_gap_all_round():
    """The pipe lying on the base, cut from the saddle with its gap, takes nothing; a hair more and it does."""
    import cadquery as cq

    part = parts.draw("bracket-pipe-saddle", pipe_od=60.3, rise=30.15, pipe_gap=1, thickness=4)
    folded = fold(part)
    middle = folded.size[0] / 2
    assert folded.size == pytest.approx((2 * (60 + 31.15), 50, 30.15 + 31.15 + 4), abs=0.01)

    def touched(radius):
        pipe = cq.Solid.makeCylinder(radius, 70, cq.Vector(middle, -10, 30.15), cq.Vector(0, 1, 0))
        return sum(solid.intersect(pipe).Volume() for solid in folded.solids)

    assert touched(31.15 - 0.01) == pytest.approx(0, abs=1e-6)
    assert touched(31.15 + 0.01) > 1


def test_feet_are_level_and_their_holes_from_the_legs():
    part = parts.draw("bracket-pipe-saddle", holes_foot=2, first=12, mark=40)
    folded = fold(part)
    placed = [folded.place(opening.loop.circle.centre) for opening in part.profile.inside]
    arch = 88.9 / 2 + 0.5
    assert placed[0] == pytest.approx((20, 12, 0), abs=0.01)
    assert placed[-1] == pytest.approx((60 + 2 * arch + 40, 38, 0), abs=0.01)


def test_scribed_lines_mark_where_the_arch_begins_and_ends():
    part = parts.draw("bracket-pipe-saddle", thickness=3)
    scribed = sorted(mark.path[0].start[0] for mark in part.profile.marks if mark.kind == "scribe")
    (arch,) = [mark for mark in part.profile.marks if mark.kind == "bend" and mark.angle > 2]
    half = math.pi / 2 * (88.9 / 2 + 0.5 + SOFT_STEEL * 3)
    assert scribed == pytest.approx([arch.line.start[0] - half, arch.line.start[0] + half], abs=1e-9)
