"""A photograph with a sheet of paper in it: what lies on the plane is as large as it was drawn there.

The photographs are reckoned: a plane with known shapes, a camera of known place and lens, noise; each pixel the mean of
four rays.
"""

import math
from functools import cache

import numpy as np
import pytest

from parts.artwork.pictures import contours_of, levelled, taken
from parts.artwork.pictures.opening import Picture
from parts.errors import Unreadable

A4 = (297.0, 210.0)
SMALL = {"size": (650, 488), "focal": 690.0}
BRACKET = ((330.0, 20.0), (490.0, 20.0), (490.0, 60.0), (380.0, 60.0), (380.0, 130.0), (330.0, 130.0))
HOLE = (355.0, 95.0, 10.0)


def plane_light(x, y, sheet=A4, on_sheet=False):
    """How bright a place of the plane is: a table, the sheet with its lower left at the origin, a dark bracket."""
    light = np.full(x.shape, 0.16)
    light[(x >= 0) & (x <= sheet[0]) & (y >= 0) & (y <= sheet[1])] = 0.85
    shift = -290 if on_sheet else 0
    inside = np.zeros(x.shape, dtype=bool)
    corners = [(a + shift, b + (20 if on_sheet else 0)) for a, b in BRACKET]
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        crosses = (y0 > y) != (y1 > y)
        with np.errstate(divide="ignore", invalid="ignore"):
            inside ^= crosses & (x < (x1 - x0) * (y - y0) / (y1 - y0) + x0)
    hole = (x - HOLE[0] - shift) ** 2 + (y - HOLE[1] - (20 if on_sheet else 0)) ** 2 < HOLE[2] ** 2
    light[inside & ~hole] = 0.03
    return light


@cache
def photograph(tilt=16.0, turn=6.0, k1=-0.02, focal=1380.0, away=560.0, size=(1300, 975), look=(245, 85), **plane):
    """A photograph by a camera `away` mm from the place it looks at, tilted and turned by degrees."""
    wide, high = size
    a, b = math.radians(tilt), math.radians(turn)
    rx = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    rz = np.array([[math.cos(b), -math.sin(b), 0], [math.sin(b), math.cos(b), 0], [0, 0, 1]])
    turned = rz @ rx
    eye = np.array([*look, 0.0]) + turned @ np.array([0.0, 0.0, away])
    light = np.zeros((high, wide))
    for dy in (-0.25, 0.25):
        for dx in (-0.25, 0.25):
            y, x = np.mgrid[0:high, 0:wide].astype(float)
            u, v = x + dx - (wide - 1) / 2, y + dy - (high - 1) / 2
            grows = 1 + k1 * (u * u + v * v) / (wide * wide + high * high) * 4
            ray = turned @ np.stack([u * grows, -v * grows, np.full(u.shape, -focal)]).reshape(3, -1)
            t = -eye[2] / ray[2]
            px, py = eye[0] + t * ray[0], eye[1] + t * ray[1]
            light += plane_light(px.reshape(high, wide), py.reshape(high, wide), **plane) / 4
    seen = 255 * light ** (1 / 2.2) + np.random.default_rng(2).normal(0, 2, light.shape)
    return Picture(np.clip(seen + 0.5, 0, 255).astype(np.uint8))


@cache
def measured(photo: Picture, sheet="a4"):
    found = taken(photo, sheet)
    metal = contours_of(levelled(found.picture)).metal(30)[0]
    x0, y0, x1, y1 = (side / found.px_per_mm for side in metal.bounds)
    return found, (x1 - x0, y1 - y0), metal


def test_a_pattern_beside_the_sheet_is_as_large_as_it_is():
    found, (wide, high), metal = measured(photograph())
    assert not found.on_sheet
    assert (wide, high) == pytest.approx((160, 110), abs=0.5)
    (piece,) = metal.geoms
    (hole,) = piece.interiors
    x0, _, x1, _ = hole.bounds
    assert (x1 - x0) / found.px_per_mm == pytest.approx(20, abs=0.4)
    assert found.plane.residual_px < 0.3


def test_a_drawing_on_the_sheet_is_taken_and_the_rest_left():
    found, (wide, high), _ = measured(photograph(on_sheet=True, look=(148, 105), away=400))
    assert found.on_sheet
    assert (wide, high) == pytest.approx((160, 110), abs=0.4)


def test_places_are_found_again_in_the_photograph():
    found, _, _ = measured(photograph())
    corner = (np.array([[330.0, 20.0]]) - (found.left, found.low)) * found.px_per_mm
    assert found.plane.lies(found.on_photo(corner)) == pytest.approx(np.array([[330.0, 20.0]]), abs=0.01)


@pytest.mark.parametrize(
    ("photo", "sheet", "why"),
    [
        ({}, "letter", "is 1.4[12] times as long as wide, as a4 has, and letter is 1.29 times"),
        ({"look": (420, 60)}, "a4", "cut off by the border"),
        ({"away": 3000}, "a4", "under 2% of the photograph: go nearer"),
        ({}, "a4", "pixels and at least 2 are needed: go nearer"),
        ({"sheet": (0.0, 0.0)}, "a4", "no sheet of paper is found|times as long"),
    ],
    ids=["another sheet", "cut off", "tiny", "coarse", "none"],
)
def test_what_is_no_measure_is_refused(photo, sheet, why):
    with pytest.raises(Unreadable, match=why):
        taken(photograph(**(photo | ({} if sheet == "letter" else SMALL))), sheet)
