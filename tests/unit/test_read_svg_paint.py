"""What is painted decides what is cut: small SVGs, a feature each, with the area of the metal worked out by hand.

Where the renderer knows the feature as well, the same drawing is painted by it, and counted in pixels.
"""

import math

import pytest

from parts.errors import Unreadable
from parts.read import read_drawing
from tests.depth import several
from tests.files.foreign import svg
from tests.files.painted import net_area, painted_share

FIT_MM = 0.02
PI = math.pi
# Of a disc of radius 30 the cap beyond 10 from its middle, r² acos(d/r) - d sqrt(r² - d²), and a band 10 wide.
CAP_30_10 = 900 * math.acos(1 / 3) - 10 * math.sqrt(800)
BAND_30_10 = PI * 900 - 2 * (900 * math.acos(1 / 6) - 5 * math.sqrt(875))
MITRE_90 = 3 * 3

FILLED = {
    "open": ('<path d="M10 10H50V50H10"/>', 1600),
    "open polyline": ('<polyline points="10 10 50 10 50 50"/>', 800),
    "open curve": ('<path d="M10 50C10 10 90 10 90 50"/>', 0.6 * 80 * 40),
    "two subpaths one way": ('<path d="M10 10H90V90H10ZM30 30H60V60H30Z"/>', 6400),
    "two subpaths both ways": ('<path d="M10 10H90V90H10ZM30 30V60H60V30Z"/>', 5500),
    "evenodd": ('<path fill-rule="evenodd" d="M10 10H90V90H10ZM30 30H60V60H30Z"/>', 5500),
    "evenodd by style": ('<path style="fill-rule: evenodd" d="M10 10H90V90H10ZM30 30H60V60H30Z"/>', 5500),
    "overlapping": ('<path d="M10 10H60V60H10ZM30 30H90V90H30Z"/>', 2500 + 3600 - 900),
    "overlapping evenodd": ('<path fill-rule="evenodd" d="M10 10H60V60H10ZM30 30H90V90H30Z"/>', 2500 + 3600 - 1800),
    "bow tie": ('<path d="M10 10L90 90V10L10 90Z"/>', 2 * 80 * 40 / 2),
    "drawn twice": ('<path d="M10 10H50V50H10ZM10 10H50V50H10Z"/>', 1600),
    "crossing circles": (
        '<path d="M10 50a20 20 0 0 0 40 0a20 20 0 0 0-40 0M30 50a20 20 0 0 0 40 0a20 20 0 0 0-40 0"/>',
        2 * PI * 400 - (2 * 400 * math.acos(0.5) - 10 * math.sqrt(1200)),
    ),
    "nothing filled": ('<rect width="9" height="9" fill="none"/><circle cx="50" cy="50" r="5"/>', PI * 25),
    "see-through colours": (
        '<g fill="#0000"><rect width="9" height="9"/></g><rect x="20" width="9" height="9" fill="rgba(0,0,0,0)"/>'
        '<rect x="40" width="9" height="9" fill="transparent"/><rect x="60" width="9" height="9" fill="#0008"/>', 81),
    "fill-opacity": ('<rect width="9" height="9" fill-opacity="0%"/><rect x="20" width="5" height="5"/>', 25),
    "opacity": (
        '<g opacity="0"><rect width="9" height="9"/></g><g opacity=".1"><rect x="20" width="5" height="5"/></g>',
                25),
    "visible in hidden": (
        '<g visibility="hidden"><rect width="9" height="9"/><rect x="20" width="5" height="5" '
        'visibility="visible"/></g>',
        25),
    "displayed in not displayed": (
        '<g display="none"><rect width="9" height="9" display="inline"/></g><rect x="20" width="5" height="5"/>', 25),
}  # fmt: skip

