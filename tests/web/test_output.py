"""Where commands write: never over what was read, over what isn't ours only when told to, and whole or not at all."""

import io
import os
import sys

import pytest

import parts
from parts.export import FORMATS, wrote
from parts.truing import history
from tests.files import foreign
from tests.files.foreign import circle, dxf
from tests.unit.test_own import box
from webapp.cli import main
from webapp.commands import console

PLATE = dxf(box(100, 60) + circle(50, 30, 10))
DRAW = ["draw", "gusset-triangle"]


@pytest.fixture
def plate(tmp_path):
    path = tmp_path / "plate.dxf"
    path.write_bytes(PLATE)
    return path


def check(path, target, *words) -> int:
    return main(["check", str(path), "--thickness", "6", "-o", str(target), *words])


@pytest.mark.parametrize("kind", ["itself", "hard link", "link", "link to folder", "dotted", "capitals", "accent"])
@pytest.mark.parametrize("force", [(), ("--force",)], ids=["", "forced"])
def test_the_file_that_was_read_is_never_written_over(plate, tmp_path, capsys, monkeypatch, kind, force):
    target = {
        "itself": plate,
        "hard link": tmp_path / "hard.dxf",
        "link": tmp_path / "soft.dxf",
        "link to folder": tmp_path / "there" / "plate.dxf",
        "dotted": tmp_path / "x" / ".." / "plate.dxf",
        "capitals": tmp_path / "PLATE.DXF",
        "accent": tmp_path / "pl\u00e4te.dxf",
    }[kind]
    if kind == "hard link":
        os.link(plate, target)
    elif kind == "link":
        target.symlink_to(plate)
    elif kind == "link to folder":
        (tmp_path / "there").symlink_to(tmp_path)
    elif kind == "dotted":
        (tmp_path / "x").mkdir()
    elif kind == "accent":
        plate = plate.rename(tmp_path / "pla\u0308te.dxf")
    assert check(plate, target, *force) == 2
    out, err = capsys.readouterr()
    assert (out, err) == (
        "", f"output: {target}: is a file that is read here, which is never written over; name another.\n",
    )  # fmt: skip
    assert plate.read_bytes() == PLATE
    assert not target.exists() or target.read_bytes() == PLATE


def test_standard_input_from_the_file_is_the_file(plate, monkeypatch, capsys):
    with plate.open() as stream:
        monkeypatch.setattr(sys, "stdin", stream)
        assert main(["check", "-", "--thickness", "6", "-o", str(plate)]) == 2
    assert "never written over" in capsys.readouterr().err


def test_measurements_drawn_around_and_the_shops_own_file_are_never_written_over(tmp_path, capsys, monkeypatch):
    shop = tmp_path / "shop.json"
    shop.write_text("")
    monkeypatch.setenv("PLATEWRIGHT_SHOP", str(shop))
    assert main([*DRAW, "-o", str(shop), "--force"]) == 2
    history_file = tmp_path / "history.csv"
    monkeypatch.setenv("PLATEWRIGHT_HISTORY", str(history_file))
    history_file.write_bytes(b"")
    assert main(["history", "--csv", str(history_file), "--force"]) == 2
    assert capsys.readouterr().err.count("never written over") == 2


@pytest.mark.parametrize(
    "words",
    [DRAW, ["sheet", "square-test"], ["setup", "plate-shim"], ["check"], ["history"]],
    ids=lambda words: words[0],
)
def test_what_somebody_else_wrote_is_written_over_only_when_told(plate, tmp_path, capsys, words):
    """For every command that writes: a drawing of the customer's under the name asked for."""
    target = tmp_path / {"history": "other.csv", "setup": "other.json"}.get(words[0], "other.svg")
    theirs = foreign.svg('<rect width="5" height="5"/>')
    target.write_bytes(theirs)
    asked = [*words, *([str(plate), "--thickness", "6"] if words[0] == "check" else [])]
    asked += ["--csv" if words[0] == "history" else "-o", str(target)]
    assert main(asked) == 2
    sentence = "is there, and Platewright didn't write it; name another, or say --force."
    assert capsys.readouterr().err.splitlines()[-1] == f"output: {target}: {sentence}"
    assert target.read_bytes() == theirs
    assert main([*asked, "--force"]) == 0
    assert target.read_bytes() != theirs
    assert main(asked) == 0  # its own it may write over


