"""The chain sprocket against the formulas of ISO 606 and ASME B29.1, measured on the outline that was drawn.

Pitch, root and caliper diameter: published (tests/reference/README.md's way: ASME B29.1-2011 as on a public calculator
page, and ISO 606 in a text on sprockets). Limits of seat, flank and tip: ISO 606, from memory. That the seats are a
pitch apart and that a chain laid round closes needs no source.
"""

import math

import pytest

import parts
from parts.geometry import Arc

CHAINS = [("08A", 12.7, 7.92), ("10A", 15.875, 10.16), ("12A", 19.05, 11.91), ("16A", 25.4, 15.88)]
TEETH = (9, 11, 17, 24, 45, 120)


def drawn(pitch, roller, teeth, **more):
    part = parts.draw("plate-sprocket", pitch=pitch, roller=roller, teeth=teeth, bore=0, **more)
    (loop,) = part.profile.outside
    return part, loop


def arcs_about(loop, centre):
    """The seats, one a gap, by angle; all that a loop has besides is tips and flanks."""
    seats = [s for s in loop.segments if isinstance(s, Arc) and s.bulge < 0]
    return sorted(seats, key=lambda s: math.atan2(s.centre[1] - centre[1], s.centre[0] - centre[0]))


def middle(loop):
    tips = loop.segments[3]
    return tips.centre


@pytest.mark.parametrize("teeth", TEETH)
@pytest.mark.parametrize(("name", "pitch", "roller"), CHAINS)
def test_rollers_seat_a_pitch_apart_and_the_chain_closes(name, pitch, roller, teeth):
    """A roller pressed to the bottom of each gap: its centre is on d = p / sin(180 / z), and nothing cuts into it."""
    _, loop = drawn(pitch, roller, teeth)
    centre = middle(loop)
    seats = arcs_about(loop, centre)
    assert len(seats) == teeth
    d = pitch / math.sin(math.pi / teeth)
    rollers = []
    for seat in seats:
        ux, uy = (seat.centre[i] - centre[i] for i in (0, 1))
        away = math.hypot(ux, uy)
        bottom = away - seat.radius
        assert bottom == pytest.approx((d - roller) / 2, abs=1e-9), "root diameter d - d1"
        on = bottom + roller / 2
        rollers.append((centre[0] + ux / away * on, centre[1] + uy / away * on))
    for one, other in zip(rollers, [*rollers[1:], rollers[0]], strict=True):
        assert math.dist(one, other) == pytest.approx(pitch, abs=1e-9)
    at = rollers[0]
    assert min(math.dist(s.nearest(at), at) for s in loop.segments) == pytest.approx(roller / 2, abs=1e-9)
    half = teeth // 2
    caliper = math.dist(rollers[0], rollers[half]) - roller
    published = d - roller if teeth % 2 == 0 else d * math.cos(math.pi / 2 / teeth) - roller
    assert caliper == pytest.approx(published, abs=1e-9)


@pytest.mark.parametrize("teeth", TEETH)
@pytest.mark.parametrize("gap", ["narrow", "middle", "wide"])
def test_seat_flank_and_tip_are_within_the_standard(gap, teeth):
    pitch, d1 = 12.7, 7.92
    part, loop = drawn(pitch, d1, teeth, gap=gap)
    seat = arcs_about(loop, middle(loop))[0]
    flank, tip = loop.segments[2], loop.segments[3]
    assert 0.505 * d1 - 1e-9 <= seat.radius <= 0.505 * d1 + 0.069 * d1 ** (1 / 3) + 1e-9
    assert 120 - 90 / teeth - 1e-9 <= math.degrees(abs(seat.sweep)) <= 140 - 90 / teeth + 1e-9
    assert 0.12 * d1 * (teeth + 2) - 1e-9 <= flank.radius <= 0.008 * d1 * (teeth**2 + 180) + 1e-9
    d = pitch / math.sin(math.pi / teeth)
    assert d + pitch * (1 - 1.6 / teeth) - d1 - 1e-9 <= 2 * tip.radius <= d + 1.25 * pitch - d1 + 1e-9
    if gap == "narrow":
        assert 2 * tip.radius == pytest.approx(pitch * (0.6 + 1 / math.tan(math.pi / teeth)), abs=1e-9)
    assert tip.length > 0.015 * pitch, "a land is left"
    assert max(abs(turn) for turn in loop.turns[2::4]) < 1e-7, "seat and flank run on into each other"
    assert part.measures.width_mm <= 2 * tip.radius + 1e-9


@pytest.mark.parametrize(
    ("values", "named"),
    [({"tip": 80}, "tip"), ({"tip": 70}, "tip"), ({"roller": 9.5}, "roller"), ({"bore": 62}, "bore"),
     ({"holes": 4, "bolt_circle": 55}, "bolt_circle"), ({"holes": 4, "bolt_circle": 25}, "bolt_circle")],
)  # fmt: skip
def test_what_the_standard_or_the_wheel_has_no_room_for_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-sprocket", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