STYLED = {
    "class": ('<style>.a{fill:none}.b{fill:red}</style><rect class="x a" width="50" height="50"/>'
              '<rect class="b" width="10" height="10"/>', 100),
    "type": (
        "<style>rect{display:none}</style>" '<rect width="9" height="9"/><circle cx="50" cy="50" r="5"/>', PI * 25),
    "id over class over type": (
        "<style>#x{display:inline}.h{display:none}rect{display:none}</style>"
        '<rect id="x" class="h" width="10" height="10"/>', 100),
    "later over earlier": ('<style>.a{fill:none}.a{fill:red}</style><rect class="a" width="10" height="10"/>', 100),
    "style over rule": ('<style>.a{fill:none}</style><rect class="a" style="fill:red" width="10" height="10"/>', 100),
    "rule over attribute": (
        '<style>rect{fill:red}</style><rect fill="none" width="10" height="10"/>', 100),
    "important over style": (
        '<style>.a{fill:none!important}</style><rect class="a" style="fill:red" width="10" height="10"/>'
        '<circle cx="50" cy="50" r="5"/>', PI * 25),
    "child": ('<style>g>rect{display:none}</style><g><rect width="9" height="9"/></g><g><a><rect width="5" height="5"/>'
              "</a></g>", 25),
    "descendant": ('<style>.off rect{display:none}</style><g class="off"><a><rect width="9" height="9"/></a></g>'
                   '<rect x="20" width="5" height="5"/>', 25),
    "attribute": ('<style>[data-cut="no"]{display:none}</style><rect data-cut="no" width="9" height="9"/>'
                  '<rect x="20" width="5" height="5"/>', 25),
    "list and comment": ("<style>/* none */ .p, #q { display : none }</style>" '<rect class="p" width="9" height="9"/>'
                         '<rect id="q" width="9" height="9"/><rect x="20" width="5" height="5"/>', 25),
    "CDATA": ('<style type="text/css"><![CDATA[.s{display:none}]]></style><rect class="s" width="9" height="9"/>'
              '<rect x="20" width="5" height="5"/>', 25),
    "inherited": ('<g style="fill:none"><rect width="9" height="9"/><rect style="fill:red" width="5" height="5"/></g>',
                  25),
    "inherit said": ('<g display="inline" fill="none"><rect fill="inherit" width="9" height="9"/></g>'
                     '<rect width="5" height="5" fill="initial"/>', 25),
    "opacity isn't inherited twice": ('<g opacity="1"><rect width="5" height="5"/></g>', 25),
}  # fmt: skip

STROKED = {
    "line": ('<path d="M10 10H50" stroke="red" stroke-width="4" fill="none"/>', 160),
    "square ends": (
        '<line x1="10" y1="10" x2="50" y2="10" stroke="red" stroke-width="4" stroke-linecap="square"/>', 176),
    "round ends": ('<path d="M10 10H50" stroke="red" stroke-width="4" stroke-linecap="round"/>', 160 + PI * 4),
    "ring": ('<circle cx="50" cy="50" r="20" stroke="red" stroke-width="4" fill="none"/>', PI * (22**2 - 18**2)),
    "fill and stroke": ('<circle cx="50" cy="50" r="20" stroke="red" stroke-width="4"/>', PI * 22**2),
    "frame": ('<rect x="20" y="20" width="40" height="30" stroke="red" stroke-width="4" fill="none"/>',
              44 * 34 - 36 * 26),
    "frame with round joins": (
        '<rect x="20" y="20" width="40" height="30" stroke="red" stroke-width="4" fill="none" '
        'stroke-linejoin="round"/>',
        44 * 34 - 36 * 26 - (4 - PI) * 4),
    "frame with bevels": (
        '<rect x="20" y="20" width="40" height="30" stroke="red" stroke-width="4" fill="none" '
        'stroke-linejoin="bevel"/>',
        44 * 34 - 36 * 26 - 4 * 2),
    "corner": ('<path d="M10 10H50V50" stroke="red" stroke-width="6" fill="none"/>', 2 * 240 - 9 + MITRE_90),
    "mitre beyond its limit": (
        '<path d="M10 10H50V50" stroke="red" stroke-width="6" fill="none" stroke-miterlimit="1"/>',
                               2 * 240 - 9 + 4.5),
    "cross": ('<path d="M10 50H90M50 10V90" stroke="red" stroke-width="6" fill="none"/>', 2 * 480 - 36),
    "arc": ('<path d="M10 50A40 40 0 0 1 90 50" stroke="red" stroke-width="8" fill="none"/>', PI / 2 * (44**2 - 36**2)),
    "arc tighter than the pen": ('<path d="M48 50A2 2 0 0 1 52 50" stroke="red" stroke-width="12" fill="none"/>',
                                 PI / 2 * (8**2 + 4**2)),
    "dashes": ('<path d="M10 50H90" stroke="red" stroke-width="6" stroke-dasharray="7 3" fill="none"/>', 8 * 42),
    "dashes that start within": (
        '<path d="M10 50H90" stroke="red" stroke-width="6" stroke-dasharray="20" stroke-dashoffset="10" fill="none"/>',
        6 * (10 + 20 + 10)),
    "enlarged": ('<g transform="rotate(30) scale(2)"><path d="M20 0H40" stroke="red" stroke-width="3"/></g>', 40 * 6),
    "stretched": ('<path d="M5 10H20" transform="scale(4 2)" stroke="red" stroke-width="4"/>', 60 * 8),
    "stretched ring": (
        '<circle cx="10" cy="25" r="8" transform="scale(4 2)" stroke="red" stroke-width="4" fill="none"/>',
                       8 * PI * (10**2 - 6**2)),
    "inherited width": ('<g fill="none" stroke="red" stroke-width="8"><path d="M10 10H60"/><path d="M10 60H60" '
                        'stroke="none"/></g>', 400),
    "stroke-opacity": ('<g stroke-width="9" stroke="red"><path d="M0 50H50" stroke-opacity="0" fill="none"/>'
                       '<path d="M0 80H10"/></g>', 90),
}  # fmt: skip

