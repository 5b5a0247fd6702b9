"""The drawing: every dimension said once and legibly, every finding flagged, the part true to scale."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth
from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

import parts
from parts.cutting.measures import measure
from parts.drawing import STANDARD_SCALES, lay_out, lay_out_to_standard
from parts.drawing.dimensions import said
from parts.drawing.flags import MOST_ALIKE
from parts.drawing.primitives import Arrow, Dot, Drawing, NumberedMark, Path, Text
from parts.drawing.room import without
from parts.finding import Finding
from parts.geometry.draft import bolt_circle, circle, circles, grid, polygon, rectangle, row
from parts.geometry.intersect import meeting_points
from parts.geometry.segment import Arc, Line, distance
from parts.profile import Bend, Dimension, Drill, Opening, Profile, openings
from parts.record import Record
from tests import library
from tests.depth import DEEP, some_of, tried
from tests.library import HEIGHT, SLUGS, WIDTH
from tests.strategies import parts_of

WIDER = 1.05
"""Lettering is taken this much wider than Helvetica's published metrics, a page's own font being unknown."""
SHARE_AT_MOST = 0.035
SIZES = [(180.0, 150.0), (100.0, 230.0), (120.0, 120.0)]
"""Of sheets: each template is laid out on one of them, on all in a deep run."""


def record_of(profile: Profile, *findings: Finding) -> Record:
    """A record of a profile made by hand."""
    base = parts.draw("gusset-triangle").record
    seated = profile.seated()
    return replace(base, profile=seated, findings=findings, measures=measure(seated, base.job))


def finding(number: int, at: tuple[float, float]) -> Finding:
    severity = ("stop", "warn", "note")[number % 3]
    return Finding("bridge-width", severity, at, 1.0, 2.0, f"Message {number}.", "Move it.")


FLANGE = Profile(
    (circle((0, 0), 200),),
    (Opening(circle((0, 0), 90), "bore"), *openings(circles(bolt_circle((0, 0), 150, 8), 18), "hole", "hole")),
    (),
    (Dimension("leg_b", (0, 0), (45, 0), "diameter"), Dimension("pitch", (0, 0), (75, 0), "diameter")),
)
HEXAGON = Profile(
    (polygon([(50 * math.cos(k * math.pi / 3), 50 * math.sin(k * math.pi / 3)) for k in range(6)]),),
    (Opening(circle((0, 0), 30), "hole", "hole"),),
    (Bend(Line((-45, 10), (45, 10))),),
    (
        Dimension("leg_a", (50, 0), (25, 25 * math.sqrt(3)), "along"),
        Dimension("leg_b", (-25, 25 * math.sqrt(3)), (-50, 0), "along"),
        Dimension("pitch", (-25, -25 * math.sqrt(3)), (25, 25 * math.sqrt(3)), "along"),
    ),
)
STRIP = Profile(
    (rectangle((0, 0), 2000, 40),),
    openings(circles(row((30, 20), (1970, 20), 12), 9), "hole", "hole"),
    (Drill((300, 20), 6.5),),
    (
        Dimension("leg_a", (0, 0), (2000, 0), "below"),
        Dimension("leg_b", (0, 0), (0, 40), "left"),
        Dimension("toe", (0, 20), (30, 20), "below"),
        Dimension("pitch", (30, 20), (30 + 1940 / 11, 20), "below"),
        Dimension("snipe", (1970, 20), (2000, 20), "below"),
    ),
)
CROWDED = {
    "strip": record_of(STRIP, *(finding(i, (30 + 60 * i, 20)) for i in range(20))),
    "flange": record_of(FLANGE),
    "hexagon": record_of(HEXAGON),
    "10 mm": record_of(Profile((rectangle((0, 0), 10, 10, 1),), (Opening(circle((5, 5), 3)),))),
    "3 m": record_of(
        Profile(
            (rectangle((0, 0), 3000, 1500),),
            openings(circles(grid((99, 99), (200, 200), 15, 7), 12), "hole", "h"),
        ),
        *(finding(i, (99 + 200 * (i % 15), 99 + 200 * (i // 15))) for i in range(105)),
    ),
    "50 at one place": record_of(STRIP, *(finding(i, (1000, 20)) for i in range(50))),
    "50 at one place of a square": record_of(
        Profile((rectangle((0, 0), 100, 100),)), *(finding(i, (40, 40)) for i in range(50))
    ),
}  # fmt: skip


@pytest.fixture(params=[*some_of(40, SLUGS), *CROWDED])
def drawn(request) -> tuple[Record, Drawing]:
    """A record and its drawing."""
    if request.param in CROWDED:
        return CROWDED[request.param], crowded(request.param)
    return library.part(request.param).record, library.layout(request.param)


@cache
def crowded(name: str) -> Drawing:
    return lay_out(CROWDED[name], WIDTH, HEIGHT)


def boxes(drawing: Drawing) -> list[tuple[str, Polygon]]:
    """The room that each text takes, by widths of the font and not by the layout's own reckoning."""
    return [(text.text, _box(text)) for text in drawing.texts]


