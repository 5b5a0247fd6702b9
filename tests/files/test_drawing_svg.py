"""The inline SVG: read back by an XML parser and, arc by arc, by formulas of the SVG standard."""

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

import parts
from parts.drawing import lay_out
from parts.export.drawing_svg import HEIGHT, WIDTH, thumbnail, write
from parts.finding import Finding
from parts.geometry.segment import Arc, Segment, distance
from parts.profile import Drill, Opening, Scribe
from parts.record import Record
from tests import library
from tests.depth import some_of
from tests.files.records import SPECIAL, special

SVG = "{http://www.w3.org/2000/svg}"
NAMES = [*some_of(8, library.SLUGS), *SPECIAL]
ALLOWED = {"svg", "title", "desc", "g", "path", "circle", "text"}
DIGITS = 1e-4
"""Coordinates are written with four decimals of a drawing 100 wide."""


@cache
def made(name: str) -> tuple[Record, str]:
    """A template or a profile made by hand, and its drawing."""
    record = special(name) if name in SPECIAL else library.part(name).record
    return record, write(record)


@cache
def made_with_findings(name: str) -> tuple[Record, str]:
    """The same with three findings, one of each severity."""
    record = with_findings(made(name)[0])
    return record, write(record)


def read(text: str) -> ET.Element:
    return ET.fromstring(text)


def with_findings(record: Record) -> Record:
    x0, y0, x1, y1 = record.profile.box
    at = (x0 + x1) / 2, (y0 + y1) / 2
    kinds = ("stop", "warn", "note")
    return replace(record, findings=tuple(Finding("loops", kind, at, 1.0, 2.0, "M.", "R.") for kind in kinds))


def outlines(root: ET.Element, height: float) -> Iterator[list[tuple]]:
    """Each cut outline as (start, end, radius, large, sweep) with y upward; radius 0 is a line."""
    for path in root.iter(f"{SVG}path"):
        if path.get("class") in ("pw-cut-outside", "pw-cut-inside"):
            yield list(_segments(path.get("d"), height))


def _segments(data: str, height: float) -> Iterator[tuple]:
    assert re.fullmatch(r"M[-\d. ]+([LA][-\d. ]+)+Z", data)
    at = None
    for command, numbers in re.findall(r"([MLA])([-\d. ]+)", data):
        values = [float(n) for n in numbers.split()]
        end = values[-2], height - values[-1]
        if command == "L":
            assert len(values) == 2
            yield at, end, 0.0, 0, 0
        elif command == "A":
            assert values[0] == values[1]
            assert values[2] == 0
            yield at, end, values[0], values[3], values[4]
        at = end


