"""Figures: they hang by their weight, scale by their size over all, and are drawn in arcs that touch."""

import cmath
import math

import pytest
import shapely

import parts
from parts.artwork import both_sides, curve, slit
from parts.templates.silhouette.shared.design import frame
from parts.templates.silhouette.shared.drawn import Sketched
from tests import library
from tests.property.biarc_reference import figure
from tests.property.flattened import CHORD_ERROR_MM, points

FIGURES = {slug: each for slug, each in parts.templates().items() if each.family == "silhouette"}
SKETCHED = {slug: each for slug, each in FIGURES.items() if issubclass(each.parameters, Sketched)}


def hung(slug, **values):
    """A part's centre of mass by shapely, before its hanging holes, and their centres."""
    profile = parts.draw(slug, **values).profile
    holes = [opening.loop for opening in profile.inside if opening.name != "hanging hole"]
    flat = shapely.Polygon(points(profile.outside[0]), [points(loop) for loop in holes])
    at = sorted(o.loop.circle.centre for o in profile.inside if o.name == "hanging hole")
    return flat.centroid, at


@pytest.mark.parametrize("slug", ["silhouette-fish", "silhouette-bird", "silhouette-feather", "silhouette-moon-cloud"])
def test_a_plumb_line_from_the_hole_goes_through_the_centre_of_mass(slug):
    """None of these is symmetric. What the hole takes away is on the line; a lug's joint may be heavier on a side."""
    mass, [(x, y)] = hung(slug, hang="one")
    assert x == pytest.approx(mass.x, abs=1e-3)
    assert y > mass.y
    mass, [(x, _)] = hung(slug, hang="lug", hole=5, eye=4)
    assert x == pytest.approx(mass.x, abs=0.02)


def test_two_holes_are_level_with_the_centre_of_mass_midway():
    mass, [(x0, y0), (x1, y1)] = hung("silhouette-fish", hang="two", apart=60)
    assert y0 == pytest.approx(y1, abs=1e-6)
    assert (x0 + x1) / 2 == pytest.approx(mass.x, abs=1e-3)


@pytest.mark.parametrize("slug", FIGURES)
def test_half_one_and_two_times_its_height_are_drawn_without_a_stop(slug):
    """The height is what a tape measures over all there is; the hanging hole stays, since a nail goes through it."""
    own = library.part(slug)
    for times in (0.5, 1, 2):
        height = own.measures.height_mm * times
        part = parts.draw(slug, overall_height=height)
        assert part.measures.height_mm == pytest.approx(height, abs=1e-6)
        assert not part.stopped, (times, part.findings)
        sizes = [
            [o.loop.circle.diameter for o in each.profile.inside if o.name == "hanging hole"] for each in (own, part)
        ]
        assert sizes[0] == pytest.approx(sizes[1], abs=1e-9)


def test_by_width_and_height_it_keeps_its_proportions():
    wide = parts.draw("silhouette-bird", overall_width="24in")
    assert wide.measures.width_mm == pytest.approx(609.6)
    assert wide.measures.height_mm / 609.6 == pytest.approx(181 / 300)
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-horse", overall_width=300, overall_height=300)
    assert [problem.parameter for problem in refused.value.problems] == ["overall_height"]
    standing = parts.draw("silhouette-cat", overall_height=400, foot="stake", foot_length=150)
    assert standing.measures.height_mm == pytest.approx(400)


def test_every_hand_drawn_outline_is_of_arcs_that_touch_through_its_points():
    """No corner is left; where none is rounded, the outline goes through the point of the table."""
    for slug, each in SKETCHED.items():
        made = frame(each.parameters.design)
        assert max(map(abs, made.edge.corners)) < 1e-6, slug
        for name, x, y, *radius in each.parameters.design.edge:
            at = made.at((x, y), 1.0)
            near = min(math.dist(segment.nearest(at), at) for segment in made.edge.segments)
            assert near < 1e-9, (slug, name, radius)


def heading(a, b, c):
    """Of the circle through three points, at the middle one: the turn at b is shared as the inscribed angles say."""
    return cmath.phase(b - a) + cmath.phase((c - b) / (b - a)) - cmath.phase((c - a) / (b - a))


def test_a_curve_is_the_polyline_of_its_biarcs():
    spots = [("", 0.0, 0.0), ("", 40.0, -12.0), ("", 90.0, 5.0), ("", 70.0, 60.0), ("", 20.0, 45.0)]
    at = [complex(x, y) for _, x, y in spots]
    turned = [math.degrees(heading(at[i - 1], at[i], at[(i + 1) % 5])) for i in range(5)]
    flat = figure([(p.real, p.imag, turn) for p, turn in zip(at, turned, strict=True)])
    assert curve(spots).area == pytest.approx(flat.area, rel=1e-5)
    assert curve(spots).perimeter == pytest.approx(flat.length, rel=1e-5)


def test_a_slit_along_an_arc_is_a_bent_strip():
    """By hand: of one width, as large as straight: 8 mm by a quarter of a circle of 50 mm, and two half rounds."""
    bent = slit([(50 * math.cos(a), 50 * math.sin(a)) for a in (0, math.pi / 4, math.pi / 2)], (8, 8, 8))
    assert bent.area == pytest.approx(8 * 50 * math.pi / 2 + 16 * math.pi, rel=1e-9)
    assert len(bent.segments) == 4


def test_both_sides_mirror_what_is_beside_the_axis():
    assert both_sides([("a", 0, 0), ("b", 2, 1, 3)]) == (("a", 0, 0), ("b", 2, 1, 3), ("b", -2, 1, 3))


def test_what_has_no_room_is_left_out_in_pairs_or_refused_by_name():
    """At 150 mm an oak's veins run into each other; all of them are refused, those that fit are symmetric."""
    part = parts.draw("silhouette-oak", overall_height=150)
    assert 1 <= len(part.profile.inside) < len(library.part("silhouette-oak").profile.inside)
    middle = part.measures.width_mm / 2
    for opening in part.profile.inside:
        assert any(
            abs(opening.loop.box[0] + other.loop.box[2] - 2 * middle) < 20 * CHORD_ERROR_MM
            for other in part.profile.inside
        )
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-oak", overall_height=150, details="all")
    assert [problem.parameter for problem in refused.value.problems] == ["details"]


def test_an_address_of_the_earlier_fish_is_drawn_and_says_what_sets_nothing():
    part = parts.draw("silhouette-fish", overall=400, depth=200, tail_span=160, stripes=3)
    assert part.measures.width_mm == pytest.approx(400)
    assert any("stripes, tail_span no longer set anything" in caution for caution in part.cautions)
