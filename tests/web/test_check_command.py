"""`platewright check`: findings to standard output, and an exit status that a script can go by."""

import io
import json
import sys

import pytest

import parts
from parts.checking.checked import FORMATS
from parts.read import read_drawing
from tests.files.foreign import UNITLESS, circle, dxf, line
from tests.unit.test_own import box
from webapp.cli import main

SOUND = dxf(box(100, 60) + circle(50, 30, 10))
SMALL = dxf(box(100, 60) + circle(10, 10, 2))


@pytest.fixture
def file(tmp_path):
    def make(data=SOUND, name="plate.dxf") -> str:
        path = tmp_path / name
        path.write_bytes(data)
        return str(path)

    return make


def run(capsys, *words: str) -> tuple[int, list[str], list[str]]:
    status = main(["check", *words])
    out, err = capsys.readouterr()
    return status, out.splitlines(), [text for text in err.splitlines() if not text.startswith("caution: ")]


def test_a_small_part_weighs_something(file, capsys):
    """A disc of 10 mm in 3 mm steel by hand: 3.1416 * 25 * 3 mm3 * 7.85e-6 kg/mm3 = 0.00185 kg."""
    out = run(capsys, file(dxf(circle(0, 0, 5), units=4)), "--thickness", "3")[1]
    assert out[0].endswith(", 0.00185 kg (0.00408 lb)")


def test_a_sound_drawing_in_three_lines(file, capsys):
    assert run(capsys, file(), "--thickness", "6") == (0, [
        "plate.dxf: 100 mm x 60 mm, mild steel 6 mm thick, air plasma, 2 pierces, cut length 383 mm, "
        "0.268 kg (0.59 lb)",
        "no findings",
        "healed up to: 0.1 mm",
    ], [])  # fmt: skip


def test_a_stop_is_exit_status_1_with_its_place(file, capsys):
    status, out, _ = run(capsys, file(SMALL), "--thickness", "6")
    assert status == 1
    assert out[1] == (
        "stop: hole-to-thickness: The hole is 4 mm in 6 mm plate; air plasma wants 9 mm. "
        "Drill it instead, or make it 9 mm or more. (at 10 mm, 10 mm)"
    )


def test_findings_alike_are_one_line(file, capsys):
    holes = dxf(box(300, 40) + "".join(circle(20 + 26 * i, 20, 2) for i in range(11)), units=4)
    status, out, _ = run(capsys, file(holes), "--thickness", "6")
    (line,) = (line for line in out if line.startswith("stop: hole-to-thickness: "))
    assert (status, line.partition("(at ")[2]) == (1, "20 mm, 20 mm) 10 more places like it.")


def test_what_was_healed_is_told(file, capsys):
    gap = dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.03, 40, 0, 40) + line(0, 40, 0, 0))
    assert run(capsys, file(gap), "--thickness", "6")[1][1] == "healed: joined 1 gap of up to 0.03 mm"


def test_the_tolerance_of_healing_is_asked_for_and_stated(file, capsys):
    gap = dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.3, 40, 0, 40) + line(0, 40, 0, 0))
    status, out, _ = run(capsys, file(gap), "--thickness", "6")
    assert (status, out[-1]) == (1, "healed up to: 0.1 mm")
    status, out, _ = run(capsys, file(gap), "--thickness", "6", "--tolerance", "0.4")
    assert (status, out[1], out[-1]) == (0, "healed: joined 1 gap of up to 0.3 mm", "healed up to: 0.4 mm")
    out = run(capsys, file(), "--thickness", "1", "--process", "laser")[1]
    assert out[-1] == "healed up to: 0.0533 mm, a third of the kerf"
    assert run(capsys, file(gap), "--thickness", "6", "--tolerance", "2")[0] == 2


