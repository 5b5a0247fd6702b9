"""Tables as other programs write them: CSV in every dress (RFC 4180 and more), XLSX by another writer."""

import io
import re
import zipfile
from pathlib import Path

import pytest

from parts.errors import UnitsError, Unreadable
from parts.tables import read_table, series

# written by openpyxl 3.1.5 (MIT): numbers as numbers and as text, an empty row, a date, a formula, an error, a flag
WORKBOOK = (Path(__file__).parents[1] / "reference" / "tables" / "written_by_openpyxl.xlsx").read_bytes()
PLAIN = "part,Leg A,name\ngusset-triangle,100.5,left\n\ndisc,,\n"


def cells(data):
    return [
        (row.number, {name: cell.text for name, cell in row.cells.items()}) for row in read_table(data, "t.csv").rows
    ]


EXPECTED = [(1, {"part": "gusset-triangle", "leg_a": "100.5", "name": "left"}), (3, {"part": "disc"})]


@pytest.mark.parametrize(
    "data",
    [
        PLAIN.encode(),
        PLAIN.encode("utf-8-sig"),
        PLAIN.encode("utf-16"),
        PLAIN.replace("\n", "\r\n").encode(),
        PLAIN.replace("\n", "\r").encode(),
        PLAIN.replace(",", ";").encode(),
        PLAIN.replace(",", "\t").encode(),
        b"sep=;\r\n" + PLAIN.replace(",", ";").encode(),
        PLAIN.replace("Leg A", '" leg-a "').replace("left", '"left"').encode(),
        b"\n\n" + PLAIN.encode(),
    ],
    ids=["plain", "bom", "utf-16", "crlf", "cr", "semicolons", "tabs", "sep", "quoted", "blank lines first"],
)
def test_the_same_table_however_it_is_written(data):
    assert cells(data) == EXPECTED


def test_what_cells_may_hold():
    table = read_table('part;name\ndisc;"a ""b""\r\nc; d"\ndisc;Gr\u00f6\u00dfe\n'.encode("cp1252"), "t.csv")
    assert [row.cells["name"].text for row in table.rows] == ['a "b"\r\nc; d', "Gr\u00f6\u00dfe"]
    assert table.decimal_comma
    assert not read_table(PLAIN.encode(), "t.csv").decimal_comma


def test_a_workbook_of_another_program():
    rows = read_table(WORKBOOK, "gate.xlsx").rows
    assert [row.number for row in rows] == [1, 3, 4, 5, 6]
    assert [row.cells["leg_a"].text for row in rows[:2]] == ["101.6", "100.3"]
    assert [row.cells["quantity"].text for row in rows] == ["12", "3", "1", "1", "yes"]
    assert [row.cells["leg_a"].fault.split(",")[0].split(";")[0] for row in rows[2:]] == [
        "is a date or a time",
        "is a formula without a saved result",
        "is what a formula came to",
    ]
    assert "remark" not in " ".join(rows[0].cells)


def repacked(**changed):
    """The workbook with pieces exchanged."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(WORKBOOK)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            for piece, change in changed.items():
                data = change(data) if piece in name else data
            new.writestr(name, data)
    return out.getvalue()


def with_shared_strings(*, missing=False):
    """The workbook as most programs write it: text told once, in a piece of its own, some of it in several styles."""
    strings = []

    def told(match):
        strings.append(match[1])
        return b' t="s"><v>%d</v>' % (len(strings) - 1 + 1000 * missing)

    with zipfile.ZipFile(io.BytesIO(repacked(sheet1=lambda xml: xml))) as old:
        sheet = re.sub(rb' t="inlineStr"><is><t>([^<]*)</t></is>', told, old.read("xl/worksheets/sheet1.xml"))
    items = [b"<si><r><t>%s</t></r><r><t>%s</t></r><rPh><t>aloud</t></rPh></si>" % (s[:2], s[2:]) for s in strings]
    out = io.BytesIO(repacked(sheet1=lambda _: sheet))
    with zipfile.ZipFile(out, "a") as more:
        more.writestr("xl/sharedStrings.xml", b"<sst>" + b"".join(items) + b"</sst>")
    return out.getvalue()


def test_text_that_is_told_once_is_the_same_text():
    assert read_table(with_shared_strings(), "t") == read_table(WORKBOOK, "t")


def test_a_formula_is_its_saved_result():
    saved = repacked(sheet1=lambda xml: xml.replace(b"<f>4*25.4</f><v />", b"<f>4*25.4</f><v>101.6</v>"))
    assert read_table(saved, "t.xlsx").rows[3].cells["leg_a"].text == "101.6"


ENTITIES = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "' + b"a" * 1000 + b'">]><worksheet><sheetData/></worksheet>'


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "is an empty table"),
        (b"part\n", "names and no rows"),
        (b"part,part\na,b\n", "columns A and B are both called 'part'"),
        (b"part,name\na,b,c\n", "row 1, column C: 'c' stands under no name"),
        (b'part,name\n"a,b\n', "from line 2 on: a quote isn't closed"),
        (b"part\n" + b"a\n" * 200_001, "a table may have 200,000"),
        (b"part\0\n", "neither text nor a workbook"),
        (b"%PDF-1.7", "is a PDF"),
        (b"\xd0\xcf\x11\xe0\xa1", "an old workbook"),
        (WORKBOOK[:3000], "isn't a workbook that can be read"),
        (repacked(sheet1=lambda _: ENTITIES), "isn't a workbook that can be read"),
        (repacked(sheet1=lambda _: ENTITIES.decode().encode("utf-16")), "isn't a workbook that can be read"),
        (repacked(sheet1=lambda _: b" " * 60_000_000), "unpacks to more than 48 MB"),
        (repacked(sheet1=lambda xml: xml.replace(b'r="7"', b'r="7000000"')), "has a row 7000000"),
        (repacked(sheet1=lambda xml: xml.replace(b'r="D7"', b'r="XFD7"')), "something in column 16384"),
        (with_shared_strings(missing=True), "isn't a workbook that can be read"),
        (repacked(workbook=lambda _: b"<a/>"), "has no sheet that is shown"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_what_is_no_table_is_refused_in_a_sentence(data, said):
    with pytest.raises(Unreadable, match=r"^t[: ]") as refused:
        read_table(data, "t")
    assert said in str(refused.value)


def test_series():
    assert series("50..200 step 50", "length", "mm") == ("50mm", "100mm", "150mm", "200mm")
    assert series("2in .. 3 in step 3/8", "length", "in") == ("2in", "2-3/8in", "2-3/4in")
    assert series("0.1..0.5 step .1", "length", "mm") == ("0.1mm", "0.2mm", "0.3mm", "0.4mm", "0.5mm")
    assert series("30..0 step -15", "angle", "mm") == ("30", "15", "0")
    assert series("3..6 step 1", "count", "mm") == ("3", "4", "5", "6")


@pytest.mark.parametrize("text", ["1..2", "1..5 step 0", "5..1 step 1", "1..1e9 step 1", "a..b step c", "1..9 step"])
def test_series_that_lead_nowhere(text):
    with pytest.raises(UnitsError):
        series(text, "length", "mm")
