"""The PDF: read back by pypdf, which had no part in writing it; lines measured at the scale it states."""

import io
import re
import time
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader
from pypdf.generic import ContentStream

import parts
from parts.drawing import NumberedMark
from parts.errors import DataError, Refused
from parts.export import pdf, pdf_fit, pdf_ink
from parts.export.pdf_ink import printable
from parts.export.pdf_sheet import TextRow, paper_for, wrapped
from parts.finding import Finding
from parts.geometry.segment import Arc, distance
from parts.record import VERSION, Record
from parts.units import length_number, reckoned_number
from tests import library
from tests.depth import some_of
from tests.files.records import SPECIAL, special
from tests.strategies import optional_of

POINT = 25.4 / 72
"""A point in mm (ISO 32000-1, 8.3.2.3: 1/72 in)."""
A4 = 210.0, 297.0
"""ISO 216."""
ON_PAPER_MM = 1e-3
"""What coordinates written with a few decimals may be off on the paper."""


@cache
def made(name: str) -> tuple[Record, bytes]:
    """A template or a profile made by hand, and its file."""
    if name in SPECIAL:
        return special(name), pdf.write(special(name))
    return library.part(name).record, library.written(name, "pdf")


def read(record: Record) -> PdfReader:
    return reader_of(pdf.write(record))


def reader_of(content: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(content))


def words(reader: PdfReader) -> str:
    """All text of all sheets, its blanks made alike."""
    return alike([page.extract_text() for page in reader.pages])


def alike(texts: Iterable[str]) -> str:
    return " ".join(" ".join(texts).split())


@cache
def texts_of(name: str) -> tuple[str, ...]:
    """The text of each sheet of a file that is `made`."""
    return tuple(page.extract_text() for page in reader_of(made(name)[1]).pages)


def size_mm(page) -> tuple[float, float]:
    return float(page.mediabox.width) * POINT, float(page.mediabox.height) * POINT


def stated_scale(text: str) -> float:
    """The scale as the title block on a sheet says it: 1:2.5 is 0.4. Sections of a bent part say their own."""
    found = re.findall(r"(?<!scale )\b(\d+(?:\.\d+)?):(\d+(?:\.\d+)?)\b(?!,\d| million)", text)
    assert len(found) == 1
    return float(found[0][0]) / float(found[0][1])


def closed_paths(reader: PdfReader) -> list[list[tuple[float, float]]]:
    """The stroked closed paths of the first sheet: the ends of their pieces, in mm on the paper."""
    paths, matrix, stack, current = [], (1, 0, 0, 1, 0, 0), [], []
    for operands, operator in ContentStream(reader.pages[0].get_contents(), reader).operations:
        n = [float(o) for o in operands] if operator in (b"cm", b"m", b"l", b"c") else []
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = _times(n, matrix)
        elif operator == b"m":
            current = [_moved(n, matrix)]
        elif operator in (b"l", b"c"):
            current.append(_moved(n[-2:], matrix))
        elif operator in (b"s", b"S") and len(current) > 2:
            paths.append(current)
    return paths


def _times(a, b):
    return (
        a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3], a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5],
    )  # fmt: skip


def _moved(p, m) -> tuple[float, float]:
    x, y = p[0] * m[0] + p[1] * m[2] + m[4], p[0] * m[1] + p[1] * m[3] + m[5]
    return x * POINT, y * POINT


@pytest.mark.parametrize("name", [*some_of(12, library.SLUGS, 1), *SPECIAL])
def test_a_file_is_to_scale_complete_and_repeats(name):
    assert_outline_is_at_the_stated_scale(name)
    assert_dimensions_are_in_the_table(name)
    assert_fonts_are_subsets(name)
    record, content = made(name)
    assert pdf.write(record) == content, "another file of the same part"