def test_json(file, capsys):
    assert main(["check", file(SMALL), "--thickness", "6", "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    assert said == json.loads(parts.check(SMALL, "plate.dxf", thickness="6").to_json())


@pytest.mark.parametrize("ending", FORMATS)
def test_the_healed_drawing_is_written(file, tmp_path, capsys, ending):
    target = tmp_path / f"healed.{ending}"
    assert main(["check", file(), "--thickness", "6", "-o", str(target)]) == 0
    assert target.read_bytes() == parts.check(SOUND, "plate.dxf", thickness="6").file(ending)


def test_a_stop_keeps_it_back_unless_told(file, tmp_path, capsys):
    target = tmp_path / "healed.dxf"
    status, _, err = run(capsys, file(SMALL), "--thickness", "6", "-o", str(target))
    assert (status, target.exists()) == (1, False)
    assert err == [f"{target}: not written; mend what stops it, or say --even-so."]
    assert run(capsys, file(SMALL), "--thickness", "6", "-o", str(target), "--even-so")[0] == 1
    assert len(read_drawing(target.read_bytes(), "again.dxf").profile.inside) == 1


def test_where_nothing_closes_nothing_is_written(file, tmp_path, capsys):
    target = tmp_path / "healed.dxf"
    open_lines = file(dxf(line(0, 0, 80, 0)))
    status, out, err = run(capsys, open_lines, "--thickness", "6", "-o", str(target), "--even-so")
    assert (status, out[0], target.exists()) == (1, "plate.dxf: no outline closes", False)
    assert err == [f"{target}: not written; no outline closes."]


def test_standard_input(monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(SOUND)))
    status, out, _ = run(capsys, "-", "--thickness", "6")
    assert (status, out[0].partition(":")[0]) == (0, "standard input")


def test_options_and_values(file, capsys):
    asked = "--process", "laser", "--material", "stainless-steel", "small_holes=drill"
    status, out, _ = run(capsys, file(SMALL), "--thickness", "16 ga", *asked)
    assert status == 0
    assert "stainless steel" in out[0]
    assert "laser" in out[0]


@pytest.mark.parametrize(
    ("data", "words", "lines"),
    [
        (b"no drawing", ["--thickness", "6"],
         ["plate.dxf can't be read: it is neither a DXF nor an SVG drawing."]),
        (dxf(box(4, 2), units=UNITLESS), ["--thickness", "6"],
         ["units: plate.dxf: The file doesn't say its units: choose mm or inches. It is 4 mm x 2 mm, or 4 in x 2 in. "
          "Say mm or in with --units."]),
        (SOUND, ["--thickness", "900"], ["thickness: 900: must be at most 150 mm."]),
        (SOUND, ["--thickness", "6", "thickness=7"],
         ["thickness: 6, 7: is given more than once; leave out thickness= or --thickness."]),
        (SOUND, ["--thickness", "6", "-o", "x.step"], [f"output: x.step: must end in one of .{', .'.join(FORMATS)}."]),
        (SOUND, ["--thickness", "6", "--units", "ell"], ["units: ell: must be one of mm, in."]),
    ],
    ids=["no drawing", "no units", "too thick", "twice", "solid", "ell"],
)  # fmt: skip
def test_a_wrong_request_is_exit_status_2(file, capsys, data, words, lines):
    assert run(capsys, file(data), *words) == (2, [], lines)


def test_a_file_that_is_not_there(capsys):
    assert run(capsys, "no-such.dxf", "--thickness", "6") == (
        2, [], ["file: no-such.dxf: can't be read: No such file or directory."],
    )  # fmt: skip


@pytest.mark.parametrize("said", ["-1/4", "-6", "-.25 in", "-3mm"])
def test_a_value_that_begins_with_a_minus_is_read_as_one(file, capsys, said):
    status, out, (line,) = run(capsys, file(), "--thickness", said)
    assert (status, out) == (2, [])
    assert line.startswith(f"thickness: {said}: ")


def test_an_option_without_a_value_is_told_so(file, capsys):
    with pytest.raises(SystemExit) as stopped:
        main(["check", file(), "--thickness", "--json"])
    assert stopped.value.code == 2
    assert "--thickness wants a value after it" in capsys.readouterr().err


def test_the_thickness_has_to_be_said(file, capsys):
    sentence = "thickness: isn't given: say how thick the plate is, such as 6 mm, 3/16 in or 16 ga."
    assert run(capsys, file()) == (2, [], [sentence])
