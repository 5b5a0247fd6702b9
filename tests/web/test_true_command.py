"""`platewright true` and `draw --compensate`: readings in, words for a shop out, an exit status for a script."""

import io
import json
import math
import sys

import ezdxf
import pytest

import parts
from parts.export import FORMATS
from tests.truing_tables import SQUARE, Simulated
from webapp.cli import main

OFF = Simulated(steps_x=100.05, steps_y=99.93, far_side_back=2.0, kerf=1.8)
MACHINE = (
    '[machine]\nname = "Fernhollow table"\ngantry_rail_spacing = "1500 mm"\n'
    'steps_per_mm_x = 100.05\nsteps_per_mm_y = 99.93\nkerf = "1.5 mm"\n'
)


def rows(kinds=SQUARE, table=OFF, u='u = "0.02 mm"\n'):
    return "".join(
        f'[[reading]]\nkind = "{kind}"\ndirection_deg = {degrees}\nnominal = "{nominal} mm"\n'
        f'measured = "{table.measured(kind, degrees, nominal):.6f} mm"\n{u}'
        for kind, degrees, nominal in kinds
    )


OF_FRAME = 'u = "0.02 mm"\npiece = "frame"\n'


@pytest.fixture
def file(tmp_path):
    def make(text, name="table.toml") -> str:
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return str(path)

    return make


def run(capsys, *words):
    status = main(["true", *words])
    out, err = capsys.readouterr()
    return status, out.splitlines(), err.splitlines()


def test_the_report(file, capsys):
    status, out, err = run(capsys, file(MACHINE + rows()))
    assert status == 0
    assert out == [
        "Fernhollow table: 7 readings",
        "assumed: how warm the piece was isn't told, so that a length is sure to 0.104 mm in a metre at best; say "
        "how warm piece and instrument were.",
        "",
        "Errors, each with the interval it lies in with 95 % confidence",
        "    X, in a metre:     0.5 mm long (0.221 mm to 0.779 mm long)",
        "    Y, in a metre:     0.7 mm short (0.425 mm to 0.975 mm short)",
        "    Axes:              90.0764° to each other, +0.0764° from square (+0.0689° to +0.0839°)",
        "    Jet's width:       0.3 mm more than allowed for (0.248 mm to 0.352 mm more than allowed for)",
        "    Round holes:       0 mm (0.053 mm larger than slots to 0.053 mm smaller than slots): leave it",
        "",
        "What to change",
        "    X comes out 0.5 mm long in a metre. Change the steps per mm of X from 100.05 to 100.",
        "    Y comes out 0.7 mm short in a metre. Change the steps per mm of Y from 99.93 to 100.",
        "    The axes stand 0.0764° more than square. Move the side of the gantry at the far end of X toward +Y by "
        "2 mm over the 1500 mm between its rails, or change its homing offset by as much.",
        "    The jet takes 0.3 mm more in width than was allowed for. Change the kerf setting from 1.5 mm to 1.8 mm.",
        "    Leave the size of round holes: no error shows.",
        "",
        "What a slip may have made",
        "    How much smaller round holes come out is unchecked: reading 7 (hole 10 mm at 0°) alone tells it, and a "
        "slip there would not show. Measure it a second time.",
        "",
        "Over a 4 ft by 8 ft sheet, 4 ft along X",
        "    now        X 0.61 mm long; Y 1.707 mm short; diagonals 2.909 mm apart",
        "    corrected  X within 0.341 mm; Y within 0.672 mm; diagonals within 0.285 mm",
    ]
    assert all(line.startswith("caution: ") for line in err)
    assert any("lock it out" in line for line in err)


def test_what_is_missing_and_assumed(file, capsys):
    out = run(capsys, file(rows(SQUARE[:1], u="")))[1]
    assert out[0] == "Your table: 1 reading"
    assert out[1] == "assumed: reading 1: no u given, so that of a caliper was taken, 0.03 mm."
    at = out.index("What is missing")
    assert [line.split(" by itself; ")[1] for line in out[at + 1 : at + 4]] == [
        "the distance between two hole centres along Y would.",
        "the gap of the piece flipped along a straightedge would.",
        "an outside length along X would.",
    ]
    assert "    now        X 0.61 mm long; Y not known; diagonals not known" in out