def assert_outline_is_at_the_stated_scale(name: str) -> None:
    """Corners of the outside loops, and the ends of their arcs, measured on the paper."""
    record, content = made(name)
    reader = reader_of(content)
    scale, paths = stated_scale(texts_of(name)[0]), closed_paths(reader)
    for loop in record.profile.outside:
        ends = [segment.start for segment in loop.segments]
        assert any(_same_shape(ends, path, scale) for path in paths)


def _same_shape(ends, path, scale) -> bool:
    """Whether a path passes through all the points, at the scale, from its own first point on."""
    dx, dy = path[0][0] - ends[0][0] * scale, path[0][1] - ends[0][1] * scale
    return all(min(distance((x * scale + dx, y * scale + dy), p) for p in path) < ON_PAPER_MM for x, y in ends)


def test_arcs_stray_less_than_a_line_is_wide():
    """PDF has no arcs: the curves for a circle of 200 mm pass through points of the true circle."""
    record = special("disc")
    reader = read(record)
    scale = stated_scale(reader.pages[0].extract_text())
    circles = [p for p in closed_paths(reader) if len(p) == 9]
    xs = [x for x, _ in circles[0]]
    assert max(xs) - min(xs) == pytest.approx(100.1 * scale, abs=ON_PAPER_MM)
    loop = record.profile.outside[0].segments[0]
    assert isinstance(loop, Arc)
    centre = (max(xs) + min(xs)) / 2, sum(y for _, y in circles[0][:8]) / 8
    assert all(distance(centre, p) == pytest.approx(50.05 * scale, abs=0.01) for p in circles[0])


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ({}, (297.0, 210.0)),
        ({"leg_a": 300, "leg_b": 100}, (297.0, 210.0)),
        ({"leg_a": 50, "leg_b": 600}, A4),
        ({"leg_a": 100, "leg_b": 1500}, A4),
    ],
    ids=["square", "wide", "tall", "very tall"],
)
def test_sheets_are_a4_lying_or_standing(values, expected):
    for page in read(parts.draw("gusset-triangle", **values).record).pages:
        assert size_mm(page) == pytest.approx(expected, abs=0.01)


# ISO 216; ANSI/ASME Y14.1, sizes A and B.
PAPERS = {"A4": (297.0, 210.0), "A3": (420.0, 297.0), "letter": (279.4, 215.9), "tabloid": (431.8, 279.4)}


@pytest.mark.parametrize("paper", PAPERS)
def test_a_sheet_is_of_the_paper_asked_for(paper):
    for values in ({}, {"leg_a": 50, "leg_b": 600}):
        for page in read(parts.draw("gusset-triangle", paper=paper.upper(), **values).record).pages:
            assert sorted(size_mm(page), reverse=True) == pytest.approx(PAPERS[paper], abs=0.01)


def test_columns_fill_a_sheet_from_margin_to_margin():
    """Three stand across letter lying as across A4; the frame leaves 20 and 10 mm, and 3 mm within it."""
    counts = {}
    for paper in PAPERS:
        for sheet in paper_for(paper, "mm").whole:
            boxes = sheet.beside(0.0)
            counts[paper, sheet.width > sheet.height] = len(boxes)
            assert (boxes[0][0], boxes[-1][2]) == pytest.approx((23, sheet.width - 13))
            assert all(72 <= x1 - x0 < 96 for x0, _, x1, _ in boxes)
            assert all(other[0] - one[2] == pytest.approx(5) for one, other in pairwise(boxes))
    lying, standing = ({paper: counts[paper, side] for paper in PAPERS} for side in (True, False))
    assert lying == {"A4": 3, "A3": 5, "letter": 3, "tabloid": 5}
    assert standing == {"A4": 2, "A3": 3, "letter": 2, "tabloid": 3}


def test_a_tall_part_lies_where_its_lettering_is_larger_for_it():
    (page,) = read(parts.draw("plate-shim", paper="A4").record).pages
    assert size_mm(page) == pytest.approx(PAPERS["A4"], abs=0.01)


