"""The conifer against sums along its pins: their polygon, a strip along each flank, a sector at each."""

import itertools
import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import parts
from parts.templates.silhouette_conifer import TEMPLATE
from tests.strategies import parts_of

some = settings(deadline=None, max_examples=60, suppress_health_check=list(HealthCheck))
few = settings(some, max_examples=15)


def sharp(v):
    """Corners of the right side as (pin's x, y, signed radius), by the parameters' meaning."""
    n, t, r = v["tiers"], v["tip_radius"], v["notch_radius"]
    pitch = (v["height"] - v["trunk_height"]) / n
    pins = [(v["trunk_width"] / 2, 0.0, 0.0), (v["trunk_width"] / 2 + r, v["trunk_height"] + v["droop"], -r)]
    for i in range(n):
        out, up = v["width"] / 2 * (1 - 0.8 * i / n), v["trunk_height"] + i * pitch
        pins += [(out - v["undercut"] + r, up + v["droop"], -r)] if i else []
        pins.append((out - t, up, t))
    return [*pins, (0.0, v["height"] - t, t)]


def lean(first, last):
    """Heading of the flank between two pins: that of the way between them, turned by what the radii differ."""
    (ax, ay, ra), (bx, by, rb) = first, last
    return math.atan2(by - ay, bx - ax) + math.asin((ra - rb) / math.hypot(bx - ax, by - ay))


def half(v):
    """Area and edge of the right half: the polygon of the pins, a strip along each flank, a sector at each pin."""
    pins = sharp(v)
    headings = [lean(a, b) for a, b in itertools.pairwise(pins)]
    area, edge = 0.0, pins[0][0]
    for (ax, ay, ra), (bx, by, rb) in itertools.pairwise(pins):
        flank = math.sqrt((bx - ax) ** 2 + (by - ay) ** 2 - (ra - rb) ** 2)
        area += (ax * by - ay * bx) / 2 + flank * (ra + rb) / 2
        edge += flank
    for i, (_, _, r) in enumerate(pins):
        before = 0.0 if i == 0 else headings[i - 1]
        after = math.pi if i == len(pins) - 1 else headings[i]
        turn = (after - before + math.pi) % (2 * math.pi) - math.pi
        area, edge = area + r**2 * turn / 2, edge + r * turn
    return area, edge


@settings(some, max_examples=200)
@given(parts_of(TEMPLATE, hang="none", seed=0, foot="none"))
def test_area_and_edge_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = half(v)
    count = max(v["tiers"] - 1, 1) if v["bauble"] else 0
    assert part.measures.area_mm2 == pytest.approx(2 * area - count * math.pi / 4 * v["bauble"] ** 2, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(2 * edge + count * math.pi * v["bauble"], rel=1e-9)
    assert part.measures.height_mm == pytest.approx(v["height"])
    assert part.measures.width_mm == pytest.approx(v["width"])


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
