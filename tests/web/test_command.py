"""The command line: what it prints where, its files, and its exit status."""

import gc
import io
import json
import socket
import subprocess
import sys
from pathlib import Path

import pytest

import parts
from parts.export import FORMATS
from parts.templates import former_of
from tests import library
from tests.depth import one_in
from webapp import commands
from webapp.cli import main
from webapp.commands.serve import listening

SLUGS = list(parts.templates())
DRAW = ["draw", "gusset-triangle"]
SMALL_HOLE = [*DRAW, "leg_a=150", "leg_b=150", "holes_a=1", "bolt=M5", "small_holes=cut"]


@pytest.fixture
def target(tmp_path):
    return tmp_path / "g.dxf"


@pytest.mark.parametrize("kind", [kind for kind in FORMATS if kind != "step"])
def test_draw_writes_what_the_library_writes(tmp_path, capsys, kind):
    target = tmp_path / f"g.{kind.upper()}"
    assert main([*DRAW, "leg_a=4in", "-o", str(target)]) == 0
    assert target.read_bytes() == parts.draw("gusset-triangle", leg_a="4in").file(kind)
    out, err = capsys.readouterr()
    assert out == ""
    assert all(line.startswith("caution: ") for line in err.splitlines())


def test_draw_to_standard_output(capsysbinary):
    assert main([*DRAW, "-o", "-", "--format", "dxf"]) == 0
    assert capsysbinary.readouterr().out == parts.draw("gusset-triangle").to_dxf().encode()


def test_values_may_stand_after_the_options(target, capsys):
    assert main([*DRAW, "leg_a=150", "-o", str(target), "leg_b=120", "--format", "json"]) == 0
    assert target.read_text() == parts.draw("gusset-triangle", leg_a=150, leg_b=120).to_json()


def test_a_stop_finding_keeps_the_file_back_unless_told(target, capsys):
    assert main([*SMALL_HOLE, "-o", str(target)]) == 1
    out, err = capsys.readouterr()
    assert (out, target.exists()) == ("", False)
    (finding,) = parts.draw("gusset-triangle", leg_a=150, leg_b=150, holes_a=1, bolt="M5", small_holes="cut").findings
    offer = "; --apply hole-to-thickness would set small_holes=drill ("
    said = f"stop: hole-to-thickness: {finding.message} {finding.remedy[:-1]}{offer}"
    assert err.startswith(said)
    assert err.splitlines()[0].endswith(", pierces 2 → 1, drill centres 0 → 1)")
    assert main([*SMALL_HOLE, "-o", str(target), "--even-so"]) == 1
    assert target.exists()


LOW_LAMPS = ["draw", "plate-bumper", "lamp_up=198", "lamp_spacing=1100", "plate_hole=8"]


def told(capsys, kind):
    return [line for line in capsys.readouterr().err.splitlines() if line.startswith(kind)]


def test_a_remedy_is_applied_and_said(target, capsys):
    assert main([*SMALL_HOLE, "bolt=by-diameter", "-o", str(target)]) == 2
    values = ["leg_a=150", "leg_b=150", "holes_a=2", "hole=8", "small_holes=cut"]
    capsys.readouterr()
    assert main([*DRAW, *values, "--apply", "hole-to-thickness", "-o", str(target), "--format", "json"]) == 0
    applied = "applied: hole-to-thickness: Holes too small to cut cut → drill, with care: something may hang on it"
    err = capsys.readouterr().err.splitlines()
    assert [line for line in err if line.startswith("applied")] == [applied]
    assert [line.partition("pierces ")[2] for line in err if line.startswith("costs")] == ["3 → 1, drill centres 0 → 2"]
    parameters = json.loads(target.read_text())["parameters"]
    assert (parameters["hole"], parameters["small_holes"]) == (8, "drill")
    assert main([*DRAW, *values[:3], "hole=9", "--even-so", "-o", str(target)]) == 0
    assert told(capsys, "stop") == []


def test_every_remedy_is_applied_one_after_the_other(target, capsys):
    assert main([*LOW_LAMPS, "thickness=8", "-o", str(target), "--apply", "all"]) == 0
    applied = told(capsys, "applied")
    assert [line.split(": ")[1] for line in applied] == ["hole-to-thickness", "bridge-width"]
    assert target.exists()


