"""Templates of earlier versions go on at every address and command, in tables and in files, as what they are of now."""

import json

import pytest

import parts
from parts.part import outlined
from parts.reopen import reopen
from parts.templates import FORMER, modules
from webapp.cli import main

WAS, NOW, HOW = "plate-cap-round", "plate-cap", "section=round"


@pytest.mark.parametrize("slug", FORMER)
def test_a_former_template_is_drawn_as_what_it_is_of_now(slug):
    now = FORMER[slug]
    assert slug not in modules()
    assert parts.draw(slug).profile == parts.draw(now.slug, **now.values).profile
    assert (
        parts.draw(slug, units="in").profile == parts.draw(now.slug, units="in", **now.ahead({"units": "in"})).profile
    )
    assert outlined(slug, thickness=5).box == parts.draw(slug).profile.box


@pytest.mark.parametrize("rest", ["", ".dxf", ".json", "/remedies.json", "/setup.pdf", "/openapi.json"])
def test_an_address_goes_on_with_its_values(client, rest):
    answer = client.get(f"/parts/{WAS}{rest}?tube=60.3mm&vent=8")
    assert (answer.status_code, answer.location) == (301, f"/parts/{NOW}{rest}?{HOW}&tube=60.3mm&vent=8")
    assert client.get(answer.location).status_code == 200
    assert client.get(f"/parts/{WAS}").location == f"/parts/{NOW}?{HOW}"
    assert client.post(f"/parts/{WAS}{rest}?tube=60").status_code == 308


def test_what_it_had_by_default_gives_way_to_what_is_asked_for(client):
    answer = client.get("/parts/gusset-square-tube?foot=90")
    assert answer.location == "/parts/gusset-saddle?section=square&tube=50mm&lip=15mm&foot=90"
    inches = client.get("/parts/gusset-square-tube.dxf?units=in").location
    assert inches == "/parts/gusset-saddle.dxf?section=square&tube=2in&foot=4-1/2in&lip=5/8in&units=in".replace(
        "/2in", "%2F2in"
    ).replace("/8in", "%2F8in")
    assert parts.draw("gusset-square-tube", tube=60).record.parameters["tube"] == 60


def test_what_is_made_there_is_the_part_it_was(client):
    values = {"tube": "60.3mm", "seat": "back", "step": "1.5mm"}
    answer = client.get(f"/parts/{WAS}.dxf", query_string=values, follow_redirects=True)
    assert answer.text == parts.draw(NOW, section="round", **values).to_dxf()
    page = client.get(f"/parts/{WAS}", follow_redirects=True).text
    assert "Formerly plate-cap-round and plate-cap-square" in page


def test_commands_say_what_it_is_now(tmp_path, capsys):
    target = tmp_path / "cap.json"
    assert main(["draw", WAS, "tube=60.3", "-o", str(target)]) == 0
    assert capsys.readouterr().err.startswith(f"{WAS} is {NOW} {HOW} now.\n")
    assert json.loads(target.read_text())["address"] == f"/parts/{NOW}?section=round&tube=60.3mm"
    assert main(["list", WAS, "--json"]) == 0
    said = capsys.readouterr()
    assert said.err == f"{WAS} is {NOW} {HOW} now.\n"
    assert json.loads(said.out)[0]["formerly"] == ["plate-cap-round", "plate-cap-square"]


def test_a_table_goes_on(tmp_path):
    table = tmp_path / "caps.csv"
    table.write_text(f"part,tube,name\n{WAS},60.3,cap\n", encoding="utf-8")
    assert main(["batch", str(table), "-o", str(tmp_path / "out"), "--format", "json"]) == 0
    made = json.loads((tmp_path / "out" / "cap.json").read_text())
    assert made["parameters"]["section"] == "round"
    assert made["parameters"]["tube"] == 60.3


@pytest.mark.parametrize("kind", ["json", "dxf"])
def test_a_file_of_the_former_one_opens(kind):
    """As an earlier version wrote it: its own slug, and no word of a section."""
    part = parts.draw(NOW, section="round", tube="60.3mm", seat="inside")
    text = part.file(kind).decode().replace(f"/parts/{NOW}?section=round&", f"/parts/{WAS}?")
    text = text.replace(f'"{NOW}"', f'"{WAS}"').replace(f" {NOW}\n", f" {WAS}\n")
    text = text.replace('"section": "round",', "").replace("section=round ", "")
    found = reopen(text.encode(), f"old.{kind}")
    assert found.part.record.address == part.record.address
    assert found.said[-1].startswith(("Its outline is as", "The values are read"))