CUT_OFF = {
    "disc by a square": (
        '<clipPath id="c"><rect width="50" height="100"/></clipPath><circle cx="50" cy="50" r="30" '
        'clip-path="url(#c)"/>',
        PI * 450),
    "square by a disc": (
        '<clipPath id="c"><circle cx="50" cy="50" r="30"/></clipPath><rect width="100" height="60" '
        "clip-path=\"url('#c')\"/>", PI * 900 - CAP_30_10),
    "by the box": (
        '<clipPath id="c" clipPathUnits="objectBoundingBox"><circle cx=".5" cy=".5" r=".5"/></clipPath>'
        '<rect x="10" y="20" width="40" height="40" clip-path="url(#c)"/>', PI * 400),
    "a group": ('<clipPath id="c"><rect width="30" height="30"/></clipPath><g clip-path="url(#c)"><rect width="20" '
                'height="90"/><rect x="25" width="20" height="90"/></g>', 600 + 150),
    "placed with the group": (
        '<clipPath id="c"><rect width="30" height="30"/></clipPath><g transform="translate(40 40) rotate(45)" '
        'clip-path="url(#c)"><rect x="-50" y="-50" width="100" height="100"/></g>', 900),
    "clip in clip": (
        '<clipPath id="d"><rect width="50" height="100"/></clipPath><clipPath id="c" clip-path="url(#d)">'
        '<circle cx="50" cy="50" r="30"/></clipPath><rect width="100" height="100" clip-path="url(#c)"/>', PI * 450),
    "clip-rule": (
        '<clipPath id="c"><path clip-rule="evenodd" d="M0 0H80V80H0ZM20 20H60V60H20Z"/></clipPath>'
        '<rect width="90" height="40" clip-path="url(#c)"/>', 80 * 40 - 40 * 20),
    "use in clip": (
        '<defs><rect id="r" width="10" height="10"/></defs><clipPath id="c"><use href="#r" x="5"/></clipPath>'
                    '<rect width="90" height="40" clip-path="url(#c)"/>', 100),
    "all of it": ('<clipPath id="c"><rect width="9" height="9"/></clipPath><rect x="50" width="9" height="9" '
                  'clip-path="url(#c)"/><rect x="70" width="5" height="5"/>', 25),
    "a stroke": ('<clipPath id="c"><circle cx="50" cy="50" r="30"/></clipPath>'
                 '<path d="M0 50H100" stroke="red" stroke-width="10" clip-path="url(#c)"/>', BAND_30_10),
    "mask": ('<mask id="m"><rect width="100" height="100" fill="white"/><circle cx="50" cy="50" r="20"/></mask>'
             '<rect x="10" y="10" width="80" height="80" mask="url(#m)"/>', 6400 - PI * 400),
    "mask by alpha": ('<mask id="m" style="mask-type:alpha"><circle cx="50" cy="50" r="20"/></mask>'
                      '<rect x="10" y="10" width="80" height="80" mask="url(#m)"/>', PI * 400),
    "mask by the box": (
        '<mask id="m" maskContentUnits="objectBoundingBox"><rect width=".5" height="1" fill="#fff"/></mask>'
        '<rect x="10" y="10" width="80" height="60" mask="url(#m)"/>', 2400),
    "mask within its rectangle": (
        '<mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="30" height="30"><rect width="99" height="99" '
        'fill="white"/></mask><rect x="10" y="10" width="80" height="60" mask="url(#m)"/>', 400),
    "mask with a stroke": (
        '<mask id="m"><rect width="100" height="100" fill="white"/><path d="M0 50H100" stroke="#000" '
        'stroke-width="10"/>'
        '</mask><circle cx="50" cy="50" r="30" mask="url(#m)"/>', PI * 900 - BAND_30_10),
}  # fmt: skip

