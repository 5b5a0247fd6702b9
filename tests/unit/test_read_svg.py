"""SVG by hand: sizes, shapes, paths, transforms, `use`; each against the closed form of what it draws."""

import itertools
import math

import pytest

from parts.errors import Refused, Unreadable
from parts.profile import Drill, Scribe
from parts.read import ReadDrawing, read_drawing
from tests.files.foreign import svg

FIT_MM = 0.02


def read(body: str, head: str = 'width="100mm" height="100mm" viewBox="0 0 100 100"', units=None) -> ReadDrawing:
    return read_drawing(svg(body, head), "theirs.svg", units)


def one(body: str):
    (loop,) = read(body).profile.outside
    return loop


# ------------------------------------------------------------------ size


@pytest.mark.parametrize(
    ("head", "unit_mm", "units"),
    [
        ('width="100mm" height="50mm" viewBox="0 0 100 50"', 1, "mm"),
        ('width="10cm" height="5cm" viewBox="0 0 50 25"', 2, "mm"),
        ('width="4in" height="2in" viewBox="0 0 4 2"', 25.4, "in"),
        ('width="4in" viewBox="0 0 384 192"', 25.4 / 96, "in"),
        ('width="72pt" height="72pt" viewBox="0 0 72 72"', 25.4 / 72, "in"),
        ('height="100mm" viewBox="0 0 100 50"', 2, "mm"),
        ('width="100mm" height="50mm"', 25.4 / 96, "mm"),
        ('width="100mm" height="100mm" viewBox="0 0 100 50"', 1, "mm"),
        ('width="100mm" height="100mm" viewBox="0 0 100 50" preserveAspectRatio="xMidYMid slice"', 2, "mm"),
    ],
    ids=["mm", "cm", "in", "in of pixels", "pt", "height only", "no viewBox", "fitted", "slice"],
)  # fmt: skip
def test_the_size_of_a_unit(head, unit_mm, units):
    """Without a viewBox a unit is a pixel, 96 to an inch (CSS Values 3, 6.2); else it follows from both."""
    reading = read('<circle cx="9" cy="9" r="3"/>', head)
    assert reading.units == units
    assert reading.profile.outside[0].circle.diameter == pytest.approx(6 * unit_mm, rel=1e-12)


def test_a_stretched_viewbox_makes_ellipses():
    reading = read('<circle cx="9" cy="9" r="3"/>', 'width="10mm" height="20mm" viewBox="0 0 10 10" '
                   'preserveAspectRatio="none"')  # fmt: skip
    (loop,) = reading.profile.outside
    assert loop.area == pytest.approx(math.pi * 3 * 6, abs=FIT_MM * loop.perimeter)
    assert loop.box == pytest.approx((0, 0, 6, 12), abs=FIT_MM)


@pytest.mark.parametrize(
    "head",
    ["", 'viewBox="0 0 100 50"', 'width="100%" height="100%"',
     'width="100%" height="80.5 %" viewBox="0 0 100 50"', 'width="auto" height="auto" viewBox="0 0 100 50"',
     'width="calc(100% - 2px)" height="100vh" viewBox="0 0 100 50"', 'width=" " height="auto"'],
)  # fmt: skip
def test_no_size_is_asked_for(head):
    with pytest.raises(Refused) as refused:
        read('<circle r="3"/>', head)
    (problem,) = refused.value.problems
    assert problem.parameter == "units"
    assert problem.message.endswith("choose mm or inches. It is 6 mm x 6 mm, or 6 in x 6 in.")
    assert read('<circle r="3"/>', head, "in").profile.outside[0].circle.diameter == pytest.approx(152.4)


# ------------------------------------------------------------------ shapes


@pytest.mark.parametrize(
    ("body", "area"),
    [
        ('<rect x="1" y="2" width="30" height="20"/>', 600),
        ('<rect width="30" height="20" rx="4"/>', 600 - (4 - math.pi) * 16),
        ('<rect width="30" height="20" ry="4"/>', 600 - (4 - math.pi) * 16),
        ('<rect width="30" height="20" rx="90"/>', math.pi * 15 * 10),
        ('<rect width="20" height="20" rx="90"/>', math.pi * 100),
        ('<circle cx="50" cy="50" r="7"/>', math.pi * 49),
        ('<ellipse cx="50" cy="50" rx="7" ry="3"/>', math.pi * 21),
        ('<polygon points="0,0 10,0 10,10"/>', 50),
        ('<polyline points="0 0 10 0 10 10 0 0"/>', 50),
        ('<line x2="9" y2="0"/><line x1="9" y1="0" x2="9" y2="8"/><line x1="9" y1="8" x2="0" y2="0"/>', 36),
        ('<rect width="10mm" height="96" rx="0"/>', 96 * 10 * 96 / 25.4),
    ],
    ids=["rect", "rx", "ry", "oval", "disc", "circle", "ellipse", "polygon", "polyline", "lines", "unit in a unit"],
)  # fmt: skip
def test_a_shape(body, area):
    loop = one(body)
    assert loop.area == pytest.approx(area, rel=1e-12, abs=0 if loop.area == area else FIT_MM * loop.perimeter)


