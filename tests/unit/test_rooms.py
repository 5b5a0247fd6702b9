"""Plates, gauges and bumper parts that have no room: the parameter at fault is told what would do, and that does."""

import pytest

import parts
from tests.property.flattened import assert_can_be_cut
from tests.unit.limits import refusal

SQUARE = {"outside": "square", "inside": "square", "relief": 0}
SLIDING = {"bolts": "2", "slide": 25, "bore": 40, "bearing_bolt": "M10"}

CASES = [
    ("plate-base", {}, "holes_x", 12, "must be at most 11: there are 140 mm between the corner holes.", 10),
    ("plate-base", {}, "inset_y", 3, "must be more than 6.75 mm to keep the holes on the plate.", 8),
    ("plate-base", {}, "middle", 185, "must be less than 184.489 mm to clear the anchor holes.", 184),
    (
        "plate-base", {"inset_x": 9, "inset_y": 9}, "corner_radius", 15,
        "must be less than 14.431 mm to clear the hole at the corner.", 14,
    ),
    (
        "plate-base", {"post": "rectangle", "post_y": 150}, "post_x", 150,
        "has no room between the anchor holes: make it 126 mm or less.", 126,
    ),
    ("plate-cover", {}, "holes_y", 24, "must be at most 15: there are 130 mm between the corner holes.", 15),
    (
        "plate-cover", {"window_height": 150}, "window_width", 230,
        "has no room between the holes: make it 200 mm or less.", 200,
    ),
    (
        "plate-cover", {"window_width": 100, "lift": 60}, "lift_apart", 60,
        "has no room between the holes and beside the window: make it 126 mm or more.", 126,
    ),
    (
        "plate-motor", {"mounts": "foot"}, "inset_y", 178,
        "must be less than 174.5 mm for the holes to stay below the top.", 174,
    ),
    ("plate-adapter", {"width": 125}, "first_x", 120, "has no room on the plate: make it 113 mm or less.", 113),
    (
        # each end of the bore's slot and of the bolts' is half the slide nearer: 40 + 11 + 2 x 25
        "plate-bearing", SLIDING, "spacing_x", 101, "must be more than 101 mm for the bolts to clear the bore.", 101.1,
    ),
    ("plate-bearing", {}, "inset", 42, "has no room outside the bearing's bolts: make it 35 mm or less.", 35),
    ("plate-panel", {}, "least_margin", 120, "must be at most 95 mm for an opening of 50 mm by 10 mm.", 95),
    ("plate-shim", {"slots": 2, "corner_radius": 0}, "pitch", 63, "must be less than 62.5 mm to leave metal beside the "
     "slots.", 62),
    ("plate-slotted", {"fixed_y": 100}, "fixed_x", 100, "has no room beside the slots: make it 84 mm or less.", 84),
    ("plate-slotted", {}, "middle", 100, "has no room between the round holes: make it 75 mm or less.", 75),
    (
        # the hole's corner is 22 / sqrt 2 out, the edge's (30 / 2 - r) sqrt 2 + r
        "plate-washer", SQUARE | {"size": 30}, "corner_radius", 14,
        "must be less than 13.656 mm to leave metal at the corners of the hole.", 13.6,
    ),
    ("gauge-fillet", {"size_x": 56}, "text_height", 5, "must be at most 4.194 mm for two numbers along X.", 4.194),
    (
        "gauge-radius", {"size_x": 96}, "text_height", 5,
        "must be at most 4.198 mm for the numbers between corners and notches.", 4.198,
    ),
    ("bumper-wing", {"lamp": 60}, "lamp_down", 100, "has no room above the lower edge: make it 99 mm or less.", 99),
    (
        "bumper-wing", {"lamp": 60, "lamp_down": 60}, "lamp_in", 300,
        "has no room beside the holes for the stay: make it 275 mm or less.", 275,
    ),
    (
        "bumper-skid", {"slots": 10, "slot_rear": 220, "drain": 0}, "slot_pitch", 60,
        "has no room between the bolt holes: make it 59 mm or less.", 59,
    ),
    ("bumper-skid", {}, "drain_rear", 260, "has no room beside the air slots: make it 278 mm or more.", 278),
    ("square-frame", {"inset": 12}, "corner_out", 29, "must be less than 28.899 mm to clear the holes.", 28.8),
]  # fmt: skip


@pytest.mark.parametrize(("slug", "others", "name", "value", "said", "does"), CASES)
def test_what_has_no_room_is_told_what_would_do(slug, others, name, value, said, does):
    assert (name, said) in {(p.parameter, p.message) for p in refusal(slug, **others, **{name: value})}
    assert_can_be_cut(parts.draw(slug, **others, **{name: does}))


@pytest.mark.parametrize(
    ("slug", "values", "height", "said"),
    [
        (
            "gauge-protractor", {"radius": 80, "numbered": "30"}, "text_height",
            "is 180.25 mm long and the base has room for 139.5 mm; a height of 5.504 mm fits; or take a shorter text.",
        ),
        (
            "square-frame", {"size_x": 300}, "text_height",
            "is 206 mm long and the bar has room for 142.667 mm; a height of 6.075 mm fits; or take a shorter text.",
        ),
        (
            "square-targets", {}, "number",
            "is 206 mm long and a plate has room for 72 mm; a height of 2.99 mm fits; or take a shorter text.",
        ),
    ],
)  # fmt: skip
def test_a_text_that_is_too_long_is_told_the_height_at_which_it_fits(slug, values, height, said):
    long = values | {"text": "W" * 24}
    assert [(p.parameter, p.message) for p in refusal(slug, **long)] == [("text", said)]
    fits = float(said.split("height of ")[1].split()[0])
    parts.draw(slug, **long, **{height: fits})
    assert "text" in {p.parameter for p in refusal(slug, **long, **{height: fits + 0.01})}


def test_a_text_that_fits_at_no_height_is_told_to_be_shorter():
    (problem,) = refusal("square-frame", text="W" * 24, size_x=150, text_height=4, diagonal=False)
    assert problem.message == "is 103 mm long and the bar has room for 21.333 mm; take a shorter text."