PLACED = {
    "use": ('<defs><rect id="r" width="20" height="10"/></defs><use href="#r" fill="none"/>'
            '<use xlink:href="#r" x="30" y="40"/>', 200),
    "symbol's window": (
        '<symbol id="s" viewBox="0 0 10 10"><rect x="5" y="5" width="10" height="10"/></symbol>'
        '<use href="#s" x="10" y="10" width="40" height="40"/>', 400),
    "nested": ('<svg x="10" y="10" width="40" height="20" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></svg>',
               PI * 100),
    "nested, sliced": (
        '<svg x="10" y="10" width="40" height="20" viewBox="0 0 10 10" preserveAspectRatio="xMinYMin slice">'
        '<circle cx="5" cy="5" r="5"/></svg>', PI * 200),
    "nested, stretched": (
        '<svg width="40" height="20" viewBox="0 0 10 10" preserveAspectRatio="none"><circle cx="5" cy="5" '
        'r="5"/></svg>',
        PI * 20 * 10),
    "nested, not cut off": (
        '<svg x="10" y="10" width="40" height="20" overflow="visible" viewBox="0 0 10 10"><circle cx="5" cy="5" r="7"/>'
        "</svg>", PI * 14**2),
    "nested without a size": ('<svg viewBox="0 0 10 10"><rect x="2" y="2" width="5" height="5"/></svg>', 2500),
    "origin": (
        '<clipPath id="c"><rect width="50" height="100"/></clipPath><g clip-path="url(#c)"><rect '
        'transform="rotate(45)" '
        'transform-origin="50 50" x="30" y="30" width="40" height="40"/></g>', 800),
    "text and pictures": ('<text>a</text><image href="a.png" width="9" height="9"/><rect width="5" height="5"/>', 25),
}  # fmt: skip

BY_HAND_ALONE = {  # what the renderer hasn't
    "media": ("<style>@media print{rect{display:none}}@media screen{.s{display:none}}</style>"
              '<rect width="9" height="9"/><rect class="s" x="20" width="5" height="5"/>', 81),
    "size by style": ('<style>.r{r:5px}</style><circle class="r" cx="50" cy="50" r="40"/>', PI * 25),
    "transform by style": (
        '<rect style="transform:translate(30px,20px) rotate(30deg) scale(2)" width="20" height="10"/>',
                           800),
    "quarters of a turn by style": (
        '<clipPath id="c"><rect width="50" height="100"/></clipPath><g clip-path="url(#c)"><rect '
        'style="transform:rotate(0.125turn);transform-origin:center;transform-box:fill-box" x="30" y="30" width="40" '
        'height="40"/></g>', 800),
    "origin in percent of the window": (
        '<clipPath id="c"><rect width="50" height="100"/></clipPath><g clip-path="url(#c)"><rect '
        'style="transform:rotate(50grad);transform-origin:50% 50%" x="30" y="30" width="40" height="40"/></g>', 800),
    "switch": ('<switch><rect systemLanguage="de" width="10" height="10"/><rect systemLanguage="en-GB" width="20" '
               'height="20"/><rect width="30" height="30"/></switch>', 400),
    "switch for others": ('<switch><foreignObject requiredExtensions="urn:x" width="9" height="9"/><g><rect width="5" '
                          'height="5"/></g></switch>', 25),
    "round join and square ends": (
        '<path d="M10 50L50 10L90 50" stroke="red" stroke-width="6" fill="none" stroke-linejoin="round" '
        'stroke-linecap="square"/>', 2 * 40 * math.sqrt(2) * 6 + 36 - 9 + PI * 9 / 4),
}  # fmt: skip