def test_inches(file, capsys):
    out = run(capsys, file(rows()), "--units", "in")[1]
    assert "    X, in 8 ft:        0.048 in long (0.021 in to 0.075 in long)" in out


def test_a_file_in_inches_is_answered_in_inches(file, capsys):
    assert any("in 8 ft" in line for line in run(capsys, file('units = "in"\n' + rows()))[1])


def test_json_is_that_of_the_library(file, capsys):
    text = MACHINE + rows()
    assert main(["true", file(text), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(parts.true_table(text).to_json())


def test_standard_input(monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(rows().encode())))
    assert run(capsys, "-")[:2] == (0, parts_lines(rows()))


def parts_lines(text):
    from webapp.commands.true import lines

    return list(lines(parts.true_table(text)))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (rows() + '[[reading]]\nkind = "centre"\n', "reading 8 kind: centre: must be one of"),
        ("[[reading", "The measurements can't be read as TOML"),
        (b"\xff\xfe", "isn't text in UTF-8"),
        (b" " * 1_000_001, "is too large"),
        (rows((("outside", 0, 300),)), "would"),
    ],
    ids=["entry", "no toml", "no text", "too large", "settles nothing"],
)
def test_what_is_wrong_is_exit_status_2(file, capsys, text, said):
    status, out, err = run(capsys, file(text))
    assert (status, out) == (2, [])
    assert any(said in line for line in err)


@pytest.mark.parametrize("words", [[], ["table.toml", "--tape", "3", "4", "5"], ["nowhere.toml"]], ids=repr)
def test_one_thing_is_asked_of_it(capsys, words):
    status, out, err = run(capsys, *words)
    assert (status, out, len(err)) == (2, [], 1)
    assert err[0].startswith("file: ")


def test_tape_3_4_5(capsys):
    assert run(capsys, "--tape", "4ft", "3ft", "5ft", "--units", "in") == (0, [
        "The corner stands at 90.000° (89.891° to 90.109° with 95 % confidence).",
        "A tape read to 0.02 in can't tell it from square.",
        "The smallest error it shows over 48 in is 0.091 in (0.109°).",
    ], [])  # fmt: skip


def test_tape_diagonals(capsys):
    assert run(capsys, "--tape", "300", "200", "360.85", "360.26", "--u", "0.1 mm")[1] == [
        "The corner stands at 89.898° (89.851° to 89.946° with 95 % confidence).",
        "It is too sharp: 0.532 mm off square over 300 mm.",
        "The smallest error it shows over 300 mm is 0.25 mm (0.048°).",
    ]