def test_round_shapes_are_exact():
    assert one('<circle cx="50" cy="50" r="7"/>').circle.diameter == pytest.approx(14, rel=1e-14)
    assert len(one('<rect width="30" height="20" rx="4"/>').segments) == 8


SQUARE = "M 10 10 L 30 10 L 30 30 L 10 30 Z"


@pytest.mark.parametrize(
    ("path", "area"),
    [
        (SQUARE, 400),
        ("M10,10l20,0,0,20-20,0z", 400),
        ("M10 10H30V30H10Z", 400),
        ("m10 10h20v20h-20z", 400),
        ("M10 10 30 10 30 30 10 30z", 400),
        ("M.5.5 1.5.5 1.5 1.5.5 1.5z", 1),
        ("M1e1 10 3E1 10 30 3e+1 10 300e-1Z", 400),
        ("M0 10 A10 10 0 0 1 20 10 Z", math.pi * 50),
        ("M0 10 a10 10 0 01 20 0z", math.pi * 50),
        ("M0 10 A10 10 0 1 1 0 9.999999 Z", math.pi * 100),
        ("M0 10 A 3 3 0 0 1 20 10 Z", math.pi * 50),  # radius too small for its chord: SVG 1.1, F.6.6
        ("M20 0 A20 10 0 0 1 20 20 A20 10 0 0 1 20 0Z", math.pi * 200),
        ("M0 0 Q 10 20 20 0 Z", 400 / 3),  # a parabola's cap: two thirds of chord by height
        ("M0 0 Q 5 10 10 10 T 20 0 Z", 400 / 3),
        ("M0 0 C 0 20 30 20 30 0 Z", 360),  # 3/5 of the box of 30 by 20, by integrating y dx
        ("M0 0 C 0 10 5 15 10 15 S 20 10 20 0 Z", None),
    ],
    ids=["absolute", "relative", "H V", "h v", "implicit L", "run together", "exponents", "arc", "flags run together",
         "nearly whole", "radius too small", "ellipse", "Q", "T", "C", "S"],
)  # fmt: skip
def test_a_path(path, area):
    loop = one(f'<path d="{path}"/>')
    if area is None:
        area = sampled_area(lambda t: cubic((0, 0), (0, 10), (5, 15), (10, 15), t), 0) * 2
    assert loop.area == pytest.approx(area, rel=1e-9, abs=FIT_MM * loop.perimeter)
    if not set(path.upper()) & set("QTCS") and "20 10 0" not in path:
        assert loop.area == pytest.approx(area, rel=1e-6)


def cubic(a, b, c, d, t):
    s = 1 - t
    return tuple(
        s**3 * p + 3 * s * s * t * q + 3 * s * t * t * r + t**3 * u for p, q, r, u in zip(a, b, c, d, strict=True)
    )


def sampled_area(curve, base: float, count: int = 20000) -> float:
    """Area between a curve and a level, by trapezia."""
    points = [curve(i / count) for i in range(count + 1)]
    return abs(sum((q[0] - p[0]) * ((p[1] + q[1]) / 2 - base) for p, q in itertools.pairwise(points)))


def test_subpaths_are_loops_of_their_own_and_go_on_from_where_the_last_one_started():
    reading = read(f'<path fill-rule="evenodd" d="{SQUARE} m5 5 h5 v5 h-5 z l-10 0 0 -40 z M70 70 h9 v9 h-9z"/>')
    areas = sorted(loop.area for loop in reading.profile.outside)
    assert [round(o.loop.area, 9) for o in reading.profile.inside] == [25]
    assert areas[:1] == [81]


def test_four_curves_that_make_a_circle_are_one():
    """The usual four cubics: handles of 0.5523 r, off the circle by 0.027 % of r."""
    k = 10 * 0.5522847498
    path = (
        f"M20 10 C20 {10 + k} {10 + k} 20 10 20 C{10 - k} 20 0 {10 + k} 0 10 "
        f"C0 {10 - k} {10 - k} 0 10 0 C{10 + k} 0 20 {10 - k} 20 10Z"
    )
    reading = read(f'<path d="{path}"/>')
    assert reading.profile.outside[0].circle.diameter == pytest.approx(20, abs=1e-9)
    assert reading.healed == ("read 1 closed curve as a full circle",)


@pytest.mark.parametrize(
    "path", ["M0 0 L", "M0 0 L 1", "L 1 1", "M0 0 X 3", "M0 0 L1 1 2", "M0 0 A1 1 0 2 0 3 3", "M 1 e 3"]
)
def test_a_path_that_breaks_off_is_refused(path):
    """A browser would draw the start and leave the rest out; in steel the rest is missing."""
    with pytest.raises(Unreadable, match=r"^theirs\.svg can't be read: a path in it can't be followed from"):
        read(f'<circle r="9"/><path d="{path}"/>')