@pytest.mark.parametrize(("units", "paper"), [("mm", "A4"), ("in", "letter")])
def test_left_to_the_units_inches_are_on_letter(units, paper):
    (size,) = {size_mm(page) for page in read(parts.draw("gusset-triangle", units=units).record).pages}
    assert size == pytest.approx(PAPERS[paper], abs=0.01)
    sheet = reader_of(parts.draw("square-test", units=units).measuring_sheet().to_pdf())
    assert size_mm(sheet.pages[0]) == pytest.approx(PAPERS[paper], abs=0.01)


def test_the_shops_own_paper_holds_where_none_is_named(tmp_path, monkeypatch):
    own = tmp_path / "shop.toml"
    own.write_text('[drawing]\npaper = "Tabloid"\n')
    monkeypatch.setenv("PLATEWRIGHT_SHOP", str(own))
    part = parts.draw("gusset-triangle", units="in")
    assert size_mm(read(part.record).pages[0]) == pytest.approx(PAPERS["tabloid"], abs=0.01)
    assert "paper=tabloid" in part.record.address  # so that it is the same file elsewhere
    assert size_mm(read(parts.draw("gusset-triangle", paper="A4").record).pages[0]) == pytest.approx(
        PAPERS["A4"], abs=0.01
    )
    own.write_text('[drawing]\npaper = "A5"\n')
    with pytest.raises(DataError, match=r"drawing\.paper.*by-units.*tabloid"):
        parts.draw("gusset-triangle")


def test_another_paper_is_refused_by_name():
    with pytest.raises(Refused) as refused:
        parts.draw("gusset-triangle", paper="A5")
    (problem,) = refused.value.problems
    assert (problem.parameter, problem.value) == ("paper", "A5")
    assert "A4, A3, letter, tabloid" in problem.message


@pytest.mark.parametrize(
    ("leg", "scale"),
    [(30, "2:1"), (100, "1:1"), (140, "1:1"), (250, "1:2"), (300, "1:2.5"), (500, "1:5"), (1000, "1:10")],
)
def test_scale_is_a_standard_one(leg, scale):
    record = parts.draw("gusset-triangle", leg_a=leg, leg_b=leg).record
    assert scale in read(record).pages[0].extract_text().split()


@pytest.mark.parametrize("slug", some_of(16, library.SLUGS))
def test_lettering_of_the_drawing_is_of_a_size_that_can_be_read(slug):
    """3.5 or 2.5 mm (ISO 3098-1)."""
    assert pdf._chosen(library.part(slug).record)[1].text_size in (pytest.approx(3.5), pytest.approx(2.5))


@pytest.mark.parametrize(
    ("slug", "scale"),
    [("bumper-skid", "1:5"), ("plate-bumper", "1:10"), ("bracket-strap", "1:1"), ("bracket-hook", "1:1")],
)
def test_a_part_that_would_be_small_beside_its_text_has_the_whole_sheet(slug, scale):
    """Its lettering is the usual one, its text stands below it and goes on overleaf, all of it."""
    record = parts.draw(slug).record
    assert pdf._chosen(record)[1].text_size == pdf.TEXT
    reader = read(record)
    assert scale in reader.pages[0].extract_text().split()
    assert "Findings" in reader.pages[0].extract_text()
    for caution in record.cautions:
        assert caution in words(reader)


@pytest.mark.parametrize("count", [180, 181, 900])
def test_the_title_block_holds_every_field(count):
    """In lettering of 1.8 mm or more (ISO 3098-1), within its cell; a longer address stands in full among the text."""
    record = parts.draw("plate-bumper").record
    address = "/parts/plate-bumper?" + "&".join(f"parameter_{i}={i}.001mm" for i in range(60))
    record = replace(record, address=address[: max(count, 5)])
    reader = read(record)
    assert record.address in "".join(words(reader).split())
    sheet, drawing = pdf._chosen(record)
    for width in (sheet.width, 210.0):  # whichever sheet it comes to
        for row in pdf._title_block(record, drawing, "1 / 2"):
            unit = (width - 30) / sum(cell.share for cell in row)
            for cell in row:
                lines = wrapped(cell.value, cell.share * unit - 2.4, 1.8, cell.font)
                assert len(lines) * 1.8 <= 11 - 2.1 - 2.2, cell.label