BOTH = {**FILLED, **STYLED, **STROKED, **CUT_OFF, **PLACED}
RENDERED = [*BOTH][:: several(3, 1)]


def read(body: str, **asked):
    return read_drawing(svg(body), "theirs.svg", **asked)


@pytest.mark.parametrize(("body", "area"), [*BOTH.values(), *BY_HAND_ALONE.values()], ids=[*BOTH, *BY_HAND_ALONE])
def test_the_area_by_hand(body, area):
    """Lines and arcs to a millionth; curves to what they are fitted within."""
    profile = read(body).profile
    around = sum(loop.perimeter for loop in profile.boundary)
    curved = "C" in body or "preserveAspectRatio" in body or "scale(4 2)" in body
    assert net_area(profile) == pytest.approx(area, rel=1e-6, abs=FIT_MM * around if curved else 0)


@pytest.mark.parametrize(("body", "area"), [BOTH[name] for name in RENDERED], ids=RENDERED)
def test_the_renderer_paints_that_area_too(body, area):
    """Half-transparent fills count by their share, so such drawings are made opaque; edges count by their cover."""
    opaque = body.replace("#0008", "#000").replace('opacity=".1"', 'opacity="1"')
    shown = svg(opaque, 'width="100" height="100" viewBox="0 0 100 100"').decode()
    assert painted_share(shown, 500) * 1e4 == pytest.approx(area, rel=0.006, abs=0.5)


def test_circles_and_arcs_stay_what_they_are():
    """A disc cut off by a line is an arc and a line; a stroked circle is two circles."""
    (cut_off,) = read(CUT_OFF["disc by a square"][0]).profile.outside
    assert sorted(type(segment).__name__ for segment in cut_off.segments) == ["Arc", "Line"]
    ring = read(STROKED["ring"][0]).profile
    assert ring.outside[0].circle.diameter == pytest.approx(44, rel=1e-9)
    assert ring.inside[0].loop.circle.diameter == pytest.approx(36, rel=1e-9)


@pytest.mark.parametrize(
    ("body", "healed"),
    [
        (FILLED["open"][0], "closed 1 outline left open, since what is filled is closed"),
        (FILLED["bow tie"][0], "took the edge of what is painted of 1 shape crossing itself: curves within 0.02 mm, "
                               "meeting points by chords within 0.002 mm"),
        (STROKED["ring"][0], "took the outline of 1 stroke up to 4 mm wide: curves within 0.02 mm, meeting points by "
                             "chords within 0.002 mm"),
        (CUT_OFF["disc by a square"][0], "cut off 1 shape as clip paths, masks and windows show it: curves within "
                                         "0.02 mm, meeting points by chords within 0.002 mm"),
        ('<circle cx="9" cy="9" r="5" fill="none" stroke="red" stroke-width=".2"/>',
         "took the middle of 1 stroke up to 0.2 mm wide"),
        (FILLED["nothing filled"][0], "passed over 1 entity that is neither filled nor stroked"),
        (CUT_OFF["all of it"][0], "passed over 1 entity of which nothing shows"),
    ],
)  # fmt: skip
def test_what_was_decided_is_said(body, healed):
    assert healed in read(body).healed


