"""Clevis ear: area and edge from sectors and triangles about the pin, worked out by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.clevis_ear import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import assert_measures, sunk, tube_foot
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Area and edge of both halves of the ear, about the pin.

    Half an ear is the foot's rectangle, the triangle from its middle over the shoulder to the pin, the right triangle
    of flank and head radius, and the sector that is left of half a turn. A shoulder radius takes a little
    off, or where the head is the wider adds it: r² (tan t/2 - t/2), and r (2 tan t/2 - t) of the edge.
    """
    r, x, up, s = v["head"] / 2, v["foot"] / 2, v["rise"] - v["straight"], v["straight"]
    away = math.hypot(x, up)
    flank, below = math.sqrt(away**2 - r**2), math.acos(up / away)
    sector = math.pi - below - math.acos(r / away)
    area = s * x + x * up / 2 + r * flank / 2 + r**2 * sector / 2
    edge = x + s + flank + r * sector
    turn = math.pi / 2 - sector if s else 0.0  # the edge turns half around in all: shoulder, then head
    half = math.tan(abs(turn) / 2)
    area -= math.copysign(v["shoulder"] ** 2 * (half - abs(turn) / 2), turn)
    edge -= v["shoulder"] * (2 * half - abs(turn))
    more, longer = tube_foot(v, v["foot"], x)
    return 2 * area + more, 2 * edge + longer


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    d = 0.0 if v["drilled"] else published_hole(v, "bolt", "hole")
    assert_measures(
        part,
        area - math.pi * d**2 / 4,
        edge + math.pi * d,
        max(v["head"], v["foot"]),
        v["rise"] + v["head"] / 2 + sunk(v, v["foot"] / 2),
    )


@many
@given(parts_of(TEMPLATE))
def test_flanks_are_tangents_of_the_head(part):
    (edge,) = part.profile.outside
    sharp = [turn for turn in edge.corners if abs(turn) > 1e-6]
    v = part.record.parameters
    straight, tube = v["straight"], v["tube"]
    shoulder = straight and not v["shoulder"]
    assert len(sharp) <= (4 if shoulder or (tube and not straight) else 2)
    head = max((s for s in edge.segments if hasattr(s, "bulge")), key=lambda arc: arc.box[3])
    assert head.radius == pytest.approx(v["head"] / 2, rel=1e-9)


def test_the_hole_is_in_the_middle_of_the_head():
    part = parts.draw("bracket-clevis-ear", bolt="M20")
    (hole,) = part.profile.inside
    assert hole.loop.circle.centre == pytest.approx((40, 70))
    assert hole.loop.circle.diameter == 22  # ISO 273, medium


test_what_does_not_go_together_is_named = names(
    "bracket-clevis-ear",
    ({"rise": 25}, "rise"),
    ({"tube": 78.9}, "foot"),
    ({"straight": 45}, "straight"),
    ({"bolt": "by-diameter", "hole": 50}, "hole"),
    ({"bolt": "M36", "head": 39}, "bolt"),
    ({"shoulder": 200}, "shoulder"),
)
