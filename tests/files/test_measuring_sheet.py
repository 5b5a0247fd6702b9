"""The measuring sheet: every place has its letter on the drawing, its box in the PDF, and its row on the page."""

import io
import re
from xml.etree import ElementTree

import pypdf
import pytest

import parts
from parts import Refused, draw
from parts.export.measuring_words import FIRST, OF_KINDS, drawn, notes, what
from parts.export.pdf_ink import width_of
from parts.export.pdf_measuring import BODY
from parts.export.pdf_sheet import paper_for

PIECES = [
    (slug, preset.values)
    for slug, template in parts.templates().items()
    if template.readings
    for preset in template.presets
]


@pytest.mark.parametrize(("slug", "values"), PIECES, ids=[f"{slug}-{i}" for i, (slug, _) in enumerate(PIECES)])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_place_is_lettered_and_nothing_else(slug, values, units):
    specs = parts.templates()[slug].parameters.specs()
    values = {
        name: f"{text} mm" if specs[name].kind == "length" and text[-1].isdigit() else text
        for name, text in values.items()
    }
    sheet = draw(slug, **{**values, "units": units}).measuring_sheet()
    drawing = ElementTree.fromstring(sheet.to_svg())
    named = [group.get("data-parameter") for group in drawing.iter() if group.get("data-parameter")]
    letters = [place.letter for place in sheet.places if not place.again]
    assert {place.again for place in sheet.places} - {""} <= set(letters), "read again where a letter is"
    assert sorted(named) == sorted(letters)
    texts = {"".join(text.itertext()).split()[0] for text in drawing.iter() if text.get("class") == "pw-text"}
    assert texts == set(letters)


def test_the_pdf_has_a_box_for_each_letter_and_is_the_same_each_time():
    sheet = draw("square-test").measuring_sheet()
    data = sheet.to_pdf()
    (page,) = pypdf.PdfReader(io.BytesIO(data)).pages
    text = page.extract_text()
    for place in sheet.places:
        assert re.search(rf"^{place.letter}\b", text, re.MULTILINE)
    assert "drawn 424.264 mm" in text
    assert "read at 347 mm" in text
    assert text.count("\ndrawn") == len(sheet.places) - 2 == 9
    assert data == draw("square-test").measuring_sheet().to_pdf()


@pytest.mark.parametrize("slug", ["gauge-kerf-comb", "gauge-hole-ladder"])
def test_what_has_no_room_beside_the_drawing_stands_on_further_sheets(slug):
    sheet = draw(slug, steps="24", step="0.25").measuring_sheet()
    pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(sheet.to_pdf())).pages]
    assert len(pages) == 2
    for text in pages:
        assert "Measured by" in text
    for place in sheet.places:
        rows = [re.search(rf"^{place.letter}\n(between|across|over|\\w again)", text, re.MULTILINE) for text in pages]
        assert sum(map(bool, rows)) == 1, place.letter


@pytest.mark.parametrize("slug", sorted({slug for slug, _ in PIECES}))
def test_the_sheet_says_how_each_kind_is_measured(slug):
    sheet = draw(slug).measuring_sheet()
    text = " ".join(pypdf.PdfReader(io.BytesIO(sheet.to_pdf())).pages[0].extract_text().split())
    kinds = {"crosses" if place.cross else place.kind for place in sheet.places}
    kinds |= {"again" for place in sheet.places if place.again}
    assert set(notes(sheet.places)) == {FIRST, *(said for kind, said in OF_KINDS.items() if kind in kinds)}
    for note in notes(sheet.places):
        assert note in text


def test_what_is_no_test_piece_is_refused():
    with pytest.raises(Refused, match="isn't a test piece"):
        draw("plate-base").measuring_sheet()


def test_the_pages_rows_have_the_letters_of_the_sheet():
    from webapp import create_app

    client = create_app().test_client()
    asked = "template=square-test&form=full&leg_x=300&leg_y=300&spacing=100&holes_x=3&holes_y=3"
    page = client.get(f"/true/sheet?{asked}")
    assert page.status_code == 200
    letters = re.findall(r'<tr><th scope="row">(\w+)</th>', page.text)
    rows = client.get(f"/true?{asked}").text
    assert letters == re.findall(r'name="letter\.\d+" value="(\w+)"', rows) == list("ABCDEFGHIJKL")
    assert f"/true/sheet?{asked.replace('&', '&amp;')}" in rows
    pdf = client.get(f"/true/sheet.pdf?{asked}")
    assert pdf.mimetype == "application/pdf"
    assert pdf.data.startswith(b"%PDF-")
    assert client.get("/true/sheet?leg_x=no").status_code == 422
    assert client.get("/true/sheet?template=none").status_code == 404
    part = client.get("/parts/square-test?leg_x=400").text
    assert "/true?template=square-test&amp;leg_x=400mm" in part


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("slug", sorted({slug for slug, _ in PIECES}))
def test_what_is_said_of_a_place_ends_before_its_box(slug, units):
    """41 mm of the column lie between the letter and the box."""
    for place in draw(slug, units=units).measuring_sheet().places:
        for said in (what(place), drawn(place, units)):
            assert width_of(said, BODY) <= paper_for("by-units", units).lying.column - 7 - 32


@pytest.mark.parametrize("strips", [1, 2, 3])
def test_the_sheet_of_a_test_bend_is_one_page_with_a_box_for_each_reading(strips):
    sheet = draw("gauge-test-bend", thickness=3, strips=strips).measuring_sheet()
    data = sheet.to_pdf()
    (page,) = pypdf.PdfReader(io.BytesIO(data)).pages
    text = page.extract_text()
    letters = ["T", "V", "R", *(f"{each}{n}" for n in range(1, strips + 1) for each in "FABC")]
    assert [letter for letter, _, _ in sheet.rows] == letters
    assert [letter for letter in letters if not re.search(rf"^{letter}\b", text, re.MULTILINE)] == []
    assert "Brake" in text
    assert data == draw("gauge-test-bend", thickness=3, strips=strips).measuring_sheet().to_pdf()
    drawing = ElementTree.fromstring(sheet.to_svg())
    named = {group.get("data-parameter") for group in drawing.iter() if group.get("data-parameter")}
    assert named == {f"F{n}" for n in range(1, strips + 1)}


def test_what_is_no_test_piece_has_no_sheet():
    with pytest.raises(Refused, match="isn't a test piece"):
        draw("plate-base").measuring_sheet()