@pytest.mark.parametrize(
    ("body", "message"),
    [
        ('<rect width="9" height="9"/><text x="5" y="5">GATE</text><text>2</text>',
         "2 texts left as text: letters aren't outlines."),
        ('<rect width="9" height="9"/><foreignObject width="9" height="9"/>',
         "1 picture left out: it has no lines to cut."),
        ('<defs><pattern id="p" width="2" height="2"/></defs><rect width="9" height="9" fill="url(#p)"/>',
         "1 pattern taken as a plain fill."),
        ('<marker id="m"/><path d="M0 0H9V9" marker-end="url(#m)"/>',
         "1 marker left out: of an arrowed line only the line is cut."),
        ('<rect width="9" height="9" fill="none" stroke="red" stroke-width=".1" stroke-dasharray="1"/>',
         "1 dashed line cut without its gaps."),
        ('<rect width="9" height="9" clip-path="circle(3px)"/>',
         "1 clip drawn by style not followed: more may be cut than shows."),
        ('<rect width="9" height="9" clip-path="url(#gone)"/>',
         "1 clip that isn't in the file not followed: more may be cut than shows."),
        ('<rect width="9" height="9" filter="url(#f)"/>',
         "1 filter not followed: what it blurs or moves is cut as it was drawn."),
        ('<style>@import url("a.css");</style><rect width="9" height="9"/>',
         "1 style sheet outside the file not followed: what it hides is read, and what it shows may be missing."),
        ('<style>rect:nth-child(2n){display:none}</style><rect width="9" height="9"/>',
         "1 style rule not followed, which picks what it is about in a way that isn't read."),
        ('<path d="M10 10H90V90H10ZM30 30H60V60H30Z"/>',
         "1 outline filled over left out: it lies in what the same path fills, so it doesn't show."),
    ],
)  # fmt: skip
def test_what_is_not_followed_is_named_and_counted(body, message):
    assert message in [finding.message for finding in read(body).findings]


RING = '<circle cx="50" cy="50" r="20" fill="none" stroke="red" stroke-width="{}"/>'


@pytest.mark.parametrize(
    ("width", "strokes", "area"),
    [
        (0.99, "auto", PI * 400), (1.0, "auto", PI * 400), (1.01, "auto", PI * 40 * 1.01), (4, "middle", PI * 400),
        (0.2, "outline", PI * 40 * 0.2), (0.2, "middle", PI * 400),
    ],
)  # fmt: skip
def test_the_middle_or_the_outline_of_a_stroke(width, strokes, area):
    """By its width a pen of up to 1 mm draws its middle; or as asked."""
    assert net_area(read(RING.format(width), strokes=strokes).profile) == pytest.approx(area, rel=1e-9)


@pytest.mark.parametrize(
    ("head", "asked", "unit_mm", "warned"),
    [
        ('width="100" height="50"', {}, 25.4 / 96, True),
        ('width="100px" viewBox="0 0 50 25"', {}, 2 * 25.4 / 96, True),
        ('width="100" height="50"', {"dpi": 72.0}, 25.4 / 72, False),
        ('width="100" height="50"', {"units": "mm"}, 1, False),
        ('viewBox="0 0 50 25"', {"dpi": 90.0}, 25.4 / 90, False),
        ('width="100mm" viewBox="0 0 50 25"', {"dpi": 90.0}, 2, False),
        ('width="100mm"', {"dpi": 72.0}, 25.4 / 72, False),
    ],
)
def test_pixels_to_the_inch(head, asked, unit_mm, warned):
    reading = read_drawing(svg('<circle cx="9" cy="9" r="3"/>', head), "a.svg", **asked)
    assert reading.profile.outside[0].circle.diameter == pytest.approx(6 * unit_mm, rel=1e-12)
    assert any(f.message.startswith("The file gives its size in pixels") for f in reading.findings) is warned


def declared(entities: str, body: str) -> bytes:
    return f"<!DOCTYPE svg [{entities}]>".encode() + svg(body)


def test_plain_entities_are_read():
    """As drawing programs write them, for long names and for styles."""
    data = declared('<!ENTITY st0 "fill:none"><!ENTITY ns "urn:x">',
                    '<g xmlns:x="&ns;"><rect style="&st0;" width="9" height="9"/></g><rect width="5" '
                    'height="5"/>')  # fmt: skip
    assert net_area(read_drawing(data, "a.svg").profile) == pytest.approx(25)


@pytest.mark.parametrize(
    "data",
    [
        declared('<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;">', "<g>&b;</g>"),
        declared('<!ENTITY a SYSTEM "a.txt">', "<g>&a;</g>"),
        declared('<!ENTITY % a "x">', "<g/>"),
        declared('<!ENTITY a "&#60;rect/>">', "<g>&a;</g>"),
        declared(f'<!ENTITY a "{"x" * 1999}">', f"<g>{'&a;' * 3000}</g>"),
        declared("".join(f'<!ENTITY a{i} "x">' for i in range(300)), "<g/>"),
    ],
    ids=["of entities", "outside", "parameter", "markup", "too much", "too many"],
)
def test_other_entities_are_refused(data):
    with pytest.raises(Unreadable, match="it declares XML entities"):
        read_drawing(data, "a.svg")
