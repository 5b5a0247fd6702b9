"""The drawing sheet: title block by ISO 7200, the shop's own name and mark, the hole table."""

import io
import struct
import zlib

import pytest
from pypdf import PdfReader

import parts
from parts import Refused, shop
from parts.drawing import Path, lay_out_to_standard
from parts.errors import DataError
from parts.export.hole_table import FEW, MANY, hole_rows, numbered
from webapp import create_app
from webapp.cli import main

OWNER = '[title_block]\nowner = "Fernhollow community workshop"\ncreator = "A. Fern"\nmark = "{}"\n'
MARK = b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">' + (
    b'<path d="M0 0H9V9H0Z"/></svg>'
)


def words(part):
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(part.file("pdf"))).pages).split())


def png(wide, high):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head, rows = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0), (b"\x00" + bytes(wide)) * high
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def test_what_is_said_of_a_drawing_stands_in_its_title_block(tmp_path):
    said = {
        "revision": "B",
        "issued": "2026-12-01",
        "number": "FH-7",
        "drawn_by": "A. Fern",
        "approved_by": "B. Oak",
    }
    text = words(parts.draw("plate-base").titled(said))
    for each in (*said.values(), "Legal owner", "Approval person", "Revision index"):
        assert each in text, each
    out = tmp_path / "p.pdf"
    assert main(["draw", "plate-base", *(f"{k}={v}" for k, v in said.items()), "-o", str(out)]) == 0
    assert out.read_bytes() == parts.draw("plate-base").titled(said).file("pdf")
    client = create_app().test_client()
    assert client.get("/parts/plate-base.pdf", query_string=said).data == out.read_bytes()
    assert client.get("/parts/plate-base.dxf", query_string=said).data == parts.draw("plate-base").file("dxf")


@pytest.mark.parametrize(("text", "parameter"), [("x" * 40, ""), ("x" * 41, "revision"), ("a\x07", "revision")])
def test_what_doesnt_go_in_a_field_is_refused(text, parameter, tmp_path):
    status = main(["draw", "plate-base", f"revision={text}", "-o", str(tmp_path / "p.pdf")])
    assert status == (2 if parameter else 0)


@pytest.mark.parametrize(("name", "data"), [("m.svg", MARK), ("m.png", png(30, 20))], ids=["svg", "png"])
def test_the_shops_name_and_mark_are_on_it(own_file, name, data):
    bare = parts.draw("plate-base").file("pdf")
    (own_file.parent / name).write_bytes(data)
    own_file.write_text(OWNER.format(name))
    part = parts.draw("plate-base")
    assert "Fernhollow community workshop" in words(part)
    assert "A. Fern" in words(part)
    with_mark = part.file("pdf")
    own_file.write_text(OWNER.format(""))
    assert len({bare, with_mark, parts.draw("plate-base").file("pdf")}) == 3
    assert (b"/Subtype /Image" in with_mark) == (name == "m.png")


@pytest.mark.parametrize(
    ("name", "data", "sentence"),
    [
        ("m.png", None, "m.png can't be read beside the shop's own file"),
        ("m.png", png(2001, 1), "m.png has 2001 by 1 pixels; up to 2000 by 2000 are read"),
        ("m.png", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "m.png has 0 by 0 pixels"),
        ("m.png", png(9, 9)[:44], "m.png can't be drawn"),
        ("m.svg", b"GIF89a", "m.svg is neither PNG nor SVG"),
        ("m.svg", MARK + b" " * 300_000, "m.svg has more than 300 kB"),
        ("m.svg", b"<svg", "m.svg can't be drawn"),
    ],
)
def test_a_mark_that_cant_be_used_is_told(own_file, name, data, sentence):
    if data is not None:
        (own_file.parent / name).write_bytes(data)
    own_file.write_text(OWNER.format(name))
    with pytest.raises(DataError, match=r"^title_block\.mark: ") as told:
        parts.draw("plate-base").file("pdf")
    assert sentence in str(told.value)


