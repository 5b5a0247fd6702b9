"""Tracing: sizes by hand, what an SVG paints, what a shape is set on, the size that is asked for."""

import json
import math

import pytest

from parts.errors import Refused, Unreadable
from parts.tracing import trace
from tests.files.foreign import UNITLESS, circle, dxf
from tests.unit.test_own import box
from tests.unit.test_photograph import photograph
from tests.unit.test_pictures import KINDS

PLAIN = {"thickness": "3mm", "process": "laser", "sturdy": "0"}


def svg(inside: str, size: str = 'viewBox="0 0 100 100"') -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{inside}</svg>'.encode()


def measured(data: bytes, name: str = "a.svg", **values: str) -> tuple[float, float, float, int]:
    """Area, width, height and loops."""
    of = trace(data, name, **(PLAIN | values)).part.measures
    return of.area_mm2, of.width_mm, of.height_mm, of.loops


SQUARE = '<rect x="10" y="10" width="80" height="80"/>'
PAINTED = {
    "overlaps are united": (SQUARE + '<rect x="50" y="50" width="40" height="45"/>', 6400 + 200, 1),
    "white on black is a hole": (SQUARE + '<circle cx="50" cy="50" r="20" fill="white"/>', 6400 - math.pi * 400, 2),
    "black within black is nothing": (SQUARE + '<circle cx="50" cy="50" r="20"/>', 6400, 1),
    "evenodd": ('<path fill-rule="evenodd" d="M10 10h80v80h-80zM30 30h40v40h-40z"/>', 6400 - 1600, 2),
    "a stroke is as wide as it is drawn": ('<path d="M10 50H90" stroke="black" stroke-width="8"/>', 640, 1),
    "thin lines bound": (
        '<g fill="none" stroke="black" stroke-width=".2"><rect x="10" y="10" width="80" height="80"/>'
        '<circle cx="50" cy="50" r="20"/></g>', 6400 - math.pi * 400, 2,
    ),
    "light on a dark page": ('<rect width="100" height="100" fill="#333"/><circle cx="50" cy="50" r="40" fill="#fff"/>',
                             math.pi * 1600, 1),
    "white on nothing": ('<circle cx="50" cy="50" r="40" fill="#fff"/>', math.pi * 1600, 1),
    "a pattern is dark beside what is": (
        '<pattern id="p" width="9" height="9"><circle r="3"/></pattern><rect x="10" y="10" width="50" height="80" '
        'fill="url(#p)"/><rect x="55" y="10" width="35" height="80"/>', 6400, 1,
    ),
    "a gradient is as light as its stops": (
        '<linearGradient id="a"><stop stop-color="#111"/><stop stop-color="navy"/></linearGradient>'
        '<linearGradient id="b" href="#a"/><rect x="10" y="10" width="50" height="80" fill="url(#b)"/>'
        '<rect x="55" y="10" width="35" height="80"/>', 6400, 1,
    ),
}  # fmt: skip


@pytest.mark.parametrize("how", PAINTED)
def test_what_is_painted_is_metal(how):
    shapes, area, loops = PAINTED[how]
    found = trace(svg(shapes), "a.svg", width="80mm", **PLAIN).part.measures
    assert found.loops == loops
    assert found.area_mm2 == pytest.approx(area, rel=2e-3)


def test_a_size_of_the_file_holds_until_another_is_asked_for():
    sized = svg(SQUARE, 'width="200mm" height="200mm" viewBox="0 0 100 100"')
    assert measured(sized)[:3] == pytest.approx((160**2, 160, 160))
    assert measured(sized, height="3in")[1:3] == pytest.approx((76.2, 76.2))
    assert measured(dxf(box(100, 60) + circle(50, 30, 10)), "a.dxf")[:3] == pytest.approx(
        (6000 - math.pi * 100, 100, 60), rel=1e-4
    )
    for data, name in (
        (svg(SQUARE), "a.svg"), (dxf(box(100, 60), units=UNITLESS), "a.dxf"), (KINDS["grey"], "a.png"),
    ):  # fmt: skip
        with pytest.raises(Refused) as refused:
            trace(data, name, **PLAIN)
        assert [p.parameter for p in refused.value.problems] == ["width"]


def test_what_of_a_dxf_is_no_outline_is_told():
    text = "0\nTEXT\n8\n0\n10\n5\n20\n5\n40\n3\n1\nOAK\n"
    said = trace(dxf(box(100, 60) + text), "a.dxf", **PLAIN).said
    assert "1 text left as text: letters aren't outlines" in said
    bow = "0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n0\n20\n0\n10\n9\n20\n9\n10\n9\n20\n0\n10\n0\n20\n9\n"
    with pytest.raises(Unreadable, match=r"no outline in it closes\. The line from here .* crosses itself"):
        trace(dxf(bow), "a.dxf", **PLAIN)


def test_overlapping_outlines_of_a_dxf_are_united():
    area, *_, loops = measured(dxf(box(100, 60) + circle(100, 30, 20)), "a.dxf")
    assert (area, loops) == (pytest.approx(6000 + math.pi * 200, rel=1e-3), 1)