def test_tape_as_json(capsys):
    assert main(["true", "--tape", "300", "200", "360.85", "360.26", "--u", "0.1", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["out_of_square_deg"]["value"] == pytest.approx(-0.1015699, abs=5e-8)
    assert said["smallest_shown_deg"] == pytest.approx(0.0477, abs=5e-5)
    assert said["diagonals_too_long_mm"] is None


def test_u_goes_with_tape(file, capsys):
    assert run(capsys, file(rows()), "--u", "0.1")[2] == [
        "u: 0.1: goes with --tape; in a file each reading has its own."
    ]


def test_tape_that_does_not_go_together(capsys):
    assert "a diagonal would have to be 9.157 mm shorter. Measure again." in run(
        capsys, "--tape", "300", "200", "370", "360.26", "--u", "0.1"
    )[1][-1]  # fmt: skip


def test_tape_that_is_no_length(capsys):
    status, _, err = run(capsys, "--tape", "4ft", "x", "5ft")
    assert (status, err[0].split(":")[:2]) == (2, ["tape", " x"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["1", "2", "9"], "tape: 1 in, 2 in, 9 in: These three lengths make no triangle."),
        (["12", "9", "30", "1"], "tape: 12 in, 9 in, 30 in, 1 in: No four-sided piece has these sides and diagonals."),
        (["4", "3", "5", "--u", "0"], "u: 0 in: must be 0.000001 to 100 mm."),
        (["4", "3", "5", "--u", "0,02"], "u: 0,02: '0,02' has a comma: write 0.02 with a point."),
    ],
)
def test_tape_that_cannot_be_is_said_in_the_working_units(words, said, capsys):
    assert run(capsys, "--tape", *words, "--units", "in") == (2, [], [said])


class TestCompensate:
    ACCEPTED = '[machine]\nname = "Fernhollow table"\n[accepted]\nscale_x = 0.0005\nout_of_square_deg = 0.08\n'

    def draw(self, capsys, tmp_path, text, output="g.dxf", slug="gusset-triangle"):
        source = tmp_path / "table.toml"
        source.write_text(text)
        status = main(["draw", slug, "-o", str(tmp_path / output), "--compensate", str(source)])
        return status, capsys.readouterr().err.splitlines(), sorted(p.name for p in tmp_path.iterdir() if p != source)

    def test_accepted_errors(self, capsys, tmp_path):
        status, err, files = self.draw(capsys, tmp_path, self.ACCEPTED)
        assert (status, files) == (0, ["g_compensated-for-fernhollow-table.dxf"])
        assert any("COMPENSATED for Fernhollow table" in line and "+0.08000 deg" in line for line in err)
        text = (tmp_path / files[0]).read_text()
        assert "999\ncompensated: COMPENSATED for Fernhollow table" in text
        assert {e.dxf.layer for e in ezdxf.readfile(tmp_path / files[0]).modelspace()} >= {"OUTSIDE", "NOTES"}

    def test_readings(self, capsys, tmp_path):
        _, err, files = self.draw(capsys, tmp_path, MACHINE + rows(), "g.json")
        said = json.loads((tmp_path / files[0]).read_text())
        degrees = math.degrees(math.atan2(2, 1500))
        assert said["compensated"].endswith(f"X +0.05000 %, Y -0.07000 %, axes +{degrees:.5f} deg from square")
        assert "written as g_compensated-for-fernhollow-table.json" in err

    def test_what_readings_leave_is_not_compensated(self, capsys, tmp_path):
        table = Simulated(steps_x=100.05, steps_y=100.002)
        _, _, files = self.draw(capsys, tmp_path, MACHINE + rows(table=table), "g.json")
        assert "X +0.05000 %, Y +0.00000 %" in json.loads((tmp_path / files[0]).read_text())["compensated"]

    def test_a_name_that_says_so_stays(self, capsys, tmp_path):
        name = "g_compensated-for-fernhollow-table.svg"
        assert self.draw(capsys, tmp_path, self.ACCEPTED, name)[2] == [name]

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            (rows(), "name: must name the table"),
            ("[accepted]\nscale_x = 0.001\n", "name: must name the table"),
            (ACCEPTED.replace("0.0005", "0.051"), "scale_x: 0.051: must be -0.05 to 0.05."),
            (ACCEPTED.replace("0.0005", "'5 mm'"), "accepted scale_x: 5 mm: must be a number."),
            (ACCEPTED.replace("scale_x", "scalex"), "accepted scalex: isn't known; did you mean scale_x?"),
            (MACHINE + rows(SQUARE[:2]), "Or write the errors that you accept"),
            (ACCEPTED + rows(), "accepted: give readings or accepted errors, not both."),
            (MACHINE + rows(table=Simulated()), "compensate: Fernhollow table: has no error that drawings could undo."),
            (MACHINE + rows() + rows(((*SQUARE[0][:2], 310),)).replace("310 mm", "310.5 mm"), "Measure it again"),
        ],
        ids=[
            "readings of no name",
            "no name",
            "large",
            "no number",
            "unknown",
            "angle not settled",
            "both",
            "nothing",
            "disagree",
        ],
    )
    def test_what_cannot_be_used_is_exit_status_2(self, capsys, tmp_path, text, said):
        status, err, files = self.draw(capsys, tmp_path, text)
        assert (status, files) == (2, [])
        assert any(said in line for line in err), err

    @pytest.mark.parametrize("kind", [kind for kind, each in FORMATS.items() if not each.compensable])
    def test_a_drawing_to_read_is_not_compensated(self, capsys, tmp_path, kind):
        status, err, files = self.draw(capsys, tmp_path, self.ACCEPTED, f"g.{kind}")
        assert (status, files) == (2, [])
        assert any(line.startswith(f"format: {kind}: isn't written compensated") for line in err)


