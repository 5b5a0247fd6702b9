"""`platewright check`: findings to standard output, and an exit status that a script can go by."""

import io
import json
import sys

import pytest

import parts
from parts.checking.checked import FORMATS
from parts.read import read_drawing
from parts.rules import RULES
from tests.files.foreign import UNITLESS, circle, dxf, line, svg
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


def test_a_sound_drawing_in_four_lines(file, capsys):
    assert run(capsys, file(), "--thickness", "6") == (0, [
        "plate.dxf: 100 by 60 mm, mild steel 6 mm thick, air plasma, 2 pierces, cut length 383 mm, "
        "0.268 kg (0.59 lb)",
        "no findings",
        "verdict: can be cut",
        "healed up to: 0.1 mm",
    ], [])  # fmt: skip


def test_a_stop_is_exit_status_1_with_its_place(file, capsys):
    status, out, _ = run(capsys, file(SMALL), "--thickness", "6")
    assert status == 1
    assert out[1] == (
        "stop: hole-to-thickness: The hole is 4 mm in 6 mm plate; air plasma wants 9 mm. "
        "Drill it instead, or make it 9 mm or more. Try small_holes=drill. (at 10, 10 in the drawing)"
    )


def test_findings_alike_are_one_line(file, capsys):
    holes = dxf(box(300, 40) + "".join(circle(20 + 26 * i, 20, 2) for i in range(11)), units=4)
    status, out, _ = run(capsys, file(holes), "--thickness", "6")
    (line,) = (line for line in out if line.startswith("stop: hole-to-thickness: "))
    assert (status, line.partition("(at ")[2]) == (1, "20, 20 in the drawing) 10 more places like it.")


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


LAYERED = dxf(box(100, 60) + circle(50, 30, 10, "MY DIM"))


def test_a_layer_left_aside_is_told_with_how_to_choose(file, capsys):
    status, out, err = run(capsys, file(LAYERED), "--thickness", "6")
    assert (status, [line for line in out if line.startswith("warn: reading: ")]) == (0, [
        "warn: reading: 1 closed outline on layer MY DIM left out, by its name no outline of the part. Choose what "
        "layer MY DIM is: cut, or aside if it isn't the part's outline. (at 60, 30 in the drawing)",
    ])  # fmt: skip
    assert err == ["--layer 'MY DIM=cut' cuts what is closed on it, 'MY DIM=aside' leaves it out."]


@pytest.mark.parametrize(("role", "pierces"), [("cut", 2), ("aside", 1), ("scribe", 1), ("drill", 1), ("bend", 1)])
def test_a_chosen_layer_is_taken_so(file, capsys, role, pierces):
    status, out, err = run(capsys, file(LAYERED), "--thickness", "6", "--layer", f"my dim={role}")
    assert (status, err) == (0, [])
    assert f", {pierces} pierce" in out[0]
    assert not any(line.startswith("warn: reading") for line in out)


def test_several_layers_and_an_outline_are_chosen(file, capsys):
    words = "--layer", "MY DIM=cut", "--layer", "0=aside", "--outline", "0,0,100,60=cut"
    status, out, _ = run(capsys, file(LAYERED), "--thickness", "6", *words)
    assert (status, out[0].partition(",")[0]) == (0, "plate.dxf: 100 by 60 mm")


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["--layer", "DIM=cut"], "layer: DIM: is no layer of this drawing; it has 0 and MY DIM."),
        (["--layer", "0"], "layer: 0: must be written NAME=ROLE, the role cut, scribe, bend, drill or aside."),
        (["--outline", "1,2,3,4=cut"], "outline: 1,2,3,4: is the box of no closed outline here."),
    ],
)  # fmt: skip
def test_a_wrong_choice_is_exit_status_2(file, capsys, words, line):
    assert run(capsys, file(LAYERED), "--thickness", "6", *words) == (2, [], [line])


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


RING = svg('<circle cx="50" cy="50" r="40"/><circle cx="50" cy="50" r="20" fill="none" stroke="red" stroke-width="4"/>')


@pytest.mark.parametrize(
    ("words", "pierces", "said"),
    [
        ([], 3, "took the outline of 1 stroke up to 4 mm wide"),
        (["--strokes", "middle"], 2, "took the middle of 1 stroke up to 4 mm wide"),
        (["strokes=outline"], 3, "took the outline of 1 stroke up to 4 mm wide"),
    ],
)
def test_what_is_cut_of_strokes(file, capsys, words, pierces, said):
    _, out, _ = run(capsys, file(RING, "ring.svg"), "--thickness", "3", *words)
    assert f", {pierces} pierces," in out[0]
    assert any(line.startswith(f"healed: {said}") for line in out)


