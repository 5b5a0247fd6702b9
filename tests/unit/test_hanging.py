"""A round figure held by foot, lug and holes, against sums made by hand and against shapely."""

import math
from typing import ClassVar

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

import parts
from parts.errors import Refused
from parts.geometry.draft import circle, fillet, polygon, rectangle
from parts.geometry.figure.attach import attached, clearance_on, highest_seat, is_beside, seam
from parts.profile import Opening
from parts.templates.silhouette.shared.hanging import Hung, hung
from tests.property.flattened import CHORD_ERROR_MM, points


class Disc(Hung):
    """A disc of 200 mm with a hole of 60 mm in its middle."""

    @property
    def figure(self):
        return circle((0.0, 0.0), 200.0)

    @property
    def cut_outs(self):
        return (Opening(circle((0.0, 0.0), 60.0), "middle", "hole"),)


def drawn(**values):
    return hung(Disc.read(values))


@given(st.floats(3, 60), st.just(0.0) | st.floats(0.001, 40), st.floats(50, 400))
def test_a_tab_below_a_disc_is_as_by_hand(width, radius, length):
    """Between disc and tab: the triangle of the centres and the corner, less the sectors of disc and round."""
    (edge,) = drawn(foot="tab", foot_width=width, blend_radius=radius, foot_length=length).outside
    out, apart = width / 2 + radius, 100 + radius
    down, turn = math.sqrt(apart**2 - out**2), math.asin(out / apart)
    beside = out * down / 2 - 100**2 * turn / 2 - radius**2 * (math.pi / 2 - turn) / 2
    area = math.pi * 100**2 + 2 * beside + width * (100 + length - down)
    assert edge.area == pytest.approx(area, rel=1e-9)


class Tip(Hung):
    """A wedge 120 mm high, rounded to 2 mm at its upper tip, as far out to either side as `half`."""

    half: ClassVar[float] = 40.0

    @property
    def figure(self):
        return polygon([(-self.half, 0.0), (self.half, 0.0), fillet(0.0, 120.0, 2.0)])


class Needle(Tip):
    """So slight a wedge that a ring would hang by less than the metal around its hole."""

    half: ClassVar[float] = 16.0


@given(st.floats(3, 20), st.floats(4, 15), st.just(0.0) | st.floats(0.5, 30))
def test_a_lug_on_a_tip_is_a_ring_with_tangent_rounds(hole, eye, blend):
    """By hand: ring and wedge together, and between them the middles' polygon without the discs of the rounds.

    From the apex, t down the flank and the blend off it, a disc's middle is ring and blend from the ring's middle,
    which is as far below the apex as the tip's round takes off: t² + 2 t (w . u) + w² = (R + b)².
    """
    p = Tip.read({"hang": "lug", "hole": hole, "eye": eye, "blend_radius": blend})
    assume(p.lug_ring)
    a, big = math.atan(40 / 120), hole / 2 + eye
    ux, uy, nx, ny, below = math.sin(a), -math.cos(a), math.cos(a), math.sin(a), 2 / math.sin(a) - 2
    wx, wy = blend * nx, below + blend * ny
    along = wx * ux + wy * uy
    t = -along + math.sqrt(along**2 - wx**2 - wy**2 + (big + blend) ** 2)
    x, y = wx + t * ux, 120 - below + wy + t * uy
    foot = x - blend * nx, y - blend * ny
    assert p.lug_ring.right.centre == pytest.approx((x, y))
    assert p.hang_centres[0] == pytest.approx((0, 120 - below))
    (edge,) = hung(p).outside
    plate, wedge = shapely.Polygon(points(edge)), shapely.Polygon(points(p.figure))
    between = shapely.Polygon([(0, 120 - below), (-x, y), (-foot[0], foot[1]), foot, (x, y)])
    discs = shapely.MultiPoint([(-x, y), (x, y)]).buffer(blend, 512) if blend else shapely.Point()
    expected = shapely.union_all([wedge, shapely.Point(0, 120 - below).buffer(big, 512), between.difference(discs)])
    assert plate.is_valid
    assert plate.symmetric_difference(expected).area < CHORD_ERROR_MM * plate.length


def test_too_slight_a_tip_carries_its_lug_on_upright_sides():
    p = Needle.read({"hang": "lug", "eye": 12, "blend_radius": 0})
    assert p.lug_ring is None
    sides = [s for s in p.edge.segments if abs(s.start[0] - s.end[0]) < 1e-9 and s.length > 1]
    assert [abs(side.start[0]) for side in sides] == pytest.approx([15.5, 15.5])