def assert_same(true: Segment, drawn: tuple, scale: float, origin: tuple[float, float]) -> None:
    start, end, radius, large, sweep = drawn
    for p, q in ((true.start, start), (true.end, end)):
        assert q == pytest.approx((origin[0] + p[0] * scale, origin[1] + p[1] * scale), abs=DIGITS)
    if not isinstance(true, Arc):
        assert radius == 0
        return
    assert radius == pytest.approx(true.radius * scale, abs=DIGITS)
    # SVG 2, 9.3.8: sweep 1 turns the way of increasing angles, which with y downward is to the right
    assert bool(sweep) == (true.sweep < 0)
    assert bool(large) == (abs(true.sweep) > math.pi + 1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_a_drawing_is_exact_labelled_and_repeats(name):
    assert_outlines_are_exact(name)
    assert_strict_and_labelled(name)
    assert_groups_carry_parameter_and_finding(name)
    assert_shows_without_a_style_sheet(name)
    assert_thumbnails_are_to_scale(name)
    record, text = made(name)
    assert write(record) == text, "another text of the same part"


def assert_outlines_are_exact(name: str) -> None:
    record, text = made(name)
    root = read(text)
    drawing = lay_out(record, WIDTH, HEIGHT) if name in SPECIAL else library.layout(name)
    loops = (*record.profile.outside, *(opening.loop for opening in record.profile.inside))
    drawn = list(outlines(root, drawing.height))
    assert len(drawn) == len(loops)
    for loop, path in zip(loops, drawn, strict=True):
        for true, segment in zip(loop.segments, path, strict=True):
            assert_same(true, segment, drawing.scale, drawing.origin)
        assert distance(path[-1][1], path[0][0]) <= 2 * DIGITS


def assert_strict_and_labelled(name: str) -> None:
    root = read(made_with_findings(name)[1])
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    x, y, width, height = (float(n) for n in root.get("viewBox").split())
    assert [x, y, width] == [0, 0, WIDTH]
    assert height > 0
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    for element in root.iter():
        assert element.tag.removeprefix(SVG) in ALLOWED
        for name in element.attrib:
            assert name != "style"
            assert not name.startswith("on")
            assert "href" not in name


def assert_groups_carry_parameter_and_finding(name: str) -> None:
    record, text = made_with_findings(name)
    root = read(text)
    shown = {d.parameter for d in record.profile.dimensions if d.measured > 1e-9}
    assert shown <= {g.get("data-parameter") for g in root.iter(f"{SVG}g")}
    flags = [g for g in root.iter(f"{SVG}g") if g.get("data-finding")]
    assert [g.get("data-finding") for g in flags] == ["1", "2", "3"]
    assert [g.get("class") for g in flags] == [f"pw-finding pw-{s}" for s in ("stop", "warn", "note")]
    for number, flag in enumerate(flags, start=1):
        assert [t.text for t in flag.iter(f"{SVG}text")] == [str(number)]


def test_words_describe_the_part():
    """What someone hears who doesn't see the picture."""
    root = read(write(parts.draw("gusset-triangle", lightening=20, units="in", leg_a="4 in").record))
    assert root.find(f"{SVG}title").text == "Triangular gusset"
    words = root.find(f"{SVG}desc").text
    assert words.startswith("Triangular gusset: 4 in wide, 4 in high, of mild steel 1/4 in thick")
    assert "with 1 opening." in words
    assert "A leg along the base 4 in" in words


def test_markup_in_words_is_escaped():
    record = parts.draw("gusset-triangle").record
    hostile = '</title><script>alert("x")</script>&'
    template = replace(record.template, title=hostile)
    opening = Opening(record.profile.outside[0], "o", hostile)
    record = replace(
        record,
        template=template,
        material_title=hostile,
        profile=replace(
            record.profile,
            dimensions=tuple(replace(d, parameter=hostile) for d in record.profile.dimensions),
            inside=(opening,),
        ),
    )
    root = read(write(record))
    assert {e.tag.removeprefix(SVG) for e in root.iter()} <= ALLOWED
    assert root.find(f"{SVG}title").text == hostile
    assert hostile in {g.get("data-parameter") for g in root.iter(f"{SVG}g")}


def test_lettering_is_legible_on_a_phone():
    """Of a page 360 px wide, 12 px is the least that is called legible (common practice)."""
    root = read(write(parts.draw("gusset-triangle").record))
    sizes = {float(t.get("font-size")) for t in root.iter(f"{SVG}text")}
    assert all(0.032 * WIDTH <= size <= 0.035 * WIDTH for size in sizes)


def assert_shows_without_a_style_sheet(name: str) -> None:
    """ISO 128-2: two widths of line and more, in the proportion 2 to 1 at least; drawn in the page's own ink."""
    root = read(made(name)[1])
    assert root.get("stroke") == "currentColor"
    assert root.get("fill") == "none"
    widths = {p.get("class"): float(p.get("stroke-width")) for p in root.iter(f"{SVG}path") if p.get("stroke-width")}
    assert widths["pw-cut-outside"] >= 2 * widths["pw-dimension-line"]
    assert widths.get("pw-cut-inside", 9) >= 2 * widths["pw-dimension-line"]
    for element in root.iter(f"{SVG}text"):
        assert (element.get("fill"), element.get("stroke")) == ("currentColor", "none")


def assert_thumbnails_are_to_scale(name: str) -> None:
    record = special(name) if name in SPECIAL else library.part(name).record
    for scale in (0.02, 0.3, 2.0):
        assert_to_scale(record, scale)


def assert_to_scale(record, scale):
    text = thumbnail(record.profile, scale)
    root = read(text)
    x0, y0, x1, y1 = record.profile.box
    assert float(root.get("width")) == pytest.approx((x1 - x0) * scale + 1.5, abs=DIGITS)
    assert float(root.get("height")) == pytest.approx((y1 - y0) * scale + 1.5, abs=DIGITS)
    path, *others = root
    marked = [mark for mark in record.profile.marks if not isinstance(mark, Drill)]
    assert len(others) == len({type(mark) for mark in marked})
    dashes = [other.get("stroke-dasharray") for other in others]
    assert dashes.count(None) == any(isinstance(mark, Scribe) for mark in marked)
    starts = re.findall(r"M([-\d.]+) ([-\d.]+)", path.get("d"))
    assert len(starts) == record.measures.loops
    for loop, (x, y) in zip(record.profile.boundary, starts, strict=True):
        p = loop.segments[0].start
        assert float(x) == pytest.approx((p[0] - x0) * scale + 0.75, abs=DIGITS)
        assert float(y) == pytest.approx((y1 - p[1]) * scale + 0.75, abs=DIGITS)
    assert "text" not in text
