"""`platewright trace`: the part to a file, what was done to standard output, an exit status a script can go by."""

import json
import time

import pytest

from tests.files.readers import by_gdal
from tests.unit.test_pictures import KINDS
from tests.unit.test_pictures import REFUSED as UNOPENED
from webapp.cli import main
from webapp.commands.console import waiting

ENDINGS = ".dxf, .svg, .pdf, .png, .json"
SIZE = "isn't given: say how wide the finished piece shall be, as 300 mm or 12 in; a picture doesn't tell."
BOTH = "is given beside the width: give one of them, the other follows."


@pytest.fixture
def disc(tmp_path):
    path = tmp_path / "disc.png"
    path.write_bytes(KINDS["grey"])
    return path


def run(capsys, *words: object) -> tuple[int, list[str], list[str]]:
    status = main(["trace", *map(str, words)])
    out, err = capsys.readouterr()
    return status, out.splitlines(), [text for text in err.splitlines() if not text.startswith("caution: ")]


def test_a_picture_becomes_a_file(disc, capsys):
    target = disc.with_suffix(".dxf")
    status, out, err = run(capsys, disc, "--width", "8in", "--thickness", "1/8 in", "mount=plate", "-o", target)
    assert (status, err) == (0, [])
    assert out[0].startswith("disc.png: 203.2 by 203.")
    assert ", mild steel 3.175 mm thick, air plasma, 2 pierces" in out[0]
    assert out[-1].startswith("verdict: ")
    assert sorted(by_gdal(target.read_text("ascii"))) == ["INSIDE", "OUTSIDE"]
    assert run(capsys, disc, "--width", "9in", "--thickness", "3", "-o", target)[0] == 0  # its own file, written anew


def test_json_tells_all(disc, capsys):
    status = main(["trace", str(disc), "--height", "200", "--thickness", "3mm", "--json"])
    found = json.loads(capsys.readouterr().out)
    assert status == 0
    assert found["measures"]["height_mm"] == pytest.approx(200)
    assert found["traced"]["said"][-2].startswith("smoothed into 2 lines and arcs")


def test_what_is_wrong_is_said_in_a_line(disc, tmp_path, capsys):
    broken = tmp_path / "broken.png"
    broken.write_bytes(UNOPENED["cut short"][0])
    stated = ["--thickness", "3mm", "--width", "200"]
    for words, line in (
        ([disc], "thickness: isn't given: say how thick the plate is, such as 3 mm, 1/8 in or 11 ga."),
        ([disc, "--thickness", "3mm"], f"width: {SIZE}"),
        ([disc, *stated, "--height", "9"], f"height: 9 mm: {BOTH}"),
        ([disc, *stated, "width=9"], "width: 200, 9: is given more than once; leave out width= or --width."),
        ([disc, *stated, "-o", tmp_path / "d.txt"], f"output: {tmp_path / 'd.txt'}: must end in one of {ENDINGS}."),
        ([broken, *stated], "broken.png can't be traced: it is cut short; send the whole file."),
        ([tmp_path / "none.png", *stated], f"file: {tmp_path / 'none.png'}: can't be read: No such file or directory."),
    ):  # fmt: skip
        status, out, err = run(capsys, *words)
        assert (status, out, err) == (2, [], [line])


def test_a_file_of_somebody_else_is_written_over_only_by_force(disc, capsys):
    other = disc.with_suffix(".svg")
    other.write_text("<svg/>")
    words = [disc, "--thickness", "3mm", "--width", "200", "-o", other]
    assert run(capsys, *words)[2] == [
        f"output: {other}: is there, and Platewright didn't write it; name another, or say --force."
    ]
    assert run(capsys, *words, "--force")[0] == 0
    assert "own-outline" in other.read_text()


def test_a_stop_is_not_written_but_by_even_so(disc, capsys):
    target = disc.with_suffix(".pdf")
    words = [disc, "--thickness", "25mm", "--width", "100", "mount=plate", "holes=2", "hole=3mm", "-o", target]
    status, _, err = run(capsys, *words)
    assert status == 1
    assert f"{target}: not written; mend what stops it, or say --even-so." in err
    assert not target.exists()
    assert run(capsys, *words, "--even-so")[0] == 1
    assert target.read_bytes().startswith(b"%PDF")


def test_stopped_it_says_so_in_a_sentence(disc, capsys, monkeypatch):
    def stopped(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr("parts.trace", stopped)
    assert main(["trace", str(disc), "--width", "200", "--thickness", "3mm"]) == 130
    assert capsys.readouterr().err == "stopped; what was being made isn't written.\n"


def test_what_takes_long_is_told_on_a_terminal_and_wiped_away(capsys, monkeypatch):
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    monkeypatch.setattr("webapp.commands.console.progress._FIRST_S", 0.01)
    with waiting("tracing disc.png"):
        time.sleep(0.2)
    told = capsys.readouterr().err
    assert told.startswith("\rtracing disc.png, 0 s; Ctrl-C stops it")
    assert told.endswith(" \r")
