"""The code on a printed drawing, read from the modules drawn on the sheet by a reader of its own."""

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

import parts
from parts.export import pdf
from parts.export.pdf_code import LEAST_MODULE_MM, QUIET, code_text, modules_of
from parts.export.pdf_sheet import ROW
from tests import library
from tests.files.code_reader import read_code

POINT = 25.4 / 72


def squares(data):
    """The filled rectangles of a PDF's first sheet, mm: x, y, width, height."""
    reader = PdfReader(io.BytesIO(data))
    found, fresh = [], []
    for operands, operator in ContentStream(reader.pages[0].get_contents(), reader).operations:
        if operator == b"re":
            fresh.append(tuple(float(v) for v in operands))
        elif operator in (b"f", b"f*"):
            found += fresh
        if operator != b"re":
            fresh = []
    return found


def code_of(data):
    """The rows of the code: one module is as wide as all are high."""
    runs = [each for each in squares(data) if each[3] < 1]
    module = min(height for *_, height in runs)
    left, top = min(x for x, *_ in runs), max(y for _, y, *_ in runs)
    side = round((max(x + w for x, _, w, _ in runs) - left) / module)
    rows = [[False] * side for _ in range(side)]
    for x, y, w, _ in runs:
        for k in range(round(w / module)):
            rows[round((top - y) / module)][round((x - left) / module) + k] = True
    return rows, module


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"leg_a": 150, "holes_a": 2},
        {"leg_a": 151, "leg_b": 152, "toe": 13, "snipe": 14, "thickness": 7, "holes_a": 2, "holes_b": 1},
    ],
    ids=len,
)
def test_the_code_on_a_drawing_says_its_address(values):
    part = parts.draw("gusset-triangle", **values)
    rows, module = code_of(part.file("pdf"))
    assert read_code(rows).decode() == part.record.address
    assert module >= LEAST_MODULE_MM
    assert module * (len(rows) + 2 * QUIET) == pytest.approx(2 * ROW, abs=1e-3), "with its blank border"


def test_it_begins_with_the_address_of_the_shops_page_where_that_is_given(own_file):
    own_file.write_text('[drawing]\npage = "http://fernhollow.local:8765/"\n')
    part = parts.draw("gusset-triangle", leg_a=150)
    assert code_text(part.record) == "http://fernhollow.local:8765/parts/gusset-triangle?leg_a=150mm"
    assert read_code(code_of(part.file("pdf"))[0]).decode() == code_text(part.record)
    own_file.write_text('[drawing]\npage = "my page"\n')
    with pytest.raises(parts.PartsError, match="must be the address of your page, as http://"):
        parts.draw("gusset-triangle")


@pytest.mark.parametrize("length", [1, 17, 18, 32, 53, 78, 106, 134, 154, 192])
def test_a_code_of_each_size_is_read(length):
    text = ("/parts/a?b=" + "x" * length)[:length]
    assert read_code(modules_of(text)).decode() == text


def test_an_address_too_long_for_a_code_is_said_to_be():
    assert modules_of("x" * 193) is None
    record = replace(library.part("sign-plate").record, page=f"http://{'x' * 190}")
    assert "too long for" in PdfReader(io.BytesIO(pdf.write(record))).pages[0].extract_text()
    assert "too long for" not in PdfReader(io.BytesIO(library.written("sign-plate", "pdf"))).pages[0].extract_text()