MATING = ["draw", "plate-base", "inset_x=14"]
"""Anchor holes too near the sides for their size: smaller anchors would do, if they aren't there already."""


def test_what_mates_is_changed_by_naming_it_alone(target, capsys):
    main([*MATING, "--even-so", "-o", str(target)])
    (line,) = [line for line in capsys.readouterr().err.splitlines() if "--apply" in line]
    asks = "only if “Anchor” may be M10: the bolts are then M10, and so are the holes in what they go through"
    assert f"; {asks}: --apply edge-distance:bolt would set bolt=M10 (" in line
    target.unlink()
    assert main([*MATING, "--apply", "edge-distance", "-o", str(target)]) == 2
    assert capsys.readouterr().err.splitlines() == [
        f"apply: edge-distance: has a remedy {asks}. To take it, write --apply edge-distance:bolt."
    ]
    assert not target.exists()
    assert main([*MATING, "--apply", "edge-distance:bolt", "-o", str(target)]) == 0
    err = capsys.readouterr().err
    assert "applied: edge-distance: Anchor M12 → M10\n" in err
    assert f"asked: edge-distance: {asks}\n" in err
    assert main([*MATING, "--apply", "edge-distance:width", "-o", str(target)]) == 2
    said = "apply: edge-distance:width: is no remedy of what was found; it has edge-distance:bolt."
    assert capsys.readouterr().err.splitlines() == [said]


def test_all_leaves_what_mates_and_says_so(target, capsys):
    main([*MATING, "--even-so", "-o", str(target), "--apply", "all"])
    assert told(capsys, "applied") == [
        "applied: nothing; what would mend it changes what mates with something else, and is to be chosen by itself."
    ]
    assert target.exists()


def test_all_on_a_part_in_order_writes_it_and_says_so(target, capsys):
    assert main([*DRAW, "-o", str(target), "--apply", "all"]) == 0
    assert told(capsys, "applied") == ["applied: nothing; nothing found wants mending."]
    assert target.read_text() == parts.draw("gusset-triangle").to_dxf()


def test_all_on_what_cant_be_mended_writes_it_and_says_so(target, capsys):
    values = ["bed_x=100", "bed_y=100", "leg_a=1500", "leg_b=1500", "--apply", "all", "--even-so"]
    main([*DRAW, *values, "-o", str(target)])
    assert told(capsys, "applied") == [
        "applied: nothing; no change of one or two parameters mends what was found and harms nothing else."
    ]
    assert target.exists()


def test_one_remedy_leaves_the_other_findings(target, capsys):
    assert main([*LOW_LAMPS, "thickness=8", "-o", str(target), "--apply", "bridge-width"]) == 1
    lines = capsys.readouterr().err.splitlines()
    assert [line for line in lines if "bridge-width" in line] == [
        "applied: bridge-width: Lamp centres up 198 mm → 197 mm, with care: something may hang on it",
        "costs: bridge-width: weight, time, pierces and size stay",
    ]
    stops = [line for line in lines if line.startswith("stop: hole-to-thickness")]
    assert [("; --apply hole-to-thickness would set" in line) for line in stops] == [True] + [False] * (len(stops) - 1)


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["--apply", "bridge"], "apply: bridge: is not a rule; did you mean bridge-width?"),
        (["--apply", "bridge-width"], "apply: bridge-width: has nothing to mend here."),
        (["holes_a=1", "hole=8", *["--apply", "hole-to-thickness"] * 2],
         "apply: hole-to-thickness: has nothing to mend here."),
        (["bed_x=100", "bed_y=100", "leg_a=1500", "leg_b=1500", "--apply", "bed-fit"],
         "apply: bed-fit: has no remedy that changes one or two parameters and harms nothing else; the findings"),
    ],
)  # fmt: skip
def test_nothing_to_apply_is_a_wrong_request(target, capsys, words, line):
    assert main([*DRAW, *words, "-o", str(target)]) == 2
    (said,) = capsys.readouterr().err.splitlines()
    assert said.startswith(line)
    assert not target.exists()


