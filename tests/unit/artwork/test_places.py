"""Places: found by what they are called, laid flat as pyproj lays them, whole across the meridian of 180 degrees."""

import numpy as np
import pyproj
import pytest
import shapely

import parts
from parts.artwork.places import known, nearest, place_names, region
from parts.artwork.places.find import found
from parts.artwork.places.projection import projected
from parts.artwork.places.topology import polygons
from tests.depth import several

SPHERE_M = 6_371_000
WGS_84 = pyproj.Geod(ellps="WGS84")
PLACES = (
    "Iceland",
    "Italy",
    "Hawaii",
    "Ohio",
    "Michigan",
    "Norway",
    "Colorado",
    "New Zealand",
    "Georgia, US",
    "Canada",
)
EVERY = place_names()


@pytest.mark.parametrize(("kind", "name"), [("equal-area", "laea"), ("conformal", "stere")])
def test_points_are_laid_flat_as_pyproj_lays_them(kind, name):
    rng = np.random.default_rng(3)
    for centre in [(0, 0), (-19, 65), (172, -41), (10, -90), (179, 12)]:
        points = np.column_stack(
            (centre[0] + rng.uniform(-60, 60, 40), np.clip(centre[1] + rng.uniform(-60, 60, 40), -90, 90))
        )
        to = pyproj.Proj(f"+proj={name} +lon_0={centre[0]} +lat_0={centre[1]} +R={SPHERE_M} +units=m")
        expected = np.column_stack(to(*points.T)) / SPHERE_M
        assert projected(points, centre, kind) == pytest.approx(expected, abs=1e-9), centre


def test_areas_are_those_of_the_earth_within_a_hundredth():
    """The largest piece's share of a place, against geodesic areas on the ellipsoid WGS 84."""
    for name in PLACES[: several(5, len(PLACES))]:
        whole = region(name, "equal-area", reach=1e9, least=0.0)
        largest = max(piece.area for piece in whole.geoms) / whole.area
        areas = [area_of(rings) for rings in polygons(*found(name))]
        assert largest == pytest.approx(max(areas) / sum(areas), rel=0.01), name


def area_of(rings):
    """The area of one polygon of a map, m²."""
    outer, *holes = (abs(WGS_84.polygon_area_perimeter(*ring.T)[0]) for ring in rings)
    return outer - sum(holes)


def test_what_lies_across_the_meridian_of_180_degrees_is_whole():
    russia = region("Russia", "equal-area")
    assert 1 < 1 / russia.bounds[3] < 2.5  # twice as wide as high, not a band round the earth
    assert max(piece.area for piece in russia.geoms) / russia.area > 0.97
    ice = max(region("Antarctica", "equal-area", reach=0).geoms, key=lambda piece: piece.area)
    assert ice.area > 0.99 * shapely.Polygon(ice.exterior).area  # no hole about the pole


def test_a_place_is_found_by_what_it_is_called():
    same = {"usa": "United States of America", "UK": "United Kingdom", "ivory coast": "Côte d'Ivoire",
            "the netherlands": "Netherlands", "new  zealand": "New Zealand", "Bosnia": "Bosnia and Herzegovina",
            "saint lucia": "St. Lucia"}  # fmt: skip
    for said, name in same.items():
        assert found(said) == found(name), said
    assert found("Georgia") != found("Georgia, US")
    assert nearest("Norwy") == ("Norway",)
    assert set(nearest("carolina")) >= {"North Carolina", "South Carolina"}
    assert not known("Atlantis")
    assert len(EVERY) > 300
    assert all(known(name) for name in EVERY)


def test_a_place_that_there_isnt_is_refused_with_the_nearest():
    with pytest.raises(parts.Refused) as refused:
        parts.draw("outline-map", place="Norwy")
    (problem,) = refused.value.problems
    assert (problem.parameter, problem.value) == ("place", "Norwy")
    assert "Is it Norway?" in problem.message


def test_places_can_be_cut_in_one_piece_as_large_as_asked():
    chosen = EVERY[:: several(240, 1)]
    for name in chosen:
        profile = parts.draw("outline-map", place=name, overall_width="500 mm", detail="8 mm", tie="10 mm").profile
        x0, _, x1, _ = profile.box
        assert x1 - x0 == pytest.approx(500, abs=1e-6), name
        assert len(profile.outside) == 1, name
        assert shapely.box(*profile.box).area > 0