def test_text_below_a_drawing_stays_clear_of_it():
    for slug in ("bumper-skid", "plate-bumper", "bracket-strap"):
        sheet, drawing = pdf._chosen(library.part(slug).record)
        columns = sheet.beside(drawing.height)
        assert len(columns) > 1
        for _, low, _, high in columns:
            assert sheet.drawing[1] <= low < high < sheet.foot_of(drawing.height)


def test_title_block_says_what_the_part_is():
    """Fields of ISO 7200:2004: title, identification number, sheet; those for people and dates stay blank."""
    record = parts.draw("gusset-triangle", thickness="1/4 in", process="laser").record
    text = words(read(record))
    for said in (
        "Title", "Triangular gusset", "Identification number", "gusset-triangle", "Scale", "1:1",
        "Units", "mm", "Sheet", "1 / 1", "Creator", "Approval person", "Date of issue", "Revision index",
        "Legal owner", "Document type", "Part drawing", "Cut: ISO 9013, tolerance class 1",
        "Mild steel", "1/4 in (6.35 mm)", "Laser", "100 by 100 mm", "0.3 kg (0.661 lb)", "337 mm",
    ):  # fmt: skip
        assert said in text, said


def test_mass_and_length_are_right():
    """0.01 m2 less the corners, of steel 6 mm thick: 0.283 kg is 6011.25 mm2 x 6 mm x 7.85e-6 kg/mm3."""
    by_hand = 6011.25 * 6 * 7.85e-6
    assert by_hand == pytest.approx(0.283, abs=5e-4)
    text = words(read(parts.draw("gusset-triangle").record))
    assert "0.283 kg (0.624 lb)" in text


def as_drawn(record: Record, parameter: str) -> float:
    """What the drawing measures for a parameter; of one that it doesn't show, what was used."""
    drawn = {each.measured for each in record.profile.dimensions if each.parameter == parameter and each.measured}
    typed = float(record.parameters[parameter])
    if drawn and not typed:
        assert max(drawn) - min(drawn) < 1e-6, parameter
        return drawn.pop()
    assert all(measured == pytest.approx(typed, abs=1e-6) for measured in drawn), parameter
    return typed or float(record.used(parameter))


# Of these 0 is no word for something else: there is none, or it is square, sharp or fixed.
NOTHING = ("0: sharp inside", "0: the left side", "0: the four arms", "0: fixed", "0: a blank", "0: rolled")


@pytest.mark.parametrize("slug", library.SLUGS)
def test_what_is_left_to_the_template_stands_as_what_it_became(slug):
    """Every length that says what 0 stands for has a value in the table wherever it is in use."""
    record = library.part(slug).record
    left = [
        name
        for name, spec in record.specs.items()
        if ("0: " in spec.help or "0 for the middle" in spec.help) and not any(said in spec.help for said in NOTHING)
    ]
    for name in left:
        if record.has(name) and not record.parameters[name]:
            assert float(record.used(name)) > 0, name


def test_a_bend_is_said_with_the_radius_and_k_it_is_made_with():
    """By hand: 0.16 of a V of 8 x 3 mm is 3.84 mm; Machinery's Handbook has 0.64 T on 90 degrees."""
    record = parts.draw("bracket-bent-hat", thickness="3 mm").record
    text = words(read(record))
    assert re.search(r"Inside radius of the bends 3\.84 0\.151", text)
    assert "K-factor: 0.407" in text
    assert [mark.radius for mark in record.profile.marks] == pytest.approx([3.84] * 4)


