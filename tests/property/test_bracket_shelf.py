"""Shelf bracket: its region made another way, by shapely from discs and rectangles.

A closed form of it would be the code's own sums again: lines, and arcs about six centres.
"""

import math

import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import given

from parts.templates.bracket.shelf import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)

CHORD_MM = 1e-3
"""Discs here have as many sides as keep them this near; a fraction of it times the edge is what areas may differ by."""


def disc(x, y, radius):
    """A disc as a polygon of many sides."""
    return shapely.Point(x, y).buffer(radius, quad_segs=max(16, math.ceil(math.sqrt(radius / CHORD_MM))))


def smoothed(region, radius):
    """A region with its outside corners rounded: shrunk by the radius, then grown again."""
    sides = max(16, math.ceil(math.sqrt(radius / CHORD_MM))) if radius else 1
    shrunk = region.buffer(-radius, join_style="mitre", mitre_limit=50)
    return shrunk.buffer(radius, quad_segs=sides) if radius else region


def curve(v):
    """Centre and radius of the inner edge: the circle through both ends of the curve and through its middle.

    It solves the three equations x² + y² + a x + b y + c = 0 of those points.
    """
    (ax, ay), (bx, by) = (v["depth"], -v["tip"]), (v["tip"], -v["drop"])
    long = math.hypot(ax - bx, ay - by)
    mx, my = (ax + bx) / 2 + (by - ay) / long * v["hollow"], (ay + by) / 2 + (ax - bx) / long * v["hollow"]
    rows = [(ax, ay), (bx, by), (mx, my)]
    a, b, c = np.linalg.solve([[x, y, 1] for x, y in rows], [-(x * x + y * y) for x, y in rows])
    return -a / 2, -b / 2, math.sqrt((a * a + b * b) / 4 - c)


def remade(v):
    """The bracket's region, without its bolt holes, the root at the origin."""
    x, y, r = curve(v)
    d, e = v["depth"], v["drop"]
    # the hollow is cut within the part of the plate right of the foot's tip and below the shelf's
    cut = disc(x, y, r).intersection(shapely.box(v["tip"], -e, d, -v["tip"]))
    below = shapely.Polygon([(v["tip"], -e), (d, -e), (d, -v["tip"])])
    bracket = shapely.box(0, -e, d, 0).difference(cut.union(below))
    bracket = smoothed(bracket, v["corner_radius"]).union(shapely.box(0, -v["tip"], v["tip"], 0))
    if v["opening"] == "window":
        inner = shapely.box(v["band"], -e, d, -v["band"]).difference(disc(x, y, r + v["band"]))
        near = (
            min(inner.geoms, key=lambda g: g.distance(shapely.Point(0, 0))) if inner.geom_type != "Polygon" else inner
        )
        bracket = bracket.difference(smoothed(near, v["opening_radius"]))
    elif v["opening"] == "circle":
        low, high = 0.0, min(d, e)
        for _ in range(80):  # the distance from the wall at which the curve is as far
            c = (low + high) / 2
            low, high = (c, high) if math.hypot(c - x, -c - y) - r > c else (low, c)
        bracket = bracket.difference(disc(low, -low, low - v["band"]))
    return bracket


@many
@given(parts_of(TEMPLATE))
def test_it_is_the_region_made_another_way(part):
    v = part.record.parameters
    holes = v["holes_wall"] + v["holes_shelf"]
    size = published_hole(v, "bolt", "hole")
    region = remade(v)
    area = region.area - holes * math.pi * size**2 / 4
    slack = CHORD_MM * part.measures.cut_length_mm
    assert part.measures.area_mm2 == pytest.approx(area, abs=slack)
    outside = shapely.Polygon(points(part.profile.outside[0]))
    shifted = shapely.affinity.translate(shapely.Polygon(region.exterior), 0, v["drop"])
    assert outside.symmetric_difference(shifted).area <= slack
    assert part.measures.width_mm == pytest.approx(v["depth"], rel=1e-9)
    assert part.measures.height_mm == pytest.approx(v["drop"], rel=1e-9)


@many
@given(parts_of(TEMPLATE, opening="window", corner_radius=2.0, opening_radius=4.0))
def test_the_curve_runs_smoothly_into_the_corners(part):
    (edge,) = part.profile.outside
    assert len([turn for turn in edge.corners if abs(turn) > 1e-6]) == 1  # the root
    (window,) = [o.loop for o in part.profile.inside if o.name == "window"]
    assert max(abs(turn) for turn in window.corners) <= 1e-6


@many
@given(parts_of(TEMPLATE, opening="window"))
def test_the_band_is_one_width_along_wall_shelf_and_curve(part):
    v = part.record.parameters
    x, y, r = curve(v)
    (window,) = [points(o.loop) for o in part.profile.inside if o.name == "window"]
    assert min(px for px, _ in window) == pytest.approx(v["band"], abs=1e-6)
    assert max(py for _, py in window) - v["drop"] == pytest.approx(-v["band"], abs=1e-6)
    assert min(math.hypot(px - x, py - v["drop"] - y) for px, py in window) - r == pytest.approx(
        v["band"], abs=CHORD_MM
    )


test_what_does_not_go_together_is_named = names(
    "bracket-shelf",
    ({"tip": 100}, "tip"),
    ({"hollow": 110}, "hollow"),
    ({"corner_radius": 15.01}, "corner_radius"),
    ({"band": 70}, "band"),
    ({"opening_radius": 60}, "opening_radius"),
    ({"back_mark": 4.5}, "back_mark"),
    ({"back_mark": 24}, "back_mark"),
    ({"opening": "none", "back_mark": 25.5}, "back_mark"),
    ({"first_hole": 20}, "first_hole"),
    ({"last_hole": 4.5}, "last_hole"),
    ({"holes_shelf": 12, "first_hole": 90}, "holes_shelf"),
    ({"bolt": "M36"}, "bolt"),
)
