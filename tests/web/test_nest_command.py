"""`platewright nest`: the contract's JSON, held against exact distances and the files read by another reader."""

import io
import json

import ezdxf
import pypdf
import pytest

import parts
from tests import laid_out
from webapp.cli import main

# half is said of the row whose drawing isn't at its own origin; 16 mm plate is cut from a sheet of its own
TABLE = """part,quantity,name,thickness,turns,mirror,leg_a
gusset-triangle,6,left,6,any,yes,160
their.dxf,3,theirs,6,half,,
gusset-triangle,2,thick,16,,,120
plate-ring,1,ring,6,,,
gusset-triangle,1,long,6,none,,900
"""


@pytest.fixture
def table(tmp_path):
    (tmp_path / "t.csv").write_text(TABLE, encoding="utf-8")
    document = ezdxf.new("R2010")
    document.units = ezdxf.units.MM
    model = document.modelspace()
    model.add_lwpolyline([(1000, 500), (1200, 500), (1100, 640)], close=True)
    model.add_circle((1100, 550), 25)
    document.saveas(tmp_path / "their.dxf")
    return tmp_path / "t.csv"


def nested(table, capsys, *words):
    status = main(["nest", str(table), "--json", "--time", "0", *words])
    out = capsys.readouterr()
    return status, json.loads(out.out), out.err


def test_every_part_lies_where_the_json_says(table, capsys):
    out = table.parent / "out"
    status, told, err = nested(table, capsys, "-o", str(out), "--sheet", "600x500mm", "--gap", "8", "--margin", "12")
    assert status == 1
    assert told["unplaced"] == [
        {"row": 5, "part": "gusset-triangle", "why": "it is too large for every sheet, the margin taken off"}
    ]
    assert "row 5: gusset-triangle: 1 not placed: it is too large" in err
    values = {1: {"leg_a": "160"}, 3: {"leg_a": "120", "thickness": "16"}}
    profiles = {row: parts.draw("gusset-triangle", **given).profile for row, given in values.items()}
    profiles[4] = parts.draw("plate-ring").profile
    theirs = (table.parent / "their.dxf").read_bytes()
    profiles[2] = parts.check(theirs, "their.dxf", thickness="6").part.profile
    rows = [each["row"] for sheet in told["sheets"] for each in sheet["placements"]]
    assert sorted(rows) == [1] * 6 + [2] * 3 + [3] * 2 + [4]
    for sheet in told["sheets"]:
        assert {each["row"] == 3 for each in sheet["placements"]} == {sheet["thickness_mm"] == 16}
        assert (sheet["width_mm"], sheet["height_mm"], sheet["gap_mm"]) == (600, 500, 8)
        loops = [_placed(profiles, each) for each in sheet["placements"]]
        assert list(laid_out.wrong(loops, 600, 500, 8, 12)) == []
        area = sum(parts_area(profiles[each["row"]]) for each in sheet["placements"])
        assert sheet["yield"] == pytest.approx(area / (600 * 500), rel=1e-9)
    assert {each["turn_deg"] for sheet in told["sheets"] for each in sheet["placements"] if each["row"] == 2} <= {
        0,
        180,
    }
    _files_hold_it(out, told)


def parts_area(profile):
    return sum(loop.area for loop in profile.outside) - sum(opening.loop.area for opening in profile.inside)


def _placed(profiles, each):
    """By the part's own coordinates: of the drawing, those that its file has."""
    profile, at = profiles[each["row"]], (each["x_mm"], each["y_mm"])
    if each["row"] == 2:
        (moved,) = [laid_out.place(profile, 1000, 500, 0, False)]
        from types import SimpleNamespace

        profile = SimpleNamespace(boundary=[SimpleNamespace(segments=loop) for loop in moved])
    return laid_out.place(profile, *at, each["turn_deg"], each["mirrored"])