def _box(text: Text) -> Polygon:
    width = WIDER * stringWidth(text.text, "Helvetica", text.size)
    start = -width * {"start": 0, "middle": 0.5, "end": 1}[text.anchor]
    (x, y), c, s = text.at, math.cos(text.angle), math.sin(text.angle)
    high = 0.72 * text.size  # height of a capital
    corners = ((start, 0), (start + width, 0), (start + width, high), (start, high))
    return Polygon([(x + c * u - s * v, y + s * u + c * v) for u, v in corners])


def assert_legible(drawing: Drawing) -> None:
    texts, rooms = zip(*boxes(drawing), strict=True)
    for i, j in meeting(rooms, rooms):
        assert i >= j or rooms[i].intersection(rooms[j]).area < 1e-9, f"{texts[i]!r} and {texts[j]!r} overlap"


def meeting(those: Sequence[BaseGeometry], others: Sequence[BaseGeometry]) -> list[list[int]]:
    """Places of pairs that touch or overlap, one of those and one of the others: of many, few."""
    return STRtree(others).query(those, predicate="intersects").T.tolist() if those else []


def assert_on_paper(drawing: Drawing) -> None:
    x0, y0, x1, y1 = drawing.box
    assert x0 >= 0
    assert y0 >= 0
    assert x1 <= drawing.width
    assert y1 <= drawing.height


def assert_flags_apart(drawing: Drawing) -> None:
    marks = [Polygon(mark.outline) for group in drawing.of("finding") for mark in group.marks]
    texts, rooms = zip(*boxes(drawing), strict=True)
    for i, j in meeting(marks, marks):
        assert i >= j or marks[i].intersection(marks[j]).area < 1e-9
    for i, j in meeting(marks, rooms):
        assert marks[i].intersection(rooms[j]).area < 1e-9, f"a flag covers {texts[j]!r}"


def assert_all_said(record: Record, drawing: Drawing) -> None:
    """Every dimension is in a group named for its parameter, with its letter and its value."""
    for dimension in record.profile.dimensions:
        if dimension.measured <= 1e-9:
            continue
        expected = said(record, dimension, True)
        found = [t.text for g in drawing.of("dimension") if g.key == dimension.parameter for t in g.texts]
        assert expected in found


def test_a_drawing_is_legible_and_to_scale(drawn):
    record, drawing = drawn
    assert_true_to_scale(record, drawing)
    assert_arrowheads_apart(record, drawing)
    assert_legible(drawing)
    assert_on_paper(drawing)
    assert_flags_apart(drawing)
    assert_all_said(record, drawing)
    assert 0.01 * WIDTH < drawing.text_size <= SHARE_AT_MOST * WIDTH
    assert all(text.size == drawing.text_size for text in drawing.texts)


@pytest.mark.parametrize("slug", some_of(8, SLUGS, 2))
@given(data=st.data())
@tried(6, everyday=1)
def test_any_part_is_legible(slug, data):
    record = data.draw(parts_of(parts.templates()[slug], common=True, changed=True)).record
    drawing = lay_out(record, WIDTH, HEIGHT)
    assert_legible(drawing)
    assert_on_paper(drawing)
    assert_flags_apart(drawing)
    assert_all_said(record, drawing)
    assert_true_to_scale(record, drawing)
    flagged = [str(row.number) for row in record.rows for _ in row.findings[:MOST_ALIKE]]
    assert [g.key for g in drawing.of("finding")] == flagged


