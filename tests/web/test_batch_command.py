"""`platewright batch`: files for every row, a report, and what becomes of a run that is begun again."""

import csv
import json
import shutil

import pytest

import parts
from webapp.cli import main

TABLE = """part;leg_a;quantity;name;thickness;text
gusset-triangle;100,5;3;left;6;
gusset-triangle;50..150 step 50;;;6;

gusset-triangl;50;1;;6;
gusset-triangle;5O;2;wrong;6;
drawing.dxf;;1;theirs;6;
gusset-triangle;90;1;LEFT;6;
sign-plate;;1;sign;3;A, B
../away.dxf;;1;;6;
plate-base;;x;;10;
"""


@pytest.fixture
def table(tmp_path):
    (tmp_path / "t.csv").write_text(TABLE, encoding="utf-8")
    (tmp_path / "drawing.dxf").write_bytes(parts.draw("plate-washer").file("dxf"))
    return tmp_path / "t.csv"


def files(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_rows_are_made_and_bad_ones_are_told(table, capsys):
    out = table.parent / "out"
    assert main(["batch", str(table), "-o", str(out), "--format", "dxf,json"]) == 2
    told = capsys.readouterr().err
    assert told.splitlines() == [
        "row 4: part: gusset-triangl: is no template; did you mean gusset-triangle?",
        next(line for line in told.splitlines() if line.startswith("row 5: leg_a: 5O: ")),
        "row 7: name: LEFT: is what row 1 is called too, so its files would be one.",
        "row 9: part: ../away.dxf: leads out of the table's folder; put the drawing beside the table, and name it "
        "from there.",
        next(line for line in told.splitlines() if line.startswith("row 10: quantity: x: ")),
    ]
    made = files(out)
    series = [f"002-gusset-triangle-leg_a-{mm}mm" for mm in (50, 100, 150)]
    names = ["left", *series, "theirs", "sign"]
    assert set(made) == {f"{name}.{kind}" for name in names for kind in ("dxf", "json")} | {"report.csv", "report.json"}
    alone = parts.draw("gusset-triangle", leg_a="100.5", thickness="6")
    assert made["left.dxf"] == alone.file("dxf")
    assert json.loads(made["sign.json"])["parameters"]["text"] == "A, B"
    rows = json.loads(made["report.json"])["rows"]
    assert [row["row"] for row in rows] == [1, 2, 2, 2, 4, 5, 6, 7, 8, 9, 10]
    assert rows[0]["quantity"] == 3
    assert rows[0]["measures"]["area_mm2"] == alone.measures.area_mm2
    lines = list(csv.DictReader((out / "report.csv").read_text("utf-8").splitlines()))
    assert {line["row"]: line["status"] for line in lines}["9"] == "refused"


def test_several_processes_make_the_same_bytes(table):
    for folder, workers in (("one", "1"), ("two", "2")):
        main(["batch", str(table), "-o", str(table.parent / folder), "--workers", workers])
    assert files(table.parent / "one") == files(table.parent / "two")


def test_begun_again_it_makes_what_is_missing(table, capsys):
    """Also where the run before was stopped in the middle of a line of what it had done."""
    out = table.parent / "out"
    main(["batch", str(table), "-o", str(out)])
    before = files(out)
    capsys.readouterr()
    rows = json.loads(before["report.json"])["rows"]
    done = "".join(json.dumps(row) + "\n" for row in rows[:2])
    (out / "report.json").unlink()
    (out / "report.unfinished.jsonl").write_text(done + json.dumps(rows[2])[:80], encoding="utf-8")
    (out / "left.dxf").unlink()
    (out / ".sign-ab12_cd3.dxf").write_text("half", encoding="utf-8")
    (out / ".mine-ab12_cd3.dxf").write_text("stays", encoding="utf-8")
    times = {path.name: path.stat().st_mtime_ns for path in out.glob("[!.]*.dxf")}
    assert main(["batch", str(table), "-o", str(out)]) == 2
    assert ", 1 parts made before" in capsys.readouterr().out
    assert files(out) == before | {".mine-ab12_cd3.dxf": b"stays"}
    assert all((out / name).stat().st_mtime_ns == then for name, then in times.items())


def test_a_file_that_differs_stays_until_it_is_said(table, capsys):
    out = table.parent / "out"
    table.write_text("part,leg_a,name\ngusset-triangle,80,g\ngusset-triangle,90,h\n", encoding="utf-8")
    run = ["batch", str(table), "-o", str(out)]
    assert main(run) == 0
    was = files(out)
    table.write_text("part,leg_a,name\ngusset-triangle,81,g\ngusset-triangle,90,h\n", encoding="utf-8")
    assert main(run) == 2
    assert (
        "row 1: name: g.dxf: is there already and differs; it stays. --replace exchanges it." in capsys.readouterr().err
    )
    assert files(out)["g.dxf"] == was["g.dxf"]
    assert main([*run, "--replace"]) == 0
    assert files(out)["g.dxf"] == parts.draw("gusset-triangle", leg_a="81").file("dxf")
    (out / "h.dxf").write_text("my own notes", encoding="utf-8")
    assert main([*run, "--replace"]) == 2
    assert files(out)["h.dxf"] == b"my own notes"
    shutil.rmtree(out)
    out.mkdir()
    (out / "report.csv").write_text("mine", encoding="utf-8")
    assert main(run) == 2
    assert files(out) == {"report.csv": b"mine"}


def test_a_stop_finding_is_told_and_nothing_written(table, capsys):
    out = table.parent / "out"
    table.write_text("part,thickness,small_holes,name\nplate-base,16,cut,p\n", encoding="utf-8")
    run = ["batch", str(table), "-o", str(out)]
    assert main(run) == 1
    told = capsys.readouterr().err
    assert "row 1: p: stop: hole-to-thickness: " in told
    assert set(files(out)) == {"report.csv", "report.json"}
    assert main([*run, "--even-so"]) == 1
    assert "p.dxf" in files(out)


@pytest.mark.parametrize(
    ("text", "words", "said"),
    [
        ("prt\ndisc\n", [], "has no column part, which says what each row is; is it prt?"),
        ("part,lag_a\ngusset-triangle,5\n", [], "'lag_a' is a parameter of no part in this table; did you mean leg_a?"),
        ("part\ndisc\n", ["--format", "dfx"], "format: dfx: must be of dxf, svg, pdf, step, glb, png, json"),
        ("part\ndisc\n", ["--workers", "0"], "workers: 0: must be 1 to 256"),
        ("part,name\ngusset-triangle,con\n", [], "row 1: name: con: is the name of a device"),
        ("part,name\ngusset-triangle,a:b\n", [], "row 1: name: a:b: has : in it"),
        ("part,name\ngusset-triangle,..\n", [], "row 1: name: ..: can't be a file's name"),
        ("part\n/etc/passwd.dxf\n", [], "row 1: part: /etc/passwd.dxf: leads out of the table's folder"),
        ("part\nC:\\x.dxf\n", [], "row 1: part: C:\\x.dxf: leads out of the table's folder"),
        ("part\nnowhere.dxf\n", [], "row 1: part: nowhere.dxf: isn't there"),
        ("part,leg_a\ngusset-triangle,1..5\n", [], "row 1: leg_a: 1..5: needs its step"),
        ("part,mirror\ngusset-triangle,perhaps\n", [], "row 1: mirror: perhaps: must be yes or no."),
        ("part,turns\ngusset-triangle,quater\n", [], "must be one of any, quarter, half, none; did you mean quarter?"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_what_is_wrong_is_said_in_a_sentence(text, words, said, tmp_path, capsys):
    (tmp_path / "t.csv").write_text(text, encoding="utf-8")
    assert main(["batch", str(tmp_path / "t.csv"), "-o", str(tmp_path / "out"), *words]) == 2
    assert said in capsys.readouterr().err
    assert not list((tmp_path).glob("out/*.dxf"))


def test_a_link_out_of_the_folder_is_refused(tmp_path, capsys):
    (tmp_path / "secret.dxf").write_bytes(parts.draw("plate-washer").file("dxf"))
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "p.dxf").symlink_to(tmp_path / "secret.dxf")
    (tmp_path / "shop" / "t.csv").write_text("part,thickness\np.dxf,6\n", encoding="utf-8")
    assert main(["batch", str(tmp_path / "shop" / "t.csv"), "-o", str(tmp_path / "out")]) == 2
    assert "is a link out of the table's folder" in capsys.readouterr().err