@pytest.mark.parametrize(("words", "side"), [([], "26.5"), (["--dpi", "100"], "25.4"), (["dpi=50"], "50.8")])
def test_pixels_to_the_inch(file, capsys, words, side):
    square = svg('<rect width="100" height="100"/>', 'width="100" height="100"')
    _, out, _ = run(capsys, file(square, "square.svg"), "--thickness", "3", *words)
    assert out[0].startswith(f"square.svg: {side} by {side} mm, ")
    assert any("The file gives its size in pixels, read as 96 to the inch" in line for line in out) is (not words)


@pytest.mark.parametrize("dpi", ["9.99", "10001", "many", "-96", "nan"])
def test_pixels_that_no_inch_has_are_refused(file, capsys, dpi):
    sentence = "must be a number of pixels to the inch, 10 to 10000, such as 72, 90 or 96."
    assert run(capsys, file(RING, "ring.svg"), "--thickness", "3", f"dpi={dpi}") == (2, [], [f"dpi: {dpi}: {sentence}"])


def test_strokes_are_cut_in_one_of_three_ways(file, capsys):
    sentence = "strokes: edge: must be one of auto, outline, middle."
    assert run(capsys, file(RING, "ring.svg"), "--thickness", "3", "--strokes", "edge") == (2, [], [sentence])


def test_a_gap_is_told_with_the_tolerance_that_joins_it(file, capsys):
    gap = file(dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.3, 40, 0, 40) + line(0, 40, 0, 0)))
    _, out, _ = run(capsys, gap, "--thickness", "6")
    assert "Healing up to 0.3 mm would mend it. " in out[1]
    assert " Try --tolerance 0.3mm. (at " in out[1]
    assert run(capsys, gap, "--thickness", "6", "--tolerance", "0.3mm")[0] == 0


def test_a_doubt_about_the_unit_is_told_first_with_how_to_answer_it(file, capsys):
    small = file(dxf(box(4, 2.4) + circle(2, 1.2, 0.125)))
    _, out, _ = run(capsys, small, "--thickness", "6mm")
    assert out[1].startswith("warn: units: ")
    assert out[1].endswith(" Try --units in.")


def test_what_could_not_be_checked_is_exit_status_1_and_the_verdict(file, capsys, monkeypatch):
    rule = next(rule for rule in RULES if rule.RULE == "finger")
    monkeypatch.setattr(rule, "check", lambda *_: 1 / 0)
    status, out, _ = run(capsys, file(), "--thickness", "6")
    assert (status, out[-2]) == (1, "verdict: not everything could be checked: finger")


def test_layers_are_listed_with_their_colours_where_there_is_a_choice(file, capsys):
    _, out, _ = run(capsys, file(LAYERED), "--thickness", "6")
    assert [line for line in out if line.startswith("layer: ")] == [
        "layer: 0: cut, 4 drawn, 1 outline cut", "layer: MY DIM: aside, 1 drawn, 1 closed not cut",
    ]  # fmt: skip
    _, out, _ = run(
        capsys, file(dxf(box(100, 60).replace("\n10\n", "\n62\n5\n10\n") + circle(50, 30, 9))), "--thickness", "6"
    )
    assert next(line for line in out if line.startswith("layer: ")) == "layer: blue (blue): cut, 4 drawn, 1 outline cut"
    _, out, _ = run(capsys, file(dxf(box(100, 60))), "--thickness", "6")
    assert [line for line in out if line.startswith("layer: ")] == []


def test_a_word_of_the_shops_is_told_as_what_it_was_taken_for(file, capsys):
    words = ["--thickness", "6", "--process", "water jet", "--material", "304"]
    status, out, err = run(capsys, file(), *words)
    assert status == 0
    assert "stainless steel 6 mm thick, abrasive waterjet" in out[0]
    assert err == ["process: water jet is taken for waterjet.", "material: 304 is taken for stainless-steel."]
    assert run(capsys, file(), "--thickness", "6", "--process", "waterjet")[2] == []


def test_a_sheets_border_is_left_out_by_what_its_finding_says(file, capsys):
    sheet = dxf(box(297, 210) + box(100, 60, 50, 50) + circle(70, 80, 6))
    _, out, _ = run(capsys, file(sheet), "--thickness", "6")
    (line,) = [line for line in out if "border of the sheet" in line]
    assert "Try --outline 0,0,297,210=aside." in line
    status, out, _ = run(capsys, file(sheet), "--thickness", "6", "--outline", "0,0,297,210=aside")
    assert (status, out[0][:38]) == (0, "plate.dxf: 100 by 60 mm, mild steel 6 ")
