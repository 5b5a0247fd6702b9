"""The arm bracket: area and edge as the sum of pieces worked out by hand."""

import math

from hypothesis import given

from parts.templates.bracket.arm import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import assert_measures
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def turned(turn, radius):
    """What rounding a turn to a radius takes of a convex corner's area, and of the edge."""
    return radius**2 * (math.tan(turn / 2) - turn / 2), radius * (2 * math.tan(turn / 2) - turn)


def by_hand(v):
    """Two bars less the square they share, the triangle under them less the one above the brace, rounds, holes."""
    b, k, r, q = v["bar"], v["brace"], v["corner_radius"], v["inside_radius"]
    leg, root = k - v["brace_width"] * math.sqrt(2), math.sqrt(2)
    area = b * (v["arm"] + v["height"] - b) + (k**2 - leg**2) / 2
    edge = 2 * (v["arm"] + v["height"]) - 2 * k + k * root + (2 + root) * leg
    square, knee, sharp = turned(math.pi / 2, r), turned(math.pi / 4, q), turned(3 * math.pi / 4, q)
    inner = turned(math.pi / 2, q)
    area += -5 * square[0] + 2 * knee[0] + inner[0] + 2 * sharp[0]
    edge -= 5 * square[1] + 2 * knee[1] + inner[1] + 2 * sharp[1]
    for n, d in ((v["holes"], published_hole(v, "bolt", "hole")), (v["eyes"], v["eye"])):
        area, edge = area - n * math.pi * d**2 / 4, edge + n * math.pi * d
    return area, edge


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    assert_measures(part, *by_hand(v), v["arm"], v["height"])


test_what_does_not_go_together_is_named = names(
    "bracket-arm",
    ({"brace": 260}, "brace"),
    ({"brace_width": 128}, "brace_width"),
    ({"inside_radius": 80}, "inside_radius"),
    ({"corner_radius": 21}, "corner_radius"),
    ({"first": 4}, "first"),
    ({"holes": 1, "first": 296}, "first"),
    ({"eye": 40}, "eye"),
    ({"tip": 4}, "tip"),
    ({"eyes_apart": 336}, "eyes_apart"),
    ({"bar": 8, "eye": 3}, "bolt"),
)