def _files_hold_it(out, told):
    """The DXF of each sheet has a closed outline for each part, within the sheet, the ring's inner parts before it."""
    for sheet in told["sheets"]:
        assert (out / sheet["file"]).read_bytes().index(b"SECTION") < 6 * 1024
        document = ezdxf.readfile(out / sheet["file"])
        assert not document.audit().errors
        model = document.modelspace()
        outside = [e for e in model if e.dxf.layer == "OUTSIDE"]
        assert len(outside) == len(sheet["placements"])
        assert {e.dxf.layer for e in model} <= {"OUTSIDE", "INSIDE", "SCRIBE", "BEND", "DRILL", "NOTES"}
        numbers = [e.dxf.text for e in model if e.dxf.layer == "NOTES"]
        assert numbers == [str(n + 1) for n in range(len(outside))]
        assert all(e.dxftype() == "CIRCLE" or e.closed for e in outside)
    pdf = pypdf.PdfReader(io.BytesIO((out / "layout.pdf").read_bytes()))
    text = "\n".join(page.extract_text() for page in pdf.pages)
    placed = [each for sheet in told["sheets"] for each in sheet["placements"]]
    labels = "\n".join(page.extract_text() for page in pdf.pages[len(told["sheets"]) :])
    assert f"Sheet 1 of {len(told['sheets'])}" in text
    assert all(labels.count(each["name"]) >= placed.count(each) for each in placed)
    written = json.loads((out / "layout.json").read_text("utf-8"))
    assert {name: written[name] for name in told} == told


def test_an_earlier_layout_is_exchanged_whole_or_stays(table, capsys):
    out = table.parent / "out"
    words = ["-o", str(out), "--sheet", "600x500"]
    assert nested(table, capsys, *words)[0] == 1
    was = {path.name: path.read_bytes() for path in out.iterdir()}
    with pytest.raises(json.JSONDecodeError):
        nested(table, capsys, *words)
    assert {path.name: path.read_bytes() for path in out.iterdir()} == was
    assert nested(table, capsys, "-o", str(out), "--sheet", "4ftx8ft", "--replace")[0] == 0
    assert sorted(path.name for path in out.iterdir()) == ["layout.json", "layout.pdf", "sheet-01.dxf", "sheet-02.dxf"]
    (out / "sheet-07.dxf").write_text("mine", encoding="utf-8")
    with pytest.raises(json.JSONDecodeError):
        nested(table, capsys, *words, "--replace")
    assert (out / "sheet-07.dxf").read_text("utf-8") == "mine"


def test_refused_rows_are_told_and_the_others_laid_out(table, capsys):
    table.write_text("part,leg_a\ngusset-triangle,5O\ngusset-triangle,90\n", encoding="utf-8")
    status, told, err = nested(table, capsys, "--sheet", "4ft x 8ft:2")
    assert status == 2
    assert err.startswith("row 1: leg_a: 5O: ")
    assert told["unplaced"][0]["row"] == 1
    assert [[each["row"] for each in sheet["placements"]] for sheet in told["sheets"]] == [[2]]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--sheet", "4ft"], "sheet: 4ft: isn't a size: write it as 4ftx8ft"),
        (["--sheet", "4ftx8fd"], "sheet: 4ftx8fd: "),
        (["--sheet", "1x2"], "sheet: 1x2: is out of the sizes of sheets"),
        (["--sheet", "4ftx8ft:0"], "sheet: 4ftx8ft:0: has no number of sheets"),
        (["--sheet", "4ftx8ft", "--gap", "wide"], "gap: wide: "),
        (["--sheet", "100x100", "--margin", "60"], "margin: 60 mm: leaves nothing of the sheet"),
        (["--sheet", "4ftx8ft", "--time", "soon"], "time: soon: must be seconds, 0 to 3600"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_what_is_wrong_is_said_in_a_sentence(words, said, table, capsys):
    assert main(["nest", str(table), "--json", *words]) == 2
    assert capsys.readouterr().err.startswith(said)