def sheet(capsys, *words):
    status = main(["sheet", *words])
    return status, capsys.readouterr()


def test_a_sheet_filled_in_is_read_and_what_is_empty_is_told(tmp_path, capsys):
    path = tmp_path / "square.toml"
    assert sheet(capsys, "square-test", "-o", str(path))[0] == 0
    path.write_text(path.read_text("utf-8").replace('measured = ""', 'measured = "300.15"', 1), "utf-8")
    status, out, _ = run(capsys, str(path))
    assert status == 0
    assert out[:2] == ["Your table: 1 reading", "left out, not measured yet: B, C, D, E, F, G, H, I, J, K"]
    status, out, _ = run(capsys, str(path), "--json")
    assert json.loads("\n".join(out))["left_out"] == list("BCDEFGHIJK")


def test_sheets_are_written_by_their_ending(tmp_path, capsysbinary):
    for ending, start in (("pdf", b"%PDF-"), ("svg", b"<svg"), ("toml", b"# Measuring sheet: Kerf comb")):
        assert main(["sheet", "gauge-kerf-comb", "steps=3", "-o", str(tmp_path / f"s.{ending}")]) == 0
        data = (tmp_path / f"s.{ending}").read_bytes()
        assert start in data[:200]
        assert main(["sheet", "gauge-kerf-comb", "steps=3", "-o", "-", "--format", ending]) == 0
        assert capsysbinary.readouterr().out == data


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("square-test", "-o", "s.dxf"), "must end in one of .pdf, .toml, .svg."),
        (("square-test", "-o", "-"), "say which with --format."),
        (("plate-base", "-o", "-", "--format", "pdf"), "isn't a test piece."),
        (("square-test", "leg_x=no", "-o", "-", "--format", "pdf"), "leg_x"),
        (("square-tset", "-o", "-", "--format", "pdf"), "square-test"),
    ],
)
def test_a_sheet_that_cannot_be_made_is_told(words, said, capsys):
    status, told = sheet(capsys, *words)
    assert status == 2
    assert said in told.err
    assert told.out == ""


def test_several_files_are_taken_together(file, capsys):
    one = file(MACHINE + rows(SQUARE[:4]), "frame.toml")
    two = file(rows(SQUARE[4:]), "comb.toml")
    status, out, _ = run(capsys, one, two)
    both = rows(SQUARE[:4], u=OF_FRAME) + rows(SQUARE[4:])  # two pieces, each with a warmth of its own
    whole = run(capsys, file(MACHINE + both, "all.toml"))
    assert status == whole[0] == 0
    assert [line.replace("3 (comb, hole", "7 (hole") for line in out] == whole[1]
    status, out, err = run(capsys, one, one)
    assert (status, out) == (2, [])
    assert "given more than once" in err[0]


def test_files_of_one_name_are_told_apart_by_their_folders(tmp_path, capsys):
    for folder, kinds in (("a", SQUARE[:4]), ("b", SQUARE[4:])):
        (tmp_path / folder).mkdir()
        text = rows(kinds) if folder == "a" else rows(kinds).replace('"outside"', '"outsid"')
        (tmp_path / folder / "readings.toml").write_text(text)
    status, _, err = run(capsys, *(str(tmp_path / folder / "readings.toml") for folder in "ab"))
    assert status == 2
    assert str(tmp_path / "b" / "readings.toml") in err[0]
