"""The bent U against sums made by hand, on the flat and folded up."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.bent_u import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import k_of, radius_of
from tests.property.flattened import published_hole
from tests.property.folding import fold
from tests.strategies import parts_of

many = tried(200)


def flat_length(v):
    """Straight pieces and neutral lines end to end."""
    t = v["thickness"]
    r = radius_of(v)
    k = k_of(v)
    straights = v["flange_a"] + v["web"] + v["flange_b"] - 4 * (r + t)
    return straights + 2 * math.pi / 2 * (r + k * t), r, k


def by_hand(part):
    """Area and perimeter: flanges and web less four rounded corners; each shoulder adds its own, less two slots.

    Rounding a square corner takes r² (1 - pi/4) and r (2 - pi/2). A slot of width s and depth d with a round bottom
    takes s d less s² (1 - pi/4) / 2 of the area, and its walls add to the edge.
    """
    v, t = part.record.parameters, part.record.parameters["thickness"]
    length, r, k = flat_length(v)
    corner, w, s = v["corner_radius"], v["width"], v["shoulder"]
    hole = published_hole(v, "bolt", "hole")
    holes = v["holes_a"] + v["holes_b"] + v["holes_web"]
    area = length * w - 4 * corner**2 * (1 - math.pi / 4) - holes * math.pi / 4 * hole**2
    edge = 2 * (length + w) - 4 * corner * (2 - math.pi / 2) + holes * math.pi * hole
    if s:
        wide = v["relief"] or max(t, part.record.job.cut.narrowest_slot_mm)
        depth = 2 * (r + t) - math.pi / 4 * (r + k * t)  # from the outside of a flange to R + T beyond its line
        area += 2 * s * v["web"] - 4 * corner**2 * (1 - math.pi / 4)
        area -= 4 * (wide * depth - wide**2 / 2 * (1 - math.pi / 4))
        # beside the flanges the slot reaches from its bottom to the end of the shoulder; there the flat has no edge
        bottom = math.pi / 2 * wide
        wall = depth - wide / 2
        edge += 4 * s - 4 * corner * (2 - math.pi / 2) + 4 * (2 * wall + bottom - wide)
    return area, edge


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    area, edge = by_hand(part)
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    v = part.record.parameters
    wide = v["width"] + 2 * v["shoulder"]
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((flat_length(v)[0], wide), rel=1e-9)


def test_holes_face_each_other_when_bent():
    part = parts.draw("bracket-bent-u", web=100, flange_a=70, flange_b=60, mark=45, thickness=4)
    folded = fold(part)
    named = {}
    for opening in part.profile.inside:
        named.setdefault(opening.name, []).append(folded.place(opening.loop.circle.centre))
    assert named["hole in flange A"] == [pytest.approx((25, y, 0), abs=0.01) for y in (20, 60)]
    assert named["hole in flange B"] == [pytest.approx((25, y, 100), abs=0.01) for y in (20, 60)]
    assert named["hole in the web"] == [pytest.approx((70, y, 50), abs=0.01) for y in (20, 60)]


def test_shoulders_lie_in_the_web_and_reliefs_reach_beyond_the_bends():
    """The shoulder is flush with the outside of the flanges: the box grows by it along the bends alone."""
    plain = fold(parts.draw("bracket-bent-u", thickness=3, bend_radius=3, holes_web=0))
    part = parts.draw("bracket-bent-u", thickness=3, bend_radius=3, shoulder=20, relief=5, holes_web=0)
    assert fold(part).size == pytest.approx((60, 120, 90), abs=0.01)
    assert plain.size == pytest.approx((60, 80, 90), abs=0.01)
    lines = [mark.line.start[0] for mark in part.profile.marks]
    for line, inward in zip(lines, (1, -1), strict=True):
        bottom = line + inward * 6  # R + T of 3 mm sheet bent to 3 mm
        for y, inside in ((17.5, False), (102.5, False), (60, True)):
            just_short, just_beyond = (bottom - inward * 0.1, y), (bottom + inward * 0.1, y)
            (edge,) = part.profile.outside
            assert edge.contains(just_short) is inside
            assert edge.contains(just_beyond)
    found = {finding.rule for finding in part.findings}
    assert not found & {"bend-clearance", "short-flange", "loops-met"}
