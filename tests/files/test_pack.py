"""The job pack: what is in it, the page of contents, the same bytes each time, and what is left out and says so."""

import io
import re
import zipfile
from html import unescape

import pytest

import parts
from parts.export import FORMATS, wrote
from parts.packing import CONTENTS, file_name, packed
from parts.reopen import reopen
from parts.truing import Errors
from webapp import create_app
from webapp.cli import main

BENT = {"holes_a": 2}


def opened(data):
    archive = zipfile.ZipFile(io.BytesIO(data))
    assert archive.testzip() is None
    return {entry.filename: archive.read(entry) for entry in archive.infolist()}


@pytest.fixture(scope="module")
def bent():
    return parts.draw("bracket-bent-u", **BENT)


@pytest.fixture(scope="module")
def pack(bent):
    return packed(bent)


def test_every_file_is_in_it_named_in_the_contents_and_opens_again(bent, pack):
    files = opened(pack)
    flat = file_name(bent.flat(), "step")
    stem = file_name(bent, "pdf").removesuffix(".pdf")
    sheets = (f"{stem}_set-up.pdf", f"{stem}_set-up.json")
    names = {*(file_name(bent, kind) for kind in FORMATS), flat, *sheets, "preview.jpg"}
    assert files.keys() == {CONTENTS, *names}
    assert next(iter(files)) == CONTENTS
    page = files[CONTENTS].decode()
    assert {*re.findall(r'(?:href|src)="([^"#:]+)"', page)} == names
    for name in names - {"preview.jpg"}:
        assert reopen(files[name], name).address == bent.record.address
    assert files[flat] != files[file_name(bent, "step")]
    text = unescape(re.sub(r"<[^>]+>", " ", page))
    for said in (*bent.cautions, "Can be cut", "Mild steel", "Web, outside", bent.record.address):
        assert said in text, said
    assert "<script" not in page


def test_the_same_part_gives_the_same_bytes(bent, pack):
    assert packed(parts.draw("bracket-bent-u", **BENT)) == pack
    assert {entry.date_time for entry in zipfile.ZipFile(io.BytesIO(pack)).infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_what_can_not_be_made_is_left_out_and_the_contents_say_so():
    part = parts.draw("plate-base", thickness=10)
    part = part.compensated(Errors(0.001), "Fernhollow table")
    files = opened(packed(part, left_out=("step", "glb", "png")))
    assert {name.rsplit(".", 1)[1] for name in files} == {"html", "dxf", "svg", "json"}
    page = files[CONTENTS].decode()
    assert page.count("more time or memory than there is here") == 3
    assert page.count("it shows the part as it shall be") == 1  # of the PDF
    assert "COMPENSATED for Fernhollow table" in page


def test_findings_stand_in_the_contents_and_a_stop_is_packed_only_when_told_to(tmp_path, capsys):
    path = tmp_path / "g.zip"
    words = ["pack", "gusset-triangle", "holes_a=2", "bolt=by-diameter", "hole=3", "thickness=12", "-o", str(path)]
    assert main(words) == 1
    assert not path.exists()
    assert "not written; mend what stops it" in capsys.readouterr().err
    assert main([*words, "--even-so"]) == 1
    part = parts.draw("gusset-triangle", holes_a=2, bolt="by-diameter", hole=3, thickness=12)
    page = unescape(opened(path.read_bytes())[CONTENTS].decode())
    for row in part.record.rows:
        assert f"<b>{row.first.severity}</b> {row.first.message}" in page
    assert wrote(path)
    assert main([*words, "--even-so"]) == 1  # its own it may write over
    path.write_bytes(path.read_bytes()[:-3])
    assert main([*words, "--even-so"]) == 2
    assert "Platewright didn't write it" in capsys.readouterr().err
    assert main([*words[:-1], str(tmp_path / "g.tar")]) == 2
    assert "must end in one of .zip" in capsys.readouterr().err


def test_the_page_links_to_it_and_hands_it_over(bent, pack):
    client = create_app().test_client()
    page = client.get("/parts/bracket-bent-u?holes_a=2").text
    link = unescape(re.search(r'href="(/parts/bracket-bent-u/pack\.zip[^"]*)"', page)[1])
    answer = client.get(link)
    assert (answer.status_code, answer.mimetype, answer.data == pack) == (200, "application/zip", True)
    assert f'filename="{file_name(bent, "zip")}"' in answer.headers["Content-Disposition"]
    assert client.get("/parts/bracket-bent-u/pack.zip?holes_a=x").status_code == 422
    assert client.get("/parts/nothing/pack.zip").status_code == 404