def assert_dimensions_are_in_the_table(name: str) -> None:
    """Every one that has a say, in both units."""
    record, _ = made(name)
    text = alike(texts_of(name))
    for parameter, letter in record.template.letters.items():
        label = record.specs[parameter].label
        if not record.has(parameter):
            assert f" {letter} {label} " not in text
            continue
        value = as_drawn(record, parameter)
        say = length_number if record.parameters[parameter] else reckoned_number  # as exactly as a shop reads it
        millimetres, inches = say(value, "mm"), say(value, "in")
        row = rf"\b{letter} {re.escape(label.split()[0])}.*?{re.escape(millimetres)} {re.escape(inches)}"
        assert re.search(row, text), (letter, label, millimetres, inches)


def test_dimensions_stand_on_the_drawing():
    text = words(read(parts.draw("gusset-triangle", leg_a=150, leg_b=150, lightening=20, holes_a=2).record))
    for said in ("A 150", "B 150", "C 12", "D 15", "E R3", "J Ø20", "2 \u00d7 Ø11"):
        assert said in text, said


def many_findings(count: int) -> Record:
    record = parts.draw("gusset-triangle").record
    kinds = ("stop", "warn", "note")
    return replace(
        record,
        findings=tuple(
            Finding("loops", kinds[i % 3], (40, 30), 1.0, 2.0, f"Place {i + 1} is wrong at \u00bd.", f"Mend {i + 1}.")
            for i in range(count)
        ),
    )  # fmt: skip


def test_findings_have_their_numbers_and_remedies():
    text = words(read(many_findings(3)))
    for number, kind in enumerate(("Stop", "Warn", "Note"), start=1):
        assert f"{kind}: Place {number} is wrong at \u00bd. Mend {number}." in text
        # once on the drawing, once in the list
        assert len(re.findall(rf"(?<![\w.:/\-]){number}(?![\w.:/\-])", text)) >= 2


def test_what_has_no_room_goes_on_to_more_sheets():
    record = many_findings(150)
    reader = read(record)
    count = len(reader.pages)
    assert count > 1
    text = words(reader)
    for number in range(1, 151):
        assert f"Mend {number}." in text
    for number, page in enumerate(reader.pages, start=1):
        assert f"{number} / {count}" in page.extract_text()
    for caution in record.cautions:
        assert caution in text


@pytest.mark.parametrize("slug", ["bracket-hook", "silhouette-gear"])
def test_a_table_that_goes_to_a_second_sheet_goes_whole(slug):
    """Otherwise letters and numbers would stand there under no heading."""
    record = parts.draw(slug, paper="A4").record
    first, second = (page.extract_text() for page in read(record).pages)
    labels = [record.specs[name].label for name in record.template.letters if record.has(name)]
    assert "Dimensions" in second
    assert [label for label in labels if label not in second] == []
    assert "Dimensions" not in first


@pytest.mark.parametrize("paper", PAPERS)
def test_all_text_lies_within_the_frame(paper):
    """ISO 5457: 20 mm to the filing edge, 10 mm to the others."""
    for page in read(replace(many_findings(60), paper=paper)).pages:
        width, height = size_mm(page)
        seen = []

        def visit(text, cm, tm, *_, seen=seen):
            if text.strip():
                x, y = tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
                seen.append((x * POINT, y * POINT))

        page.extract_text(visitor_text=visit)
        assert seen
        assert all(20 <= x <= width - 10 and 10 <= y <= height - 10 for x, y in seen)