@pytest.mark.parametrize("name", ["../m.png", "a/m.png", "/etc/m.png", "..\\\\m.png", "m.gif", "x" * 60 + ".png"])
def test_a_mark_stands_beside_the_shops_own_file(own_file, name):
    own_file.write_text(OWNER.format(name))
    with pytest.raises(DataError, match=r"title_block\.mark"):
        shop.load(shop.edition())


def test_the_page_of_the_shop_sets_it(own_file):
    client = create_app({"SHOP_EDITS": True}).test_client()
    page = client.get("/shop").text
    for name in ("owner", "mark", "creator", "approval", "document_type", "tolerances"):
        assert f'name="title_block.{name}"' in page


def test_tolerances_are_the_process_s_class_unless_the_shop_says(own_file):
    assert "Cut: ISO 9013, tolerance class 1" in words(parts.draw("plate-base", process="laser"))
    assert "As agreed; ISO 9013 has no class for this cut" in words(parts.draw("plate-base", process="waterjet"))
    own_file.write_text('[title_block]\ntolerances = "ISO 2768-m"\n')
    assert "ISO 2768-m" in words(parts.draw("plate-base"))


# ------------------------------------------------------------------------------------------------- the hole table


def test_holes_are_where_the_plate_has_them():
    """The motor mount of 180 by 180 has its mounting holes 18 in from each side, as its parameters say."""
    part = parts.draw("plate-motor", mounts="corners")
    rows = hole_rows(part.record)
    corners = sorted(row.at for row in rows if row.diameter == max(r.diameter for r in rows if r.diameter < 50))
    assert corners == [(18, 18), (18, 162), (162, 18), (162, 162)]
    assert [row.number for row in rows] == list(range(1, len(rows) + 1))
    heights = [round(row.at[1], 6) for row in rows]
    assert heights == sorted(heights)
    assert "Holes, from the lower left corner" in words(part)


@pytest.mark.parametrize(("count", "told"), [(FEW, 0), (FEW + 1, FEW + 1), (MANY, MANY), (MANY + 1, 0)])
def test_the_table_is_for_neither_few_holes_nor_too_many(count, told):
    part = parts.draw("flange-round", od=2000, bolt_circle=1800, bore=0, holes=count)
    assert len(hole_rows(part.record)) == told


def test_each_hole_has_its_number_beside_it():
    record = parts.draw("flange-round", od=600, bolt_circle=500, holes=12).record
    drawing = lay_out_to_standard(record, 200, 150, 3.5)
    rows, more = hole_rows(record), numbered(record, drawing).groups[-1]
    assert [text.text for text in more.texts] == [str(row.number) for row in rows]
    for row, text in zip(rows, more.texts, strict=True):
        x, y = (o + at * drawing.scale for o, at in zip(drawing.origin, row.at, strict=True))
        near = max(abs(text.at[0] - x), abs(text.at[1] - y))
        assert near <= row.diameter / 2 * drawing.scale + 1.5 * text.size
    assert numbered(parts.draw("plate-base").record, drawing) is drawing


@pytest.mark.parametrize("slug", ["plate-motor", "plate-adapter"])
def test_no_line_runs_through_the_number_of_a_hole(slug):
    record = parts.draw(slug).record
    drawing = lay_out_to_standard(record, 200, 150, 3.5)
    items = [item for group in drawing.groups for item in group.items if isinstance(item, Path)]
    places = [segment.at(i / 200) for item in items for segment in item.segments for i in range(201)]
    for text in numbered(record, drawing).groups[-1].texts:
        x0, y0, x1, y1 = text.box
        assert not any(x0 < x < x1 and y0 < y < y1 for x, y in places), text.text


def test_the_title_block_refuses_by_name():
    with pytest.raises(Refused) as refused:
        parts.export.title_block.taken_out("plate-base", {"revision": "x" * 50, "issued": "\x00"})
    assert [problem.parameter for problem in refused.value.problems] == ["revision", "issued"]