@pytest.mark.parametrize("kind", [kind for kind in FORMATS if kind not in ("step", "glb")])
@pytest.mark.parametrize("of", ["R2010", "R12", "own drawing"])
def test_every_file_we_write_is_known_as_ours(tmp_path, kind, of):
    own = parts.check(PLATE, "plate.dxf", thickness=6)
    drawn = own.file(kind) if of == "own drawing" else parts.draw("gusset-triangle", dxf_version=of).file(kind)
    path = tmp_path / "file"
    path.write_bytes(drawn)
    assert wrote(path)


STEP = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('x'),'2;1');\nFILE_NAME('a','0',(''),(''),'','{}','');\nENDSEC;\n"


@pytest.mark.parametrize(
    ("data", "ours"),
    [
        (STEP.format("platewright 0.1.0"), True),
        (STEP.format("other 1"), False),
        ("glTF" + "." * 16 + '{"asset":{"generator":"Platewright 0.1.0"', True),
        ("glTF" + "." * 16 + '{"asset":{"generator":"another 0.1.0"', False),
        (history.write_csv(()), True),
        ("number,machine\n1,table\n", False),
        (parts.draw("square-test").measuring_sheet().to_toml(), True),
        (parts.draw("square-test").measuring_sheet().to_toml().replace('measured = ""', 'measured = "300"', 1), False),
        (parts.draw("square-test").measuring_sheet().to_toml().replace('name = ""', 'name = "mine"', 1), False),
        ('{"a": "platewright_version"}', False),
        ("%PDF-1.4\n/Creator (Other)\n", False),
        ("<svg xmlns='http://www.w3.org/2000/svg'><metadata>platewright_version</metadata></svg>", False),
        ("999\nplatewright_version\n0\nEOF\n", False),
        ("", False),
    ],
)
def test_a_mark_is_told_from_its_like(tmp_path, data, ours):
    path = tmp_path / "file"
    path.write_text(data)
    assert wrote(path) == ours


def test_a_failure_leaves_the_file_that_was_there(tmp_path, capsys, monkeypatch):
    target = tmp_path / "g.svg"
    assert main([*DRAW, "-o", str(target)]) == 0
    before = target.read_bytes()

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert main([*DRAW, "leg_a=200", "-o", str(target)]) == 2
    assert capsys.readouterr().err.splitlines()[-1] == f"{target}: can't be written: No space left on device."
    assert target.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["g.svg"]


def test_a_link_stays_and_permissions_stay(tmp_path, capsys):
    target, link = tmp_path / "g.svg", tmp_path / "link.svg"
    assert main([*DRAW, "-o", str(target)]) == 0
    assert target.stat().st_mode & 0o777 == 0o666 & ~_umask()
    target.chmod(0o640)
    link.symlink_to(target)
    assert main([*DRAW, "leg_a=200", "-o", str(link)]) == 0
    assert link.is_symlink()
    assert target.stat().st_mode & 0o777 == 0o640
    assert target.read_bytes() == parts.draw("gusset-triangle", leg_a=200).file("svg")


def _umask() -> int:
    umask = os.umask(0)
    os.umask(umask)
    return umask


def test_a_folder_and_a_place_that_is_not_there(tmp_path, capsys):
    (tmp_path / "out.svg").mkdir()
    assert main([*DRAW, "-o", str(tmp_path / "out.svg")]) == 2
    assert "is a folder; name a file in it." in capsys.readouterr().err
    gone = tmp_path / "gone" / "g.svg"
    assert main([*DRAW, "-o", str(gone)]) == 2
    assert f"{gone}: can't be written: No such file or directory." in capsys.readouterr().err


def test_a_device_is_written_as_it_is(capsys):
    assert main([*DRAW, "-o", os.devnull, "--format", "svg"]) == 0
    console.write(b"x", "-")
    assert isinstance(sys.stdout, io.TextIOBase)
