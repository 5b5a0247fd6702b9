"""Sizes of an SVG: in percent as SVG 2, section 8.9 says, with units in styles, and none that is negative."""

import math

import pytest

from parts.errors import Unreadable
from parts.read import read_drawing
from tests.files.foreign import areas, circle, dxf, svg

MM = 'width="100mm" height="50mm" viewBox="0 0 100 50"'
PLATE = '<rect width="90" height="40"/>'


def read(body, head=MM, **more):
    return read_drawing(svg(body, head), "theirs.svg", **more)


def refused(body, head=MM):
    with pytest.raises(Unreadable) as error:
        read(body, head)
    return str(error.value).removeprefix("theirs.svg can't be read: ")


# ------------------------------------------------------------------ percent

DIAGONAL = math.sqrt((100**2 + 50**2) / 2)
"""Percentages of neither width nor height are of this (SVG 2, section 8.9)."""


@pytest.mark.parametrize(
    ("body", "box"),
    [
        ('<rect x="10%" y="10%" width="50%" height="40%"/>', (10, 25, 60, 45)),
        ('<circle cx="50%" cy="50%" r="10%"/>',
         (50 - DIAGONAL / 10, 25 - DIAGONAL / 10, 50 + DIAGONAL / 10, 25 + DIAGONAL / 10)),
        ('<ellipse cx="50%" cy="50%" rx="10%" ry="10%"/>', (40, 20, 60, 30)),
        ('<circle style="cx:50%;cy:50%;r:5px"/>', (45, 20, 55, 30)),
        ('<svg x="10%" y="20%" width="50%" height="50%"><rect width="100%" height="100%"/></svg>', (10, 15, 60, 40)),
        ('<svg width="50%" height="25" viewBox="0 0 10 5"><rect width="50%" height="50%"/></svg>', (0, 37.5, 25, 50)),
        ('<symbol id="s" viewBox="0 0 10 10"><rect width="50%" height="50%"/></symbol>'
         '<use href="#s" x="10%" y="10%" width="20" height="20"/>', (10, 35, 20, 45)),
    ],
    ids=["rect", "circle", "ellipse", "style", "svg", "svg with a viewBox", "symbol"],
)  # fmt: skip
def test_a_share_of_the_window(body, box):
    """Boxes by hand, y upward from the page's lower left."""
    reading = read(body)
    (row,) = reading.account.outlines
    assert row.box == pytest.approx(box, abs=0.02)
    assert reading.findings == ()


def test_where_there_is_no_window_it_is_named():
    head = 'width="100%" height="100%"'
    reading = read(f'{PLATE}<circle cx="50%" cy="50%" r="9"/><circle r="1em"/><circle r="2em"/>', head, units="mm")
    assert [f.message for f in reading.findings] == [
        "1 shape sized in percent left out: it isn't read.", "2 shapes sized in em left out: they aren't read.",
    ]  # fmt: skip
    assert areas(read('<rect width="50%" height="50%"/>', f'{head} viewBox="0 0 100 50"', units="mm"))[0] == [1250]


@pytest.mark.parametrize(("width", "wide"), [("4", 4), ("4px", 4), ("1mm", 96 / 25.4), ("5%", DIAGONAL / 20)])
def test_a_stroke_is_as_wide_as_its_unit_says(width, wide):
    """A unit in an SVG is of its pixels, 96 to the inch, whatever a pixel is on the page (SVG 2, section 8.9)."""
    reading = read(f'<circle cx="50" cy="25" r="10" fill="none" stroke="red" stroke-width="{width}"/>')
    (outside,), (inside,) = reading.profile.outside, reading.profile.inside
    assert (outside.circle.diameter - inside.loop.circle.diameter) / 2 == pytest.approx(wide, abs=1e-6)


@pytest.mark.parametrize(
    ("width", "said"),
    [("0.008", "took the middle of 1 stroke up to 0.008 in"), ("0.04", "took the middle of 1 stroke up to 0.04 in"),
     ("0.041", "took the outline of 1 stroke up to 0.041 in")],
)  # fmt: skip
def test_a_pen_in_a_drawing_in_inches_is_judged_and_told_in_inches(width, said):
    head = 'width="4in" height="2in" viewBox="0 0 4 2"'
    (healed,) = read(f'<circle cx="2" cy="1" r=".5" fill="none" stroke="red" stroke-width="{width}"/>', head).healed
    assert healed.startswith(said)


# ------------------------------------------------------------------ negative and absurd


@pytest.mark.parametrize(
    ("body", "why"),
    [
        ('<circle r="-3" id="hole7"/>', "a circle in it with the id hole7 has an r of -3, which can't be negative."),
        ('<rect width="-3%" height="5"/>', "a rect in it has a width of -3%, which can't be negative."),
        ('<rect width="3" height="-5mm"/>', "a rect in it has a height of -5mm, which can't be negative."),
        ('<rect width="9" height="9" rx="-1"/>', "a rect in it has an rx of -1, which can't be negative."),
        ('<ellipse rx="3" ry="-2"/>', "an ellipse in it has an ry of -2, which can't be negative."),
        ('<circle style="r:-3px"/>', "a circle in it has an r of -3px, which can't be negative."),
        ('<svg width="-1" height="2"/>', "an svg in it has a width of -1, which can't be negative."),
        ('<svg viewBox="0 0 9 -1"/>', "the viewBox of an svg in it is 9 by -1, which can't be negative."),
        ('<symbol id="s" viewBox="0 0 -9 9"/><use href="#s"/>',
         "the viewBox of a symbol in it is -9 by 9, which can't be negative."),
        ('<svg viewBox="0 0 9"/>', "the viewBox of an svg in it has 3 numbers, which should be 4."),
    ],
)  # fmt: skip
def test_a_negative_size_is_refused_by_the_elements_name(body, why):
    assert refused(PLATE + body) == why


@pytest.mark.parametrize(
    ("head", "why"),
    [
        ('width="-100mm" viewBox="0 0 100 50"', "the width of its svg is -100mm; it must be more than 0."),
        ('width="100mm" height="0" viewBox="0 0 100 50"', "the height of its svg is 0; it must be more than 0."),
        ('width="-50%" viewBox="0 0 100 50"', "the width of its svg is -50%; it must be more than 0."),
        ('width="100mm" viewBox="0 0 0 50"', "the viewBox of its svg is 0 by 50; both must be more than 0."),
        ('width="100mm" viewBox="0 0 -9 50"', "the viewBox of an svg in it is -9 by 50, which can't be negative."),
    ],
)  # fmt: skip
def test_a_page_of_no_size_is_refused(head, why):
    assert refused(PLATE, head) == why


def test_what_has_no_size_is_counted():
    body = f'{PLATE}<circle r="0"/><rect width="0" height="3"/><svg width="0"><circle r="2"/></svg>'
    reading = read(body)
    assert reading.healed == ("passed over 3 entities that have no size",)
    assert areas(reading) == ([3600.0], [])


@pytest.mark.parametrize("kind", ["CIRCLE", "ARC"])
def test_a_negative_radius_of_a_dxf_is_refused_by_its_place(kind):
    entity = circle(3, 4, -5, "RIM").replace("CIRCLE", f"{kind}\n50\n0\n51\n90")
    with pytest.raises(Unreadable) as error:
        read_drawing(dxf(circle(0, 0, 50) + entity), "theirs.dxf")
    a = "a CIRCLE" if kind == "CIRCLE" else "an ARC"
    assert f"{a} on layer RIM at 3, 4 has a radius of -5, which can't be negative." in str(error.value)