def test_what_it_is_set_on_by_hand():
    """A square of 80: on a bar, in a frame, cut from a plate, on a stake, each with the size of the whole."""
    square = svg(SQUARE)
    side = 200 - 2 * 20  # within the plate's margin
    plate = measured(square, width="200mm", mount="plate", corner="0")
    assert plate == pytest.approx((200**2 - side**2, 200, 200, 2), rel=1e-6)
    side = 200 - 2 * 35
    frame = measured(square, width="200mm", mount="frame", corner="0", sink="3mm")
    assert frame[:3] == pytest.approx(
        (200 * (side + 20 + 30 - 3) - 170 * (side + 20 - 3) + side * (side - 3), 200, side + 20 + 30 - 3), rel=1e-6
    )
    bar = measured(square, width="200mm", mount="bar", sink="5mm", bar="20mm")
    assert bar == pytest.approx((200 * 200 + 200 * 15, 200, 215, 1), rel=1e-6)
    stake = measured(square, width="200mm", mount="stake", sink="5mm", bar="20mm", stake="100mm", stake_width="20mm")
    post = 20 * 70 + (20 + 6) / 2 * 30  # straight, then tapered over 1.5 widths to 0.3 of one
    assert stake == pytest.approx((bar[0] + post, 200, 315, 1), rel=1e-6)


def test_hanging_holes_are_true_circles():
    for mount, holes in (("none", 1), ("none", 2), ("plate", 4), ("frame", 3), ("bar", 2)):
        found = trace(svg(SQUARE), "a.svg", width="200mm", mount=mount, holes=str(holes), hole="7mm", **PLAIN).part
        hung = [opening.loop for opening in found.profile.inside if opening.name == "hanging hole"]
        assert [loop.circle.diameter for loop in hung] == [pytest.approx(7)] * holes, mount
        assert found.measures.width_mm == pytest.approx(200)
        assert len(found.profile.outside) == 1
        assert not [f for f in found.findings if f.severity == "stop"]


def test_each_step_can_be_left_out_and_says_so():
    rings = svg(
        '<path fill-rule="evenodd" d="M50 5a45 45 0 1 0 .1 0zM50 15a35 35 0 1 0 .1 0zM50 30a20 20 0 1 0 .1 0z"/>'
    )
    loose = trace(rings, "a.svg", width="200mm", hold="off", **PLAIN)
    assert len(loose.part.profile.outside) == 2
    assert [f.rule for f in loose.part.findings if f.severity != "note"] == ["loose-piece"]
    held = trace(rings, "a.svg", width="200mm", **PLAIN)
    assert len(held.part.profile.outside) == 1
    assert held.said[0].startswith("held what would fall out by ")
    plain = trace(rings, "a.svg", width="200mm", smooth="off", **PLAIN)
    count = [sum(len(loop.segments) for loop in each.part.profile.boundary) for each in (held, plain)]
    assert count[0] * 4 < count[1]


def test_a_photograph_has_its_size_and_waits_for_somebody_to_look():
    data = KINDS["grey"]
    with pytest.raises(Unreadable, match=r"^a\.png can't be traced: no sheet of paper is found in it"):
        trace(data, "a.png", sheet="a4", **PLAIN)
    with pytest.raises(Refused, match="is only for a photograph"):
        trace(svg(SQUARE), "a.svg", sheet="a4", **PLAIN)
    from tests.unit.test_pictures import Image, encoded

    photo = encoded(Image.fromarray(photograph().levels), "JPEG", quality=92)
    found = trace(photo, "p.jpg", sheet="a4", **PLAIN)
    assert found.part.measures.width_mm == pytest.approx(160, abs=0.5)
    assert found.stopped
    assert [f.rule for f in found.part.findings if f.severity == "stop"] == ["reading"]
    assert "1 mm in 250" in found.said[1]
    proved = trace(photo, "p.jpg", sheet="a4", confirm="on", measured="160", **PLAIN)
    assert not proved.stopped
    assert "agrees" in proved.said[1]
    with pytest.raises(Refused, match="it isn't stretched to fit"):
        trace(photo, "p.jpg", sheet="a4", confirm="on", measured="165", **PLAIN)
    corner = found.part.profile.outside[0].segments[0].start
    (seen,) = found.on_photo([corner])
    assert all(0 < at < side for at, side in zip(seen, (1300, 975), strict=True))


def test_a_known_distance_in_a_picture_tells_its_size_and_says_what_it_rests_on():
    """A disc of 80 pixels across, of which 60 are said to be 30 mm."""
    known = {"known": "30mm", "known_from": "30,60", "known_to": "90, 60"}
    found = trace(KINDS["grey"], "a.png", **PLAIN, **known)
    assert found.part.measures.width_mm == pytest.approx(40, abs=0.1)
    assert [(f.rule, f.severity) for f in found.part.findings] == [("reading", "warn")]
    for more, name in (
        ({"known_to": ""}, "known_to"), ({"known_to": "up"}, "known_to"), ({"known_to": "31,60"}, "known_to"),
        ({"known_to": "300,60"}, "known_to"), ({"width": "40"}, "width"), ({"sheet": "a4"}, "known"),
    ):  # fmt: skip
        with pytest.raises(Refused) as refused:
            trace(KINDS["grey"], "a.png", **(PLAIN | known | more))
        assert [p.parameter for p in refused.value.problems] == [name]
    with pytest.raises(Refused, match="is only for a picture"):
        trace(svg(SQUARE), "a.svg", **PLAIN, **known)


def test_shares_of_short_pieces_and_slow_cutting_are_told_and_every_changed_place_is_where_it_was():
    coarse = {"sturdy": "100", "process": "air-plasma"}
    found = trace(KINDS["grey"], "a.png", width="120mm", mount="frame", **(PLAIN | coarse))
    told = json.loads(found.to_json())["traced"]
    assert told["changes"]
    assert told["shares"]["short_before"] > told["shares"]["short_after"]
    assert told["shares"]["slow_before"] > told["shares"]["slow_after"]
    assert found.said[-1].startswith("of its pieces ")
    x0, y0, x1, y1 = found.part.profile.box
    for change in told["changes"]:
        assert x0 <= change["at"][0] <= x1
        assert y0 <= change["at"][1] <= y1
