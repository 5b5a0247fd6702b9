"""The conifer against sums along its pins: their polygon, a strip along each flank, a sector at each.

The edges of its boughs are pins too, large ones that touch those of tip and notch, found by the law of cosines.
"""

import cmath
import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.templates.silhouette.conifer import TEMPLATE
from tests.depth import tried
from tests.strategies import parts_of

some = tried(60)
few = tried(15)


def sharp(v):
    """Corners of the right side as (pin's x, y, signed radius), by the parameters' meaning."""
    n, t, r = v["tiers"], v["tip_radius"], v["notch_radius"]
    pitch = (v["height"] - v["trunk_height"]) / n
    pins = [(v["trunk_width"] / 2, 0.0, 0.0), (0.62 * v["trunk_width"] / 2 + r, v["trunk_height"] + v["droop"], -r)]
    for i in range(n):
        out, up = v["width"] / 2 * (1 - 0.8 * i / n), v["trunk_height"] + i * pitch
        pins += [(out - v["undercut"] + r, up + v["droop"], -r)] if i else []
        pins.append((out - t, up, t))
    return [*pins, (0.0, v["height"] - t, t)]


def inclined(first, last):
    """Sine of the angle by which the flank between two pins leaves the way between them: what the radii differ."""
    (ax, ay, ra), (bx, by, rb) = first, last
    sine = (ra - rb) / math.hypot(bx - ax, by - ay)
    return round(sine) if abs(abs(sine) - 1) < 1e-12 else sine  # at 1 they touch


def lean(first, last):
    """Heading of the flank between two pins."""
    return math.atan2(last[1] - first[1], last[0] - first[0]) + math.asin(inclined(first, last))


def bow(first, last, half):
    """The pin on which the edge goes from one to another, to the right where `half` of its turn is negative."""
    (ax, ay, ra), (bx, by, rb) = first, last
    a, way = complex(ax, ay), complex(bx - ax, by - ay)
    d = abs(way)
    r = d / 2 / math.sin(half)
    p, q = abs(r - ra), abs(r - rb)
    at = a + p * way / d * cmath.rect(1, math.copysign(math.acos((p * p + d * d - q * q) / (2 * p * d)), half))
    return at.real, at.imag, r


def bowed(v):
    """The pins of the right side with those of its boughs: by eye half a turn of at most 0.36 over, 0.28 under them."""
    pins = sharp(v)
    (foot, *rest), below, made = pins, -0.12, []
    ways = [lean(a, b) for a, b in itertools.pairwise(rest)]
    for i, (first, last) in enumerate(itertools.pairwise(rest)):
        over = min(0.7 * (ways[i] - math.pi / 2), math.radians(172) - ways[i] + ways[i - 1] + below)
        half = -min(0.36, max(over, 0)) if i % 2 else below
        below = 0.28 if i % 2 else below
        made += [first] + ([bow(first, last, half)] if abs(half) > 0.01 else [])
    return [foot, bow(foot, rest[0], -0.2), *made, rest[-1]]


def half(v):
    """Area and edge of the right half: the polygon of the pins, a strip along each flank, a sector at each pin."""
    pins = bowed(v)
    headings = [lean(a, b) for a, b in itertools.pairwise(pins)]
    area, edge = 0.0, pins[0][0]
    for (ax, ay, ra), (bx, by, rb) in itertools.pairwise(pins):
        flank = math.hypot(bx - ax, by - ay) * math.sqrt(1 - inclined((ax, ay, ra), (bx, by, rb)) ** 2)
        area += (ax * by - ay * bx) / 2 + flank * (ra + rb) / 2
        edge += flank
    for i, (_, _, r) in enumerate(pins):
        before = 0.0 if i == 0 else headings[i - 1]
        after = math.pi if i == len(pins) - 1 else headings[i]
        turn = (after - before + math.pi) % (2 * math.pi) - math.pi
        area, edge = area + r**2 * turn / 2, edge + r * turn
    return area, edge


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, hang="none", seed=0, foot="none"))
def test_area_and_edge_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = half(v)
    count = max(v["tiers"] - 1, 1) if v["bauble"] else 0
    assert part.measures.area_mm2 == pytest.approx(2 * area - count * math.pi / 4 * v["bauble"] ** 2, rel=1e-7)
    assert part.measures.cut_length_mm == pytest.approx(2 * edge + count * math.pi * v["bauble"], rel=1e-6)
    assert part.measures.height_mm == pytest.approx(v["height"])
    assert part.measures.width_mm == pytest.approx(v["width"])


@some
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, hang="none", foot="none"))
def test_what_is_dimensioned_can_be_measured_and_no_edge_has_a_corner(part):
    """Tips, notches and the hem are where the dimensions say; a bough goes over into the next without a corner."""
    v, (edge,) = part.record.parameters, part.profile.outside
    for dimension in part.profile.dimensions:
        if dimension.parameter in ("width", "undercut", "trunk_height") and v["notch_radius"]:
            assert all(touches(edge, end) for end in (dimension.start, dimension.end)), dimension
    sharp_ones = sum(abs(turn) > 1e-6 for turn in edge.corners)
    assert sharp_ones == (2 if v["notch_radius"] else 2 + 2 * v["tiers"])


def touches(edge, p):
    return min(math.dist(segment.nearest(p), p) for segment in edge.segments) < 1e-6


@few
@given(st.integers(1, 9999))
def test_a_variant_is_always_the_same_within_the_regular_ones_box(seed):
    one, again = (parts.draw("silhouette-conifer", seed=seed, bauble=0) for _ in range(2))
    assert one.profile == again.profile
    assert (one.measures.width_mm, one.measures.height_mm) == pytest.approx((200, 320))
    assert one.profile != parts.draw("silhouette-conifer", bauble=0).profile


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"undercut": 100}, "undercut"),
        ({"undercut": 7}, "undercut"),
        ({"trunk_width": 200}, "trunk_width"),
        ({"droop": 80}, "droop"),
        ({"bauble": 80}, "bauble"),
        ({"trunk_height": 300}, "trunk_height"),
    ],
)
def test_what_has_no_room_is_refused_by_name(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-conifer", **values)
    assert named in {p.parameter for p in refused.value.problems}