def assert_true_to_scale(record: Record, drawing: Drawing) -> None:
    """Every segment of the part is on the paper at the stated scale, arcs with the same bulge."""
    loops = (*record.profile.outside, *(opening.loop for opening in record.profile.inside))
    (part,) = drawing.of("part")
    for loop, path in zip(loops, part.items, strict=True):
        for true, drawn in zip(loop.segments, path.segments, strict=True):
            assert drawn.length == pytest.approx(true.length * drawing.scale, rel=1e-9, abs=1e-9)
            for p, q in ((true.start, drawn.start), (true.end, drawn.end)):
                assert q[0] == pytest.approx(drawing.origin[0] + p[0] * drawing.scale, abs=1e-9)
                assert q[1] == pytest.approx(drawing.origin[1] + p[1] * drawing.scale, abs=1e-9)
            if isinstance(true, Arc):
                assert drawn.bulge == true.bulge


def assert_arrowheads_apart(record: Record, drawing: Drawing) -> None:
    """The distance between the two arrowheads, divided by the scale, is the length measured on the part."""
    straight = [d for d in record.profile.dimensions if d.style not in ("radius", "diameter") and d.measured > 1e-9]
    for dimension in straight:
        spans = []
        for group in drawing.of("dimension"):
            tips = [item.tip for item in group.items if isinstance(item, Arrow)]
            if group.key == dimension.parameter and len(tips) == 2:
                spans.append(distance(*tips) / drawing.scale)
        assert any(span == pytest.approx(dimension.measured, rel=1e-9, abs=1e-9) for span in spans)


@pytest.mark.parametrize(("units", "expected"), [("mm", "A 101.6"), ("in", 'A 4"')])
def test_values_are_in_the_working_units(units, expected):
    """4 in are 101.6 mm exactly (international agreement of 1959)."""
    drawing = lay_out(parts.draw("gusset-triangle", leg_a="4 in", units=units).record, WIDTH, HEIGHT)
    assert expected in [text.text for text in drawing.texts]


def test_letters_can_be_left_out():
    drawing = lay_out(parts.draw("gusset-triangle").record, WIDTH, HEIGHT, letters=False)
    assert sorted(text.text for text in drawing.texts) == ["100", "100", "12", "15", "R3"]


def test_size_over_all_is_always_given():
    drawing = lay_out(record_of(Profile((rectangle((0, 0), 120, 70),))), WIDTH, HEIGHT)
    assert [(g.key, [t.text for t in g.texts]) for g in drawing.of("dimension")] == [("", ["120"]), ("", ["70"])]


def test_size_over_all_is_not_said_twice():
    drawing = lay_out(parts.draw("gusset-triangle").record, WIDTH, HEIGHT)
    assert [t.text for t in drawing.texts if t.text.endswith("100")] == ["A 100", "B 100"]


def test_the_size_over_all_that_bending_changes_is_called_flat():
    texts = [text.text for text in library.layout("bracket-bent-u").texts]
    part = library.part("bracket-bent-u")
    assert [text for text in texts if " flat" in text] == [f"{part.record.number(part.measures.width_mm)} flat"]
    own = record_of(Profile((rectangle((0, 0), 120, 70),), (), (Bend(Line((0, 20), (120, 20))),)))
    assert sorted(text.text for text in lay_out(own, WIDTH, HEIGHT).texts) == ["120", "70 flat"]


def test_holes_without_a_dimension_are_called_out_once_a_size():
    drawing = crowded("strip")
    texts = [text.text for text in drawing.texts]
    assert "12 \u00d7 Ø9" in texts
    assert "Ø6.5 drill" in texts


def test_a_diameter_given_is_not_called_out_again():
    texts = [text.text for text in crowded("flange").texts]
    assert sorted(texts) == ["8 \u00d7 Ø18", "B Ø90", "H Ø150", "Ø200"]  # of a disc the diameter, once


def test_a_diameter_counts_the_holes_it_is_for():
    holes = openings(circles([(20, 20), (60, 20), (100, 20)], 9), "hole", "hole")
    other = openings(circles([(20, 50)], 9), "drain", "toe")
    given = Dimension("hole", (20, 20), (24.5, 20), "diameter")
    record = record_of(Profile((rectangle((0, 0), 120, 70),), (*holes, *other), (), (given,)))
    texts = [text.text for text in lay_out(record, WIDTH, HEIGHT).texts]
    assert sorted(texts) == ["120", "70", "F 3 \u00d7 Ø9", "Ø9"]