def test_metadata_says_how_to_draw_it_again():
    record = parts.draw("gusset-triangle", leg_a="4 in", units="in").record
    data = read(record).metadata
    assert data.title == "Triangular gusset"
    assert data.creator == f"Platewright {VERSION}"
    facts = dict(fact.split("=", 1) for fact in data.subject.split("; "))
    assert facts["template"] == "gusset-triangle"
    assert facts["platewright_version"] == VERSION
    assert facts["address"] == record.address
    again = {name: facts[name] for name in record.parameters if name not in optional_of(record.template)}
    assert parts.draw("gusset-triangle", **again).record.profile == record.profile


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("2 \u00d7 Ø11 ±½° \u2013 “x” é", "2 \u00d7 Ø11 ±½° \u2013 “x” é"),
        ("≥ 3\u2033 \u2212 2\u2032", ">= 3\u2033 \u2212 2\u2032"),
        ("Łód\u017a", "?ódz"),
        ("a\tb", "a b"),
        ("木", "?"),
    ],
    ids=ascii,
)
def test_text_is_shown_or_spelled_out(text, shown):
    """The face has Latin letters; nothing may vanish or break the file."""
    assert printable(text) == shown
    record = parts.draw("gusset-triangle").record
    text_in_file = words(read(replace(record, cautions=(f"Mind {text} here",))))
    assert f"Mind {' '.join(shown.split())} here" in text_in_file


@pytest.mark.parametrize("width", [3.0, 20.0, 60.0])
def test_wrapping_loses_nothing(width):
    text = "A word, then /parts/gusset-triangle?leg_a=150mm&leg_b=150mm which is long."
    lines = wrapped(text, width, 2.6)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(pdf.width_of(line, 2.6) <= width or len(line) == 1 for line in lines)