@pytest.mark.parametrize("foot", ["none", "stake", "tab"])
@pytest.mark.parametrize("hang", ["none", "one", "two", "lug"])
def test_what_holds_it_is_one_sound_loop_with_the_eye_all_round(foot, hang):
    profile = drawn(foot=foot, hang=hang)
    (edge,) = profile.outside
    plate = shapely.Polygon(points(edge))
    assert plate.is_valid
    holes = [o for o in profile.inside if o.name == "hanging hole"]
    assert len(holes) == {"none": 0, "one": 1, "two": 2, "lug": 1}[hang]
    for hole in holes:
        ring = shapely.Polygon(points(hole.loop)).exterior
        assert ring.distance(plate.exterior) == pytest.approx(6, abs=1e-3)
    assert edge.box[1] == pytest.approx(-100 if foot == "none" else -260)


def test_the_hole_is_as_high_as_its_eye_allows():
    loops = [circle((0.0, 0.0), 200.0), circle((0.0, 0.0), 60.0)]
    assert highest_seat(loops, 0.0, 10.0).height == pytest.approx(90)
    assert highest_seat(loops, 30.0, 10.0).height == pytest.approx(math.sqrt(90**2 - 30**2))
    assert highest_seat(loops, 0.0, 35.0).height == pytest.approx(65)
    assert highest_seat(loops, 0.0, 35.1) is None
    assert highest_seat(loops, 100.0, 1.0) is None


def test_what_is_clear_about_the_best_place_on_a_line_is_known_to_a_sixth_of_it():
    loops = [circle((0.0, 0.0), 200.0), circle((0.0, 0.0), 60.0)]
    assert clearance_on(loops, 0.0) == pytest.approx(35)  # from 30 to 100 above the middle, and below it
    off = math.hypot(30, (math.sqrt(100**2 - 30**2)) / 2)
    assert clearance_on(loops, 30.0) >= off - 30
    assert highest_seat(loops, 30.0, clearance_on(loops, 30.0))
    assert clearance_on(loops, 100.0) == clearance_on(loops, 101.0) == 0


def test_a_lug_rises_clear_of_what_is_cut_out():
    """By hand: 73.5 mm of hole and eye above the edge of a hole of 60 mm, more than the disc's top."""
    (_, hole) = drawn(hang="lug", eye=70).inside
    assert hole.loop.circle.centre == pytest.approx((0, 103.5))


def test_a_foot_on_a_flat_is_rounded_by_quarters():
    """By hand: each round adds (1 - pi/4) r² beside the foot."""
    plate = rectangle((-50.0, 0.0), 100.0, 40.0)
    loop = attached(plate, seam(plate, 0.0, 20.0, 6.0), [(-10, -60, 0), (10, -60, 0)])
    assert loop.area == pytest.approx(100 * 40 + 20 * 60 + 2 * 36 * (1 - math.pi / 4))


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"foot": "tab", "foot_width": 250}, "foot_width"),
        ({"foot": "stake", "point_length": 160}, "point_length"),
        ({"foot": "stake", "point_width": 21}, "point_width"),
        ({"foot": "tab", "foot_length": 5, "blend_radius": 60}, "foot_length"),
        ({"hang": "two", "apart": 13}, "apart"),
        ({"hang": "two", "apart": 190}, "hole"),
        ({"eye": 40}, "hole"),
        ({"hang": "lug", "eye": 100}, "hole"),
    ],
)
def test_what_has_no_room_is_refused_by_name(values, named):
    with pytest.raises(Refused) as refused:
        Disc.read(values)
    assert [p.parameter for p in refused.value.problems] == [named]


def test_sizes_at_odds_are_refused_while_a_place_for_the_hole_is_sought():
    wide = {"bore": "22", "eye": "56.348", "foot_width": "33", "point_length": "58.684", "hub_diameter": "144.984"}
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-gear", **wide)
    assert [problem.parameter for problem in refused.value.problems] == ["hole"]


@pytest.mark.parametrize("slug", ["silhouette-fish", "silhouette-ridge", "silhouette-flower", "silhouette-leaf"])
def test_no_seat_is_missed(slug):
    """Where none is found, no height of the line keeps the distance; where one is, none a step above it does."""
    profile = parts.draw(slug).profile
    outside, *openings = loops = [*profile.outside, *(opening.loop for opening in profile.inside)]
    left, low, right, high = outside.box

    def is_seat(x, y, clearance):
        inside = outside.contains((x, y)) and not any(loop.contains((x, y)) for loop in openings)
        return inside and not any(is_beside(loop, (x, y), clearance) for loop in loops)

    for share in (0.2, 0.35, 0.5, 0.65, 0.8):
        x = left + share * (right - left)
        for clearance in (2.0, 7.0, 15.0, 40.0):
            seat = highest_seat(loops, x, clearance)
            floor = seat.height if seat else low
            assert not seat or is_seat(x, seat.height, clearance - 1e-6)
            steps = [floor + 0.01 + (high - floor) * i / 200 for i in range(200)]
            assert not any(is_seat(x, y, clearance) for y in steps), (x, clearance)
