"""The pattern in true size: measured on every sheet as pypdf reads it, and over the joins between sheets."""

import io
import math
from itertools import combinations, pairwise

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

import parts
from parts import Refused
from parts.export import pdf_pattern
from parts.export.tiles import FOOT, MARGIN, OVERLAP, tiled
from tests.files.test_pdf import POINT, _moved, _times
from webapp import create_app
from webapp.cli import main

PAPERS = {"A4": (297, 210), "A3": (420, 297), "letter": (279.4, 215.9), "tabloid": (431.8, 279.4)}
"""Long and short side, mm: ISO 216 and ANSI/ASME Y14.1."""
TRUE_MM = 0.1
"""What a pattern may be off over 250 mm; a printer's own error comes to it."""


def drawn(slug="plate-base", **values):
    return parts.draw(slug, **values).showing("pattern")


def sheets(content):
    return PdfReader(io.BytesIO(content)).pages


def strokes(page):
    """Every stroked path of a sheet: the ends of its pieces, mm on the paper, and how wide its line is, mm."""
    state, stack, path, found = ((1, 0, 0, 1, 0, 0), 1.0), [], [], []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator in (b"q", b"Q", b"cm", b"w"):
            state = changed(state, stack, operator, operands)
        elif operator in (b"m", b"l", b"c"):
            path = [] if operator == b"m" else path
            path.append(_moved([float(o) for o in operands[-2:]], state[0]))
        elif operator in (b"S", b"s"):
            found.append((path, state[1]))
    return found


def changed(state, stack, operator, operands):
    """The matrix and the width of lines after an operator, which may put them by or bring them back."""
    if operator == b"q":
        stack.append(state)
    elif operator == b"Q":
        return stack.pop()
    elif operator == b"cm":
        return _times([float(o) for o in operands], state[0]), state[1]
    elif operator == b"w":
        return state[0], float(operands[0])
    return state


def outline(page):
    """The part's own lines: those that are thick."""
    return [path for path, width in strokes(page) if width == 0.3]


def bars(page):
    """The lengths of the bars in the strip at the foot."""
    lines = [path for path, width in strokes(page) if width == 0.25 and len(path) == 2]
    return sorted(math.dist(*line) for line in lines if math.dist(*line) > 90)


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_every_sheet_is_the_paper_and_has_both_bars(paper):
    pages = sheets(drawn(width=250, height=600, paper=paper).file("pdf"))
    assert len(pages) > 1
    for page in pages:
        size = sorted((float(page.mediabox.width) * POINT, float(page.mediabox.height) * POINT), reverse=True)
        assert size == pytest.approx(PAPERS[paper], abs=0.01)
        assert bars(page) == pytest.approx([100.0, 101.6], abs=1e-3)


@pytest.mark.parametrize(("wide", "paper", "count"), [(250, "A3", 1), (240, "letter", 1), (900, "A4", 4)])
def test_a_length_is_true_on_a_sheet_and_over_the_joins(wide, paper, count):
    part = drawn(width=wide, height=150, corner_radius=0, paper=paper)
    pages = sheets(part.file("pdf"))
    tiling = tiled((0, 0, wide, 150), *PAPERS[paper])
    assert len(pages) == count == tiling.rows * tiling.columns
    left, right = [], []
    for page, tile in zip(pages, tiling.tiles, strict=True):
        xs = [x + tile.field[0] - MARGIN for path in outline(page) for x, _ in path]
        left.append(min(xs))
        right.append(max(xs))
    assert min(left) == pytest.approx(0, abs=TRUE_MM / 10)
    assert max(right) - min(left) == pytest.approx(wide, abs=TRUE_MM / 10)


def test_joins_of_two_sheets_are_the_same_places_of_the_part():
    tiling = tiled((0, 0, 700, 500), *PAPERS["A4"])
    tiles = list(tiling.tiles)
    assert tiling.rows * tiling.columns == 8
    for one, other in combinations(tiles, 2):
        beside = abs(one.row - other.row) + abs(one.column - other.column) == 1
        assert len(set(tiling.joins(one)) & set(tiling.joins(other))) == (2 if beside else 0)
    across = [tile.field for tile in tiles if tile.row == 0]
    assert [b[0] - a[2] for a, b in pairwise(across)] == [-OVERLAP] * (tiling.columns - 1)
    x0, y0, x1, y1 = tiles[0].field
    assert x1 - x0 <= tiling.width - 2 * MARGIN + 1e-9
    assert y1 - y0 <= tiling.height - 2 * MARGIN - FOOT + 1e-9


def test_sheets_that_show_nothing_are_left_out_and_the_file_opens_again(tmp_path):
    part = drawn("plate-ring", od=900, bore=800)
    whole = tiled(part.profile.box, *PAPERS["A4"])
    content = part.file("pdf")
    pages = sheets(content)
    assert len(pages) < whole.rows * whole.columns
    assert f"Sheet 1 of {len(pages)}, true size." in pages[0].extract_text()
    (tmp_path / "p.pdf").write_bytes(content)
    assert main(["open", str(tmp_path / "p.pdf")]) == 0
    assert part.file("pdf") == content, "another file of the same part"


def test_more_sheets_than_anybody_tapes_together_are_refused(monkeypatch):
    part = drawn(width=500, height=500)
    count = len(sheets(part.file("pdf")))
    monkeypatch.setattr(pdf_pattern, "MOST_SHEETS", count - 1)
    with pytest.raises(Refused, match=f"takes {count} sheets in true size, more than {count - 1}: take a larger paper"):
        part.file("pdf")


def test_what_cant_be_shown_is_refused(capsys, tmp_path):
    def refused(*words):
        status = main(["draw", "plate-base", "-o", str(tmp_path / "p.dxf"), *words])
        return status, capsys.readouterr().err

    assert refused("shows=pattern")[0] == 2
    assert "take pdf" in refused("shows=pattern")[1]
    assert "did you mean pattern?" in refused("shows=patern")[1]
    client = create_app().test_client()
    assert client.get("/parts/plate-base.step?shows=pattern").status_code == 422
    answer = client.get("/parts/plate-base.pdf?shows=pattern")
    assert answer.headers["Content-Disposition"].endswith('_pattern.pdf"')