# ------------------------------------------------------------------ placing


@pytest.mark.parametrize(
    ("transform", "exact", "factor"),
    [
        ("translate(10 20)", True, 1), ("translate(-3)", True, 1), ("rotate(30)", True, 1), ("rotate(90,5,5)", True, 1),
        ("scale(2)", True, 4), ("scale(-1,1)", True, 1), ("scale(2 -2)", True, 4), ("scale(2,3)", False, 6),
        ("matrix(0 1 -1 0 5 5)", True, 1), ("matrix(.7071068 .7071068 -.7071068 .7071068 0 0)", True, 1),
        ("skewX(30)", False, 1), ("skewY(-20)", False, 1), ("translate(5,5) rotate(45), scale(.5)", True, 0.25),
    ],
    ids=str,
)  # fmt: skip
def test_a_transform(transform, exact, factor):
    """Rigid ones, and scaling alike both ways, keep arcs; areas grow by the determinant whatever it is."""
    slot = '<path d="M10 0 H50 A10 10 0 0 1 50 20 H10 A10 10 0 0 1 10 0Z"/><circle cx="30" cy="10" r="4"/>'
    reading = read(f'<g transform="{transform}">{slot}</g>')
    (loop,), (hole,) = reading.profile.outside, reading.profile.inside
    slack = 1e-4 if exact else FIT_MM * loop.perimeter
    assert loop.area == pytest.approx((800 + math.pi * 100) * factor, abs=slack)
    assert hole.loop.area == pytest.approx(math.pi * 16 * factor, abs=slack)
    assert (hole.loop.circle is not None) == exact


def test_transforms_of_nested_groups_multiply():
    """Against the product of the two as matrices: turn by 90, then shift."""
    reading = read('<rect x="-50" y="-50" width="100" height="100"/><g transform="translate(10 0)">'
                   '<g transform="rotate(90)"><circle cx="20" cy="0" r="1"/></g></g>')  # fmt: skip
    (hole,) = reading.profile.inside
    assert hole.loop.circle.centre == pytest.approx((60, 30), abs=1e-9)  # (10, 20) with y down, from -50, 50


def test_y_runs_down():
    reading = read('<rect width="100" height="60"/><circle cx="20" cy="10" r="3"/>')
    assert reading.profile.inside[0].loop.circle.centre == pytest.approx((20, 50), abs=1e-12)


def test_use_symbol_and_nested_svg_are_placed():
    body = (
        '<defs><circle id="hole" r="2"/>'
        '<symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></symbol></defs>'
        '<rect width="100" height="100"/><use xlink:href="#hole" x="20" y="30"/>'
        '<use href="#hole" transform="translate(60 30) scale(2)"/><use href="#s" x="70" y="70" width="20" height="20"/>'
        '<svg x="10" y="60" width="20" height="40" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></svg>'
    )
    found = {
        tuple(round(v, 9) for v in (*o.loop.circle.centre, o.loop.circle.diameter)) for o in read(body).profile.inside
    }
    assert found == {(20, 70, 4), (60, 70, 8), (80, 20, 20), (20, 20, 20)}


def test_what_is_not_shown_or_read_is_said():
    body = (
        '<rect width="90" height="90"/><g style="fill:none;display:none"><circle r="1"/></g>'
        '<circle r="2" visibility="hidden"/><text x="5" y="5">GATE</text><image href="http://x.invalid/a.png"/>'
        '<rect width="5em" height="1"/><use href="other.svg#a"/><clipPath><rect width="3" height="3"/></clipPath>'
    )
    reading = read(body)
    assert [round(loop.area) for loop in reading.profile.outside] == [8100]
    assert reading.profile.inside == ()
    assert reading.healed == ("passed over 2 entities that aren't shown",)
    assert [f.message for f in reading.findings] == [
        "1 text left as text: letters aren't outlines.",
        "1 picture left out: it has no lines to cut.",
        "1 shape sized in em left out: it isn't read.",
        "1 use of something that isn't in the file left out.",
    ]


def test_layers_by_id_and_label():
    body = (
        '<g id="OUTSIDE"><circle cx="50" cy="50" r="40"/></g><g id="INSIDE"><circle cx="50" cy="50" r="5"/></g>'
        '<g id="g12" xmlns:x="urn:x" x:label="Engrave"><path d="M30 50h5"/></g>'
        '<g id="DRILL"><path d="M49 30 h2 M50 29 v2"/></g><g id="text123"><circle cx="50" cy="80" r="2"/></g>'
    )
    reading = read(body)
    assert [type(m) for m in reading.profile.marks] == [Scribe, Drill]
    assert reading.profile.marks[1].at == pytest.approx((40, 60))
    assert len(reading.profile.outside) == 1
    assert len(reading.profile.inside) == 2  # an id with a number in it was made by a program, and says nothing