def test_a_hole_to_drill_is_said_to_be_drilled_where_its_diameter_is_given():
    pin = Drill((60, 30), 12, "pin hole", "hole")
    given = Dimension("hole", (60, 30), (66, 30), "diameter")
    record = record_of(Profile((rectangle((0, 0), 120, 70),), (), (pin,), (given,)))
    texts = [text.text for text in lay_out(record, WIDTH, HEIGHT).texts]
    assert sorted(texts) == ["120", "70", "F Ø12 drill"]


def test_a_bolt_circle_is_drawn_as_a_centre_line():
    drawing = crowded("flange")
    paths = [i for g in drawing.of("dimension") for i in g.items if isinstance(i, Path)]
    arcs = [(path.pen, s) for path in paths for s in path.segments if isinstance(s, Arc)]
    assert {pen for pen, _ in arcs} == {"centre"}
    assert [s.radius / drawing.scale for _, s in arcs] == [pytest.approx(75, rel=1e-9)] * len(arcs)
    assert sum(s.length for _, s in arcs) > 0.8 * 2 * math.pi * 75 * drawing.scale  # broken at lettering only


@pytest.mark.parametrize("slug", some_of(16, SLUGS, 2))
def test_nothing_on_a_templates_drawing_is_in_the_way(slug):
    """As the templates come, every one has free paper for all of it, on the page and on a sheet."""
    record, drawing = library.part(slug).record, library.layout(slug)
    assert_lettering_is_small_with_reason(drawing)
    assert_lettering_is_free(drawing)
    assert_lettering_is_free(library.sheet_layout(slug))
    assert_circles_are_broken_at_lettering(drawing)
    assert_no_flag_points_at_lettering(drawing)
    assert_arrows_are_on_their_circles(record, drawing)


def test_no_thin_line_runs_through_lettering_that_is_scribed():
    """The lines of a text's height, on their way out, meet the number beside it; and some stand over others."""
    for slug in ("gauge-protractor", "gauge-kerf-comb", "gauge-hole-ladder"):
        drawing, part = library.sheet_layout(slug), library.part(slug)
        (marks,) = drawing.of("marks")
        strokes = [path for path, mark in zip(marks.items, part.profile.marks, strict=True) if mark.lettering]
        assert len(strokes) > 20
        thin = [i for g in drawing.of("dimension") for i in g.items if isinstance(i, Path)]
        for one, other in itertools.product(thin, strokes):
            met = [p for a in one.segments for b in other.segments for p in meeting_points(a, b)]
            assert not met, f"a line runs through lettering of {slug} at {met}"


def assert_lettering_is_small_with_reason(drawing: Drawing) -> None:
    """Only where it would leave the part small."""
    if drawing.text_size < 0.032 * WIDTH:
        assert len(drawing.texts) > 12
        assert drawing.text_size >= 0.02 * WIDTH


def assert_lettering_is_free(drawing: Drawing) -> None:
    """It stands on nothing that is cut."""
    (part,) = drawing.of("part")
    dense = [LineString([s.at(k / 60) for k in range(61)]) for path in part.items for s in path.segments]
    texts, rooms = zip(*boxes(drawing), strict=True)
    assert [texts[i] for i, _ in meeting(rooms, dense)] == [], "on an outline"


def assert_circles_are_broken_at_lettering(drawing: Drawing) -> None:
    """Those that aren't cut, as straight thin lines are."""
    thin = [i for g in drawing.of("dimension") for i in g.items if isinstance(i, Path)]
    arcs = [s for path in thin for s in path.segments if isinstance(s, Arc)]
    points = [Point(arc.at(k / 400)) for arc in arcs for k in range(401)]
    texts, rooms = zip(*boxes(drawing), strict=True)
    assert [texts[i] for i, _ in STRtree(points).query(rooms, predicate="contains").T] == []


@pytest.mark.parametrize(
    ("slug", "said"), [("plate-base", "C R8"), ("square-frame", "D R5"), ("square-frame", "F 4 \u00d7 Ø10")]
)
def test_lettering_stands_beside_the_part_where_a_sheet_has_free_paper(slug, said):
    record, drawing = library.part(slug).record, library.sheet_layout(slug)
    ((x, y),) = [text.at for text in drawing.texts if text.text == said]
    x0, y0, x1, y1 = ((v * drawing.scale) for v in record.profile.box)
    x, y = x - drawing.origin[0], y - drawing.origin[1]
    assert not (x0 <= x <= x1 and y0 <= y <= y1)