def test_a_warning_or_a_note_lets_the_file_through(target, capsys):
    assert main([*DRAW, "leg_a=500", "leg_b=200", "bed_x=300", "bed_y=600", "-o", str(target)]) == 0
    assert target.exists()
    assert capsys.readouterr().err.startswith("note: bed-fit: ")


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        (["toe=400"], ["toe: 400: must be at most 200 mm."]),
        (["tow=1"], ["tow: 1: is not a parameter of this template; did you mean toe?"]),
        (["toe"], ["toe: must be written name=value."]),
        (["toe=1", "toe=2"], ["toe: 1, 2: is given more than once; give it once."]),
    ],
)
def test_a_wrong_request_is_a_line_a_parameter(target, capsys, words, lines):
    assert main([*DRAW, *words, "-o", str(target)]) == 2
    out, err = capsys.readouterr()
    assert (out, err.splitlines(), target.exists()) == ("", lines, False)


def test_each_wrong_parameter_has_its_line_in_form_order(target, capsys):
    assert main([*DRAW, "toe=400", "leg_a=1,5", "-o", str(target)]) == 2
    assert [line.split(":")[0] for line in capsys.readouterr().err.splitlines()] == ["leg_a", "toe"]


@pytest.mark.parametrize(
    ("words", "start"),
    [
        (["draw", "nothing-here", "-o", "g.dxf"], "template: nothing-here: There is no template called"),
        ([*DRAW, "-o", "g.dwg"], f"output: g.dwg: must end in one of .{', .'.join(FORMATS)}."),
        ([*DRAW, "-o", "-"], "output: -: say which with --format."),
        ([*DRAW, "-o", "no-such-folder/g.dxf"], "no-such-folder/g.dxf: can't be written: No such file"),
    ],
)
def test_other_refusals_are_one_sentence(tmp_path, monkeypatch, capsys, words, start):
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    told = [line for line in capsys.readouterr().err.splitlines() if not line.startswith("caution: ")]
    assert len(told) == 1
    assert told[0].startswith(start)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("words", [[], ["drew"], ["draw"], [*DRAW], ["list", "--jsn"], ["serve", "--port", "x"]])
def test_words_it_does_not_know_are_one_sentence(capsys, words):
    with pytest.raises(SystemExit) as stopped:
        main(words)
    assert stopped.value.code == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert "--help" in err