def test_no_date_of_its_making_is_in_a_file(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    record, content = made("gusset-triangle")
    assert pdf.write(record) == content
    data = reader_of(content).metadata
    assert (data.creation_date, data.modification_date) == (None, None)
    assert b"D:2000" not in content
    assert b"xmp" not in content.lower()


def assert_fonts_are_subsets(name: str) -> None:
    """Every font is in the file, and no more of it than is used.

    ISO 32000-1, 9.6.4: a subset's name has six letters and a plus sign; 9.9: its program is FontFile2.
    """
    _, content = made(name)
    fonts = [font.get_object() for page in reader_of(content).pages for font in page["/Resources"]["/Font"].values()]
    assert {font["/BaseFont"].partition("+")[2] for font in fonts} <= {"Barlow-Regular", "Barlow-SemiBold"}
    for font in fonts:
        assert re.match(r"/[A-Z]{6}\+", font["/BaseFont"])
        program = font["/FontDescriptor"]["/FontFile2"].get_data()
        inside = TTFont(io.BytesIO(program))
        assert 1 < inside["maxp"].numGlyphs < 120
        assert len(program) < 30_000


def test_the_faces_are_those_of_the_pages():
    """Widths and outlines of the lettering shipped for the pages, which the faces are made of."""
    for name in (pdf_ink.FONT, pdf_ink.BOLD):
        face = TTFont(Path(pdf_ink.__file__).parent / "faces" / f"{name}.ttf")
        assert face["name"].getDebugName(4).startswith("Barlow")
        assert face["OS/2"].fsType == 0  # may be embedded for any use
        assert face["name"].getDebugName(14) == "http://scripts.sil.org/OFL"


@pytest.mark.parametrize(
    ("units", "lengths"), [("mm", "3 0.38 6.503 5.497 57.3"), ("in", "0.118 0.38 0.256 0.216 2.25")]
)
def test_the_bend_table_is_on_the_first_sheet(units, lengths):
    """By hand: 3 mm bent to 3 mm, allowance pi/2 (3 + 1.14) mm, deduction 12 mm less that."""
    values = {"thickness": "3 mm", "bend_radius": "3 mm", "foot": "60 mm", "k": 0.38, "units": units}
    record = parts.draw("bracket-bent-hat", **values).record
    reader = read(record)
    text = " ".join(reader.pages[0].extract_text().split())
    assert f"1 up 90\N{DEGREE SIGN} {lengths}" in text
    assert "2 down 90\N{DEGREE SIGN}" in text
    assert "Formed, across bends 1, 2, 3, 4: " in " ".join(words(reader).split())
    every = " ".join(words(reader).split())
    assert "K: the part's K-factor." in every
    assert "Inside radius 3 mm: " in every or "Inside radius 0.118 in: " in every
    first = {"mm": "57.3", "in": "2.254"}[units]
    assert f"1 1, up 90\N{DEGREE SIGN} left edge {first}" in every


def test_whose_k_it_is_stands_under_the_bend_table():
    text = " ".join(words(read(parts.draw("bracket-bent-hat").record)).split())
    assert (
        "K: Machinery's Handbook, 26th to 31st ed., lengths of bends: L = c T + 1.57 R at 90 degrees (published)."
        in text
    )
    assert "V opening: 50 mm." in text


def test_half_a_turn_has_no_deduction_in_the_table():
    """pi (44.95 + 0.4074 x 6) over the pipe, its line in the middle: K of soft steel, Machinery's Handbook."""
    text = words(read(parts.draw("bracket-pipe-saddle").record))
    assert "2 down 180\N{DEGREE SIGN} 44.95 0.407 148.895 - 167.4" in text


def test_a_flat_part_has_no_bend_table():
    assert "Bends" not in words(read(parts.draw("gusset-triangle").record))


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("slug", ["plate-slotted", "plate-motor", "bumper-mount"])
def test_what_wants_a_few_rows_more_than_the_column_has_stands_on_one_sheet(slug, paper):
    """Text goes below the drawing, clear of it, before it takes a second sheet; none of it is left out."""
    record = replace(library.part(slug).record, paper=paper)
    reader, (sheet, drawing) = read(record), pdf._chosen(record)
    assert len(reader.pages) == 1
    text = words(reader)
    for name, letter in record.template.letters.items():
        if record.has(name):
            assert f"{letter} {record.specs[name].label.split()[0]}" in text, name
    for caution in record.cautions:
        assert caution in text
    for _, low, _, high in sheet.below(drawing.height):
        assert sheet.drawing[1] <= low < high < sheet.foot_of(drawing.height, raised=True)


def test_short_lines_stand_in_pairs_and_a_line_of_several_stays_whole():
    rows = [TextRow(((7.0, text),), 2.6, keep=keep, ruled=not keep) for text, keep in (
        ("Bolt: M10", False), ("Holes: 2", False), ("Time at the table, without loading and marks", True),
        ("travel 3 s)", False), ("Bends: 90", False),
    )]  # fmt: skip
    paired = [[text for _, text in row.texts] for row in pdf_fit._paired(rows, 80.0)]
    assert paired == [["Bolt: M10", "Holes: 2"], [rows[2].texts[0][1]], ["travel 3 s)"], ["Bends: 90"]]


def test_smaller_lettering_is_still_of_a_size_that_is_read():
    """ISO 3098-1 begins at 1.8 mm; the smallest is that of the bend table."""
    assert pdf.BEND * pdf_fit.SMALLER > 1.8
    row = pdf_fit._smaller(TextRow(((10.0, "A"),), 2.6, mark=NumberedMark((2.4, 0.0), "warn", 1, 4.2)), 0.9)
    assert (row.texts, row.size, row.mark.size) == (((9.0, "A"),), pytest.approx(2.34), pytest.approx(3.78))
    assert row.height < 0.9 * TextRow((), 2.6).height


def test_files_are_written_one_at_a_time(monkeypatch):
    """All share the faces, which are read from at a place that the library remembers: two at once took each other's."""
    from concurrent.futures import ThreadPoolExecutor

    inside, most = [], []

    def save(canvas):
        inside.append(canvas)
        time.sleep(0.01)
        most.append(len(inside))
        inside.remove(canvas)

    monkeypatch.setattr("reportlab.pdfgen.canvas.Canvas.save", save)
    with ThreadPoolExecutor(4) as many:
        list(many.map(lambda _: pdf_ink.canvas_on(io.BytesIO(), 210, 297).save(), range(8)))
    assert most == [1] * 8