@pytest.mark.parametrize("slug", ["box-closed", "box-tray"])
def test_the_lip_of_a_box_is_shown_where_no_panel_is_in_the_way(slug):
    drawing = library.layout(slug)
    (part,), (lip,) = drawing.of("part"), (g for g in drawing.of("dimension") if g.key == "lip")
    outline = [s for path in part.items for s in path.segments]
    thin = [s for item in lip.items if isinstance(item, Path) for s in item.segments]
    assert [at for line in thin for segment in outline for at in meeting_points(line, segment)] == []


def assert_no_flag_points_at_lettering(drawing: Drawing) -> None:
    for dot in (item for group in drawing.of("finding") for item in group.items if isinstance(item, Dot)):
        assert [text for text, box in boxes(drawing) if box.contains(Point(dot.at))] == []


def assert_arrows_are_on_their_circles(record: Record, drawing: Drawing) -> None:
    """On an arc that is cut, scribed or drawn for it: over the tips of a gear there are only arcs of the circle."""
    lines = [s for g in drawing.groups for i in g.items if isinstance(i, Path) for s in i.segments]
    arcs = [s for s in lines if isinstance(s, Arc)]
    round_ones = [d for d in record.profile.dimensions if d.style in ("radius", "diameter") and d.measured > 1e-9]
    drilled = {mark.parameter for mark in record.profile.marks if isinstance(mark, Drill)}
    for dimension in (d for d in round_ones if d.parameter not in drilled):
        for group in (g for g in drawing.of("dimension") if g.key == dimension.parameter):
            tips = [item.tip for item in group.items if isinstance(item, Arrow)]
            if len(tips) == 1:
                assert min(distance(arc.nearest(tips[0]), tips[0]) for arc in arcs) < 1e-3, group.texts[0].text


def test_a_broken_circle_is_all_there_but_for_the_breaks():
    """A quarter of a circle less what lies in a square about its middle, by the angle of the square's corners."""
    arc, (x, y) = Arc((10, 0), (0, 10), math.tan(math.pi / 8)), (10 * math.sqrt(0.5), 10 * math.sqrt(0.5))
    square = ((x - 1, y - 1), (x + 1, y - 1), (x + 1, y + 1), (x - 1, y + 1))
    first, last = without(arc, [square, ((50, 50), (60, 50), (60, 60))])
    assert (first.start, last.end) == (arc.start, arc.end)
    assert first.end == pytest.approx((math.sqrt(100 - (y - 1) ** 2), y - 1))
    assert last.start == pytest.approx((x - 1, math.sqrt(100 - (x - 1) ** 2)))
    assert {round(piece.radius, 9) for piece in (first, last)} == {10.0}


def test_a_bolt_circles_leader_stays_out_of_its_holes():
    """In a hole it would seem to give that hole's size."""
    record = parts.draw("flange-round", bore=0, od=120, bolt_circle=90).record
    drawing = lay_out(record, WIDTH, HEIGHT)
    (circle_of,) = [g for g in drawing.of("dimension") if g.texts[0].text == "C Ø90"]
    (tip,) = [item.tip for item in circle_of.items if isinstance(item, Arrow)]
    at = tuple((a - b) / drawing.scale for a, b in zip(tip, drawing.origin, strict=True))
    assert all(distance(o.loop.circle.centre, at) > o.loop.circle.diameter / 2 for o in record.profile.inside)


def test_a_radius_that_is_not_cut_has_a_piece_of_its_arc():
    """Of a tube, say, that a cap goes into."""
    drawing = lay_out(parts.draw("plate-cap", seat="inside", corner_radius=8).record, WIDTH, HEIGHT)
    (group,) = [g for g in drawing.of("dimension") if g.key == "corner_radius"]
    (arc,) = [s for i in group.items if isinstance(i, Path) for s in i.segments if isinstance(s, Arc)]
    (tip,) = [item.tip for item in group.items if isinstance(item, Arrow)]
    assert arc.radius == pytest.approx(8 * drawing.scale, rel=1e-9)
    assert distance(arc.nearest(tip), tip) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("values", [{"bolt": "M30", "drilled": True}, {"bolt": "M8", "drilled": True}])
