"""The set-up sheet at the command, at its address, and as links on the page of a part."""

import io
import json

import pytest

import parts
from tests.web.refusals import assert_refusal
from webapp.cli import main

SHEET = "/parts/gusset-triangle/setup"


def test_an_address_is_what_the_command_writes(client, tmp_path, capsysbinary):
    part = parts.draw("gusset-triangle", leg_a="4in")
    for kind, mime_type in (("pdf", "application/pdf"), ("json", "application/json")):
        answer = client.get(f"{SHEET}.{kind}?leg_a=4in")
        assert (answer.status_code, answer.mimetype) == (200, mime_type)
        name = f"gusset-triangle_101.6x100_6mm_set-up.{kind}"
        assert f'filename="{name}"' in answer.headers["Content-Disposition"]
        assert (
            client.get(f"{SHEET}.{kind}?leg_a=4in", headers={"If-None-Match": answer.headers["ETag"]}).status_code
            == 304
        )
        assert main(["setup", "gusset-triangle", "leg_a=4in", "-o", str(tmp_path / name)]) == 0
        assert (tmp_path / name).read_bytes() == answer.data == part.set_up(kind)
    capsysbinary.readouterr()
    assert main(["setup", "gusset-triangle", "leg_a=4in", "-o", "-", "--format", "json"]) == 0
    said = json.loads(capsysbinary.readouterr().out)
    assert said["address"] == "/parts/gusset-triangle?leg_a=101.6mm"
    assert {"platewright_version", "template", "parameters"} <= said.keys()
    assert parts.draw(said["template"], **said["parameters"]).set_up("json") == part.set_up("json")


def test_a_drawing_of_ones_own_has_the_set_up_of_the_part_that_it_draws(client, tmp_path, capsys):
    """The plain DXF of a template, checked as anybody's, asks the same at the table as the template's part."""
    part = parts.draw("plate-base", thickness="6 mm")
    own = tmp_path / "own.dxf"
    own.write_text(part.to_dxf())
    out = tmp_path / "own.json"
    assert main(["setup", str(own), "--thickness", "6 mm", "-o", str(out)]) == 0
    assert "caution: " in capsys.readouterr().err
    said, of = json.loads(out.read_text()), json.loads(part.set_up("json"))
    assert said["template"] == "own-drawing"
    for name in ("process", "cut_length_mm", "pierces", "mass", "stock", "supplies"):
        assert said[name] == of[name], name
    assert said["time"]["table_s"] == pytest.approx(of["time"]["table_s"], rel=1e-6)
    assert main(["setup", str(own), "-o", str(out)]) == 2
    assert "thickness: isn't given" in capsys.readouterr().err
    form = {"thickness": "6 mm", "as": "set-up.json", "file": (io.BytesIO(own.read_bytes()), "own.dxf")}
    answer = client.post("/check", data=form)
    assert answer.data == out.read_bytes()
    assert 'filename="own_set-up.json"' in answer.headers["Content-Disposition"]


@pytest.mark.parametrize(
    ("wanted", "name", "begins"),
    [
        ("pattern.pdf", "own_pattern.pdf", b"%PDF-"),
        ("drawing.dxf", "own_drawing_mm.dxf", b"999\n"),
        ("drawing.svg", "own_drawing.svg", b"<?xml"),
        ("set-up.pdf", "own_set-up.pdf", b"%PDF-"),
    ],
)
def test_a_checked_drawing_is_handed_over_on_paper(client, wanted, name, begins):
    own = parts.draw("plate-base").to_dxf().encode()
    form = {"thickness": "6 mm", "as": wanted, "file": (io.BytesIO(own), "own.dxf")}
    answer = client.post("/check", data=form)
    assert answer.data.startswith(begins), answer.text[:200]
    assert f'filename="{name}"' in answer.headers["Content-Disposition"]


def test_a_stop_is_told_and_written_only_when_asked(tmp_path, capsys):
    words = ["setup", "plate-base", "thickness=25", "small_holes=cut", "-o", str(tmp_path / "base.pdf")]
    assert main(words) == 1
    told = capsys.readouterr().err
    assert "stop: hole-to-thickness: " in told
    assert told.endswith("base.pdf: not written; mend what stops it, or say --even-so.\n")
    assert not (tmp_path / "base.pdf").exists()
    assert main([*words, "--even-so"]) == 1
    assert (tmp_path / "base.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["gusset-triangle", "-o", "x.dxf"], "output: x.dxf: must end in one of .pdf, .json"),
        (["gusset-triangle", "-o", "-"], "output: -: say which with --format."),
        (["gusset-triangel", "-o", "x.pdf"], "did you mean gusset-triangle?"),
        (["gusset-triangle", "toe=400", "-o", "x.pdf"], "toe: 400"),
        (["gusset-triangle", "toe", "-o", "x.pdf"], "toe: must be written name=value."),
    ],
)  # fmt: skip
def test_a_wrong_request_is_told_in_a_sentence(words, sentence, capsys):
    assert main(["setup", *words]) == 2
    assert sentence in capsys.readouterr().err


def test_a_wrong_address_is_refused_as_any_other(client):
    assert_refusal(client.get(f"{SHEET}.json?toe=400"), 422, "toe")
    assert_refusal(client.get("/parts/gusset-none/setup.pdf"), 404, "template")
    assert_refusal(client.get(f"{SHEET}.json?compensate=7"), 422, "compensate")
    assert client.get(f"{SHEET}.dxf").status_code == 404


def test_the_page_of_a_part_links_to_its_sheet(client):
    page = client.get("/parts/gusset-triangle?leg_a=4in").text
    for kind in ("pdf", "json"):
        assert f'href="{SHEET}.{kind}?leg_a=101.6mm"' in page
    assert f"{SHEET}." not in client.get("/parts/gusset-triangle?toe=400").text


def test_every_number_of_it_is_set_on_the_page(client, own_file):
    """Saved where it stands, in the page's units, and on the next sheet."""
    asked = {
        "/shop?units=in": {"lifting.mass_kg": "0.5", "rates.currency": "Taler", "rates.machine_per_h": "30"},
        "/shop/air-plasma?group=steel&units=in": {
            "processes.air-plasma.supplies.air.flow_l_min": "8",
            "processes.air-plasma.torch_height.pierce_height_mm": "5/32",
            "processes.air-plasma.duty_cycle.rated_a": "45",
        },
    }
    for address, typed in asked.items():
        page = client.get(address).text
        stamp = page.split('name="stamp" value="')[1].split('"')[0]
        data = {**typed, "stamp": stamp, "was": "{}"}
        assert client.post(address, data=data, headers={"Origin": "http://localhost"}).status_code == 303
    said = client.get(f"{SHEET}.json").json
    assert said["mass"]["limit_kg"] == pytest.approx(0.5 * 0.45359237)
    assert said["mass"]["over_limit"]
    assert (said["cost"]["currency"], said["cost"]["items"]["machine"] > 0) == ("Taler", True)
    assert said["supplies"][0]["l_per_min"] == pytest.approx(8 * 28.316846592)
    pierce = said["process"]["pierce_height_mm"]
    assert (pierce["value"], pierce["kind"]) == (3.96875, "yours")
    assert pierce["source"].startswith("shop's own file; the rest ")
    assert said["process"]["cut_height_mm"]["kind"] == "common practice"
    assert said["duty"]["percent"] == pytest.approx(50 * (45 / 55) ** 2)
