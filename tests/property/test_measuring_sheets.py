"""Measuring sheets of pieces of any size: every place has its box, and filled in they give a table's errors back."""

import io
import math
import re
from dataclasses import replace

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts import draw
from parts.truing.file import read
from parts.truing.model import Errors, shown
from parts.truing.solve import settles, solve
from tests.depth import tried
from tests.strategies import accepted_for

PIECES = sorted(slug for slug, of in parts.templates().items() if of.readings)
TABLE = Errors(0.0008, -0.0005, 0.0012, 0.2, 0.1)
some = tried(25)


def sheets(slug):
    """Sheets of a piece with plain mm and words for values, in either unit."""
    values = accepted_for(parts.templates()[slug])
    return st.tuples(values, st.sampled_from(["mm", "in"])).map(lambda both: made(slug, *both))


def made(slug, values, units):
    specs = parts.templates()[slug].parameters.specs()
    texts = {name: f"{value} mm" if specs[name].kind == "length" else value for name, value in values.items()}
    return draw(slug, **texts, units=units).measuring_sheet()


@pytest.mark.parametrize("slug", PIECES)
def test_every_place_is_on_the_piece_and_in_the_file(slug):
    @some
    @given(sheets(slug))
    def holds(sheet):
        x0, y0, x1, y1 = sheet.record.box
        text = sheet.to_toml()
        for place in sheet.places:
            assert place.nominal > 0
            for x, y in (place.start, place.end):
                assert x0 - 1e-9 <= x <= x1 + 1e-9
                assert y0 - 1e-9 <= y <= y1 + 1e-9
        assert re.findall(r'note = "(\w+)"', text) == [place.letter for place in sheet.places]
        pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(sheet.to_pdf())).pages]
        rows = [re.findall(r"^(?:drawn|read at) ", page, re.MULTILINE) for page in pages]
        assert sum(map(len, rows)) == len(sheet.places)
        assert all(rows), "no empty sheet"

    holds()


@pytest.mark.parametrize("slug", PIECES)
def test_what_is_filled_in_exactly_gives_the_errors_back(slug):
    """The nominal lengths in the file are those of the drawing to a ten thousandth of a mm; the rest is exact."""

    @some
    @given(sheets(slug))
    def holds(sheet):
        text = sheet.to_toml()
        for place in sheet.places:
            gap = 1.0 if place.kind == "reversal" else place.nominal
            text = text.replace('measured = ""', f'measured = "{gap:.6f} mm"', 1)
        _, readings = read(text)
        assert [(r.kind, r.note) for r in readings] == [(place.kind, place.letter) for place in sheet.places]
        for reading, place in zip(readings, sheet.places, strict=True):
            assert reading.nominal == pytest.approx(place.nominal, abs=1e-4)
            if place.kind != "reversal":
                assert math.cos(2 * (reading.direction - place.direction)) == pytest.approx(1, abs=1e-12)
        exact = [replace(reading, measured=shown(reading, TABLE)) for reading in readings]
        found = solve(exact).estimates
        assert set(found) == set(settles(exact))
        for name, each in found.items():
            limit = 1e-3 if name in ("scale_x", "scale_y", "out_of_square") else 0.1
            if each.standard_uncertainty < limit:
                assert each.value == pytest.approx(getattr(TABLE, name), abs=1e-8)

    holds()