def test_the_arrow_of_a_hole_to_drill_is_at_its_centre_mark(values):
    """Where the hole will be there is nothing to point at yet."""
    drawing = lay_out(parts.draw("bracket-clevis-ear", head=80, **values).record, WIDTH, HEIGHT)
    (called,) = [g for g in drawing.of("dimension") if any("drill" in t.text for t in g.texts)]
    (tip,) = [item.tip for item in called.items if isinstance(item, Arrow)]
    (marks,) = drawing.of("marks")
    assert min(distance(item.segments[0].nearest(tip), tip) for item in marks.items) < drawing.texts[0].size / 2


def test_a_diameter_of_holes_to_drill_says_so_and_counts_them():
    """No second call-out, and no circle where nothing is cut."""
    values = {"motor_bolt": "by-diameter", "motor_hole": 5, "small_holes": "drill", "thickness": 8}
    drawing = lay_out(parts.draw("plate-motor", **values).record, WIDTH, HEIGHT)
    texts = [text.text for text in drawing.texts]
    assert [text for text in texts if "Ø5" in text] == ["H 4 \u00d7 Ø5 drill"]
    (group,) = [g for g in drawing.of("dimension") if g.key == "motor_hole"]
    assert not any(isinstance(item, Path) and item.closed for item in group.items)


def test_a_mesh_has_no_centre_lines():
    drawing = lay_out(parts.draw("plate-panel", form="round", width=400, height=300).record, WIDTH, HEIGHT)
    (centres,) = drawing.of("centres")
    assert len(centres.items) == 2 * 4  # of the corner holes


def test_a_bends_number_keeps_off_holes():
    """In the middle of this line stands a hole: the lettering goes beside it, or further along."""
    values = {"holes_a": 3, "holes_b": 3, "mark_a": 14, "mark_b": 14, "bolt": "M6", "width": 300, "thickness": 2}
    record = parts.draw("bracket-bent-angle", flange_a=24, flange_b=24, **values).record
    drawing = lay_out(record, WIDTH, HEIGHT)
    (group,) = drawing.of("bends")
    for text, opening in itertools.product(group.texts, record.profile.inside):
        x, y = (o + drawing.scale * c for o, c in zip(drawing.origin, opening.loop.circle.centre, strict=True))
        assert not Polygon(text.outline).intersects(
            Point(x, y).buffer(opening.loop.circle.diameter / 2 * drawing.scale)
        )


def test_each_round_hole_has_a_centre_line_across_it():
    drawing = crowded("flange")
    (centres,) = drawing.of("centres")
    assert all(item.pen == "centre" for item in centres.items)
    for opening in CROWDED["flange"].profile.inside:
        x, y = opening.loop.circle.centre
        at = drawing.origin[0] + x * drawing.scale, drawing.origin[1] + y * drawing.scale
        through = [item for item in centres.items if distance(item.segments[0].nearest(at), at) < 1e-9]
        assert len(through) >= 2


def test_pens_say_what_is_cut_and_what_is_marked():
    drawing = lay_out(CROWDED["hexagon"], WIDTH, HEIGHT)
    pens = {g.kind: {item.pen for item in g.items if isinstance(item, Path)} for g in drawing.groups}
    assert pens["part"] == {"cut-outside", "cut-inside"}
    assert pens["marks"] == {"bend"}
    assert pens["centres"] == {"centre"}
    assert pens["dimension"] == {"dimension"}


@pytest.mark.parametrize("name", ["strip", "3 m", "50 at one place", "50 at one place of a square"])
def test_flags_are_numbered_as_the_findings(name):
    record = CROWDED[name]
    groups = list(lay_out(record, WIDTH, HEIGHT).of("finding"))
    assert [g.key for g in groups] == [str(i + 1) for i in range(len(record.findings))]
    marks = [item for g in groups for item in g.items if isinstance(item, NumberedMark)]
    assert [m.severity for m in marks] == [f.severity for f in record.findings]
    assert [m.label.text for m in marks] == [g.key for g in groups]


