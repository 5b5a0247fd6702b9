"""What treated corners take of an area and of an edge, worked out by hand for templates with square corners."""

import math

import pytest


def rounded(count, radius):
    """What `count` square outside corners lose of area and edge to a radius: (1 - pi/4) r² and (2 - pi/2) r each."""
    return count * (1 - math.pi / 4) * radius**2, count * (2 - math.pi / 2) * radius


def inside_corners(count, v):
    """What `count` square inside corners cost: a radius fills them, a relief is half a disc less the triangle r².

    The relief's circle goes through the corner and meets each leg r sqrt 2 from it: its diameter is the chord there.
    """
    r = v["inside_radius"]
    if v["inside"] == "radius":
        return -count * (1 - math.pi / 4) * r**2, count * (2 - math.pi / 2) * r
    return count * (math.pi * r**2 / 2 - r**2), count * (2 * math.sqrt(2) - math.pi) * r


def sunk(v, half):
    """How far the ends of a foot reach down beside its tube, `half` from the middle, by Pythagoras."""
    r = v["tube"] / 2 + v["tube_gap"]
    return r - math.sqrt(r**2 - half**2) if v["tube"] else 0.0


def tube_foot(v, width, half):
    """What standing on a tube gives of area and edge to a part `width` wide whose welded edge is 2 `half` long.

    Its sides go on down beside the tube, and between them the circle's segment over the chord is missing.
    """
    if not v["tube"]:
        return 0.0, 0.0
    r, down = v["tube"] / 2 + v["tube_gap"], sunk(v, half)
    turn = math.asin(half / r)
    segment = r**2 * (turn - math.sin(turn) * math.cos(turn))
    return width * down - segment, 2 * down + 2 * (r * turn - half)


def assert_measures(part, area, edge, width, height):
    """Hold what is counted of a part against the sums made by hand, all in mm."""
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert part.measures.width_mm == pytest.approx(width, rel=1e-9)
    assert part.measures.height_mm == pytest.approx(height, rel=1e-9)