def test_list_as_json(capsys):
    assert main(["list", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert [entry["slug"] for entry in listed] == SLUGS
    for entry in listed:
        assert list(entry) == ["slug", "family", "title", "summary", "formerly", "parameters"]
        assert tuple(entry["formerly"]) == former_of(entry["slug"])
        specs = parts.templates()[entry["slug"]].parameters.specs()
        assert [parameter["name"] for parameter in entry["parameters"]] == list(specs)
        for parameter in entry["parameters"]:
            keys = [
                "name",
                "kind",
                "default",
                "minimum",
                "maximum",
                "choices",
                "unit",
                "moves",
                "help",
                "when",
                "default_in",
            ]
            assert list(parameter) == keys
            assert parameter["kind"] in {"length", "count", "angle", "number", "choice", "flag", "text"}
            assert parameter["help"]
            assert bool(parameter["choices"]) == (parameter["kind"] == "choice")


def test_the_listed_defaults_draw_the_default_part(capsys):
    """Of every fourth template, in a deep run of each."""
    main(["list", "--json"])
    entries = {entry["slug"]: entry["parameters"] for entry in json.loads(capsys.readouterr().out)}
    for slug, listed in one_in(4, entries.items(), first=3):
        defaults = {parameter["name"]: parameter["default"] for parameter in listed}
        assert parts.draw(slug, **defaults).to_json() == library.written(slug, "json").decode()
    by_name = {parameter["name"]: parameter["default_in"] for parameter in entries["gusset-saddle"]}
    assert {name: by_name[name] for name in ("tube", "height", "bolt", "thickness", "bed_x")} == {
        "tube": 2.375, "height": 3.5, "bolt": "3/8", "thickness": 0.25, "bed_x": 52,
    }  # fmt: skip


def test_what_may_be_left_out_is_not_asked_for(capsys):
    with pytest.raises(SystemExit):
        main(["draw"])
    assert "required: SLUG, -o/--output." in capsys.readouterr().err


def test_list_shows_the_shops_own_bed(own_file, capsys):
    own_file.write_text("[bed]\nx_mm = 1000\n")
    assert main(["list"]) == 0
    assert "bed_x            length   Bed travel in X: 1000 mm" in capsys.readouterr().out
    main(["list", "--json"])
    (bed,) = (p for p in json.loads(capsys.readouterr().out)[0]["parameters"] if p["name"] == "bed_x")
    assert bed["default"] == 1000


def test_list_names_every_template_and_parameter(capsys):
    assert main(["list"]) == 0
    out = capsys.readouterr().out
    for slug, template in parts.templates().items():
        assert f"{slug}: {template.title}. " in out
        assert all(f"    {name} " in out for name in template.parameters.specs())


def test_list_of_a_slug_shows_every_parameter_with_kind_default_limits_and_choices(capsys):
    assert main(["list", "sign-plate"]) == 0
    out = capsys.readouterr().out
    assert "    cap_height       length   Height of the capitals: 80 mm (8 mm to 2000 mm)" in out
    assert "one of rounded, rectangle, scalloped" in out
    assert "gusset" not in out
    main(["list", "sign-plate", "--json"])
    (sign,) = json.loads(capsys.readouterr().out)
    assert [p["name"] for p in sign["parameters"]] == [*parts.templates()["sign-plate"].parameters.specs()]


def test_shop_says_where_the_file_is_and_what_is_set(own_file, capsys):
    own_file.write_text(
        '[bed]\nx = "50 in"\n[processes.laser.kerf.any]\nrows = [{ thickness = "1 mm", kerf_mm = 0.2 }]\n'
    )
    assert main(["shop"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines == [str(own_file), "    bed.x = '50 in'", "    processes.laser.kerf.any = 1 row, 1 mm"]
    own_file.unlink()
    assert main(["shop"]) == 0
    assert "not there" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "status", "told"),
    [
        ('[bed]\nx = "50 in"\n', 0, []),
        (
            "[bed]\nx = 5\ny = 6\n",
            2,
            ["bed.x is 5; it must be at least 100 mm.", "bed.y is 6; it must be at least 100 mm."],
        ),
        ("[bed]\nz = 1\n", 2, ["bed has no entry z: accepted: source, x_mm, y_mm."]),
        (
            "[processes.plasma]\ntitle = 'x'\n[bed]\ny = 6\nz = 1\nx = 5\n"
            "[processes.laser]\nthinest = 3\n[machin]\nslat_pitch = 50\n"
            "[materials.mild-steel]\nnot_cut_by = {lasr = 'no'}\ngauge = 'x'\n"
            "[[processes.air-plasma.feed.any.rows]]\nthickness = 1\nfeed_mm_s = -2\n",
            2,
            [
                "the file has no entry processes.plasma: did you mean air-plasma.",
                "processes.laser has no entry thinest: did you mean thinnest.",
                "processes.air-plasma.feed.any row 1.feed_mm_s is -2; it must be over 0 mm/s.",
                "bed.y is 6; it must be at least 100 mm.",
                "bed has no entry z: accepted: source, x_mm, y_mm.",
                "bed.x is 5; it must be at least 100 mm.",
                "the file has no entry machin: did you mean machine.",
                "the file has no entry materials.mild-steel.not_cut_by.lasr: did you mean laser.",
                "materials.mild-steel.gauge is 'x'; "
                "accepted: 'steel', 'galvanized', 'stainless', 'aluminium' or 'none'.",
            ],
        ),
        (
            "[materials.bras]\ntitle = 'U'\n[processes.plasma]\ntitle = 'x'\n[processes.plassma]\ntitle = 'x'\n",
            2,
            [
                "the file has no entry materials.bras: did you mean brass "
                "(a new one needs title, density_kg_per_m3 and group).",
                "the file has no entry processes.plasma: did you mean air-plasma.",
                "the file has no entry processes.plassma: did you mean air-plasma.",
            ],
        ),
    ],
)
def test_shop_checks_a_file_and_tells_every_slip(tmp_path, own_file, capsys, text, status, told):
    path = tmp_path / "other.toml"
    path.write_text(text)
    assert main(["shop", "--check", str(path)]) == status
    out, err = capsys.readouterr()
    assert err.splitlines() == [f"{path}: {sentence}" for sentence in told]
    assert out == ("" if status else f"{path}: in order; 1 entry set.\n")
    own_file.write_text(text)
    assert main(["shop"]) == status


def test_shop_checks_only_what_is_there(tmp_path, capsys):
    assert main(["shop", "--check", str(tmp_path / "none.toml")]) == 2
    assert "none.toml can't be read" in capsys.readouterr().err


def test_version(capsys):
    with pytest.raises(SystemExit) as stopped:
        main(["--version"])
    assert stopped.value.code == 0
    assert capsys.readouterr().out == f"platewright {parts.VERSION}\n"


def test_a_reader_that_has_had_enough_is_no_error():
    run = subprocess.run(
        f"{sys.executable} -m webapp list | head -1", shell=True, capture_output=True, text=True, check=True
    )
    assert run.stdout.startswith(SLUGS[0])
    assert run.stderr == ""


def test_an_unusable_file_of_the_shops_own_is_a_sentence(own_file, target, capsys):
    own_file.write_text("[bed]\nx = 1\n")
    assert main([*DRAW, "-o", str(target)]) == 2
    err = capsys.readouterr().err
    assert len(err.splitlines()) == 1
    assert "bed" in err


def test_a_port_in_use_is_a_sentence(capsys):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert main(["serve", "--no-browser", "--port", str(port)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err == (
        f"Port {port} of 127.0.0.1 is taken: Platewright may already be at http://127.0.0.1:{port}/. "
        f"To have another beside it, choose another port: --port {port + 1}.\n"
    )


def test_a_host_that_is_not_this_machine_is_a_sentence(capsys):
    assert main(["serve", "--no-browser", "--host", "192.0.2.1", "--port", "0"]) == 2
    assert capsys.readouterr().err.startswith("Can't listen on 192.0.2.1, port 0: ")


def test_a_port_beyond_the_last_is_a_sentence(capsys):
    assert main(["serve", "--no-browser", "--port", "65536"]) == 2
    assert capsys.readouterr().err == "--port: 65536: must be from 0 to 65535.\n"


@pytest.mark.parametrize(
    ("host", "address"),
    [("127.0.0.1", "http://127.0.0.1:80/"), ("0.0.0.0", "http://127.0.0.1:80/"), ("::", "http://[::1]:80/")],
)
def test_the_address_to_open(host, address):
    assert listening.address_of(host, 80) == address


def test_serve_says_where_it_is_and_opens_the_browser(monkeypatch, capsys):
    opened = []
    monkeypatch.setattr("webapp.commands.serve.command._open", opened.append)
    monkeypatch.setattr("webapp.commands.serve.served.answer", lambda app, listening, proxy: listening.close())
    assert main(["serve", "--port", "0"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("Platewright is at http://127.0.0.1:")
    assert out.split()[3:4] == opened
    assert io.StringIO(out).readline().endswith("(Ctrl-C ends it).\n")


def test_what_is_loaded_when_serving_starts_is_collected_no_more():
    try:
        listening.keep_loaded()
        assert gc.get_freeze_count() > 10_000
    finally:
        gc.unfreeze()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--processes", "0"], "--processes: 0: must be 1 to 64; one a core is best, "),
        (["--processes", "65"], "--processes: 65: must be 1 to 64; one a core is best, "),
        (["--proxy", "front"], "proxy: front: isn't an address in numbers, such as 127.0.0.1; or say any, where only"),
    ],
    ids=" ".join,
)
def test_what_serve_is_given_wrongly_is_a_sentence(words, said, capsys):
    assert main(["serve", "--no-browser", "--port", "0", *words]) == 2
    assert capsys.readouterr().err.startswith(said)


def test_every_command_stands_in_a_module_of_its_name():
    folder = Path(commands.__file__).parent
    modules = {path.stem for path in folder.iterdir() if path.suffix == ".py" or (path / "__init__.py").exists()}
    assert modules - {"__init__", "console"} == set(commands.COMMANDS)


@pytest.mark.parametrize("name", commands.COMMANDS)
def test_every_command_says_what_it_is_given(name, capsys):
    with pytest.raises(SystemExit) as stopped:
        main([name, "--help"])
    assert stopped.value.code == 0
    out = capsys.readouterr().out
    assert out.startswith(f"usage: platewright {name} ")
    assert len(out.splitlines()) > 4