def test_findings_alike_share_a_number_and_few_of_them_have_a_flag():
    """The first few are flagged; every other place has its dot in the first one's group, so that it lights up too."""
    places = [(99 + 200 * (i % 15), 99 + 200 * (i // 15)) for i in range(90)]
    lot = [replace(finding(1, at), message=f"Hole {i} is small.") for i, at in enumerate(places, start=1)]
    record = record_of(CROWDED["3 m"].profile, finding(0, (3000, 1500)), *lot)
    drawing = lay_out(record, WIDTH, HEIGHT)
    one, *groups = drawing.of("finding")
    assert (one.key, [g.key for g in groups]) == ("1", ["2"] * MOST_ALIKE)
    assert [m.label.text for g in groups for m in g.marks] == ["2"] * MOST_ALIKE
    dots = [[item.at for item in g.items if isinstance(item, Dot)] for g in groups]
    assert [len(d) for d in dots] == [88, 1, 1]
    shown = sorted(at for each in dots for at in each)
    on_paper = [tuple(o + v * drawing.scale for o, v in zip(drawing.origin, at, strict=True)) for at in places]
    assert shown == [pytest.approx(at, abs=1e-9) for at in sorted(on_paper)]
    assert_flags_apart(drawing)


def test_a_flags_leader_starts_at_its_place():
    record, drawing = CROWDED["3 m"], crowded("3 m")
    for group, found in zip(drawing.of("finding"), record.findings, strict=True):
        place = tuple(o + v * drawing.scale for o, v in zip(drawing.origin, found.at, strict=True))
        leaders = [item for item in group.items if isinstance(item, Path)]
        assert min(distance(s.start, place) for leader in leaders for s in leader.segments) < 1e-9


@pytest.mark.parametrize("slug", some_of(16, SLUGS))
@pytest.mark.parametrize("size", SIZES if DEEP else [None], ids=str)
def test_standard_scale_is_the_largest_that_fits(slug, size):
    """Scales of ISO 5455:1979, and 1:2.5 from common practice."""
    record, size = library.part(slug).record, size or SIZES[SLUGS.index(slug) % len(SIZES)]
    drawing = lay_out_to_standard(record, *size, 3.5)
    assert drawing.scale in {5, 2, 1, 0.5, 0.4, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005} == set(STANDARD_SCALES)
    assert drawing.height <= size[1]
    assert_on_paper(drawing)
    assert_true_to_scale(record, drawing)
    x0, y0, x1, y1 = record.profile.box
    bare = min(size[0] / (x1 - x0), size[1] / (y1 - y0))
    assert 0.2 * bare < drawing.scale <= bare


def test_a_part_of_20_m_still_fits():
    record = record_of(Profile((rectangle((0, 0), 20000, 15000),)))
    drawing = lay_out_to_standard(record, 180, 150, 3.5)
    assert drawing.scale == 0.005
    assert_on_paper(drawing)


def test_the_same_part_is_laid_out_the_same():
    record = CROWDED["3 m"]
    assert lay_out(record, WIDTH, HEIGHT) == lay_out(record, WIDTH, HEIGHT)


def test_a_slot_has_centre_lines_as_a_hole_has_and_its_measures_continue_them():
    """Along it beyond its ends, and across at its middle and its far ends; a vent of many slots has none."""
    record = parts.draw("plate-slotted").record
    drawing = lay_out(record, WIDTH, HEIGHT)
    lines = [item.segments[0] for group in drawing.of("centres") for item in group.items]
    x0, y0 = drawing.origin
    for opening in record.profile.inside:
        if opening.loop.circle:
            continue
        left, low, right, high = (v * drawing.scale for v in opening.loop.box)
        r, y = (high - low) / 2, y0 + (low + high) / 2
        ends = (x0 + left + r, x0 + (left + right) / 2, x0 + right - r)
        level = [each for each in lines if all(abs(p[1] - y) < 1e-6 for p in (each.start, each.end))]
        reach = [(min(e.start[0], e.end[0]), max(e.start[0], e.end[0])) for e in level]
        assert any(a < x0 + left and x0 + right < b for a, b in reach)
        for x in ends:
            across = [e for e in lines if all(abs(p[0] - x) < 1e-6 for p in (e.start, e.end))]
            assert any(abs(e.start[1] + e.end[1] - 2 * y) < 1e-6 and e.length > 2 * r for e in across)
    assert_legible(drawing)
    vent = lay_out(parts.draw("plate-panel").record, WIDTH, HEIGHT)
    assert len([item for group in vent.of("centres") for item in group.items]) == 2 * 4
