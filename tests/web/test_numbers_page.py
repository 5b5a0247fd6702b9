"""The numbers and where they are from: the page, the same for programs, the command; kinds on "Your machine"."""

import json
import re

import pytest
from markupsafe import Markup

from parts.data import KINDS
from parts.numbers import every
from tests.web.refusals import assert_refusal
from webapp.cli import main


def rows(html):
    """The cells of each row of the table."""
    body = re.search(r"<tbody>(.*?)</tbody>", html, re.S)[1]
    return [
        [str(Markup(c).unescape()) for c in re.findall(r"<td[^>]*>(.*?)</td>", row)] for row in body.split("</tr>")[:-1]
    ]


def test_page_command_and_programs_tell_the_same_numbers(client, capsys):
    listed = every()
    told = client.get("/numbers.json").get_json()["numbers"]
    assert [(n["number"], n["holds_at"], n["value"], n["kind"]) for n in told] == [
        (n.name, n.holds_at, n.value, n.kind) for n in listed
    ]
    assert main(["numbers", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == told
    shown = rows(client.get("/numbers").text)
    assert [(row[0], row[6]) for row in shown] == [(n.name, n.kind) for n in listed]
    assert {row[6] for row in shown} <= set(KINDS)


ASKED = [
    ("rule", "slat-tip", lambda n: "slat-tip" in n["rules"]),
    ("kind", "memory", lambda n: n["kind"] == "from memory"),
    ("kind", "from memory", lambda n: n["kind"] == "from memory"),
    ("process", "laser", lambda n: not n["number"].startswith("processes.") or ".laser." in n["number"]),
]


@pytest.mark.parametrize(("name", "word", "is_asked"), ASKED)
def test_numbers_are_asked_for_by_rule_kind_and_process(client, capsys, name, word, is_asked):
    told = client.get("/numbers.json", query_string={name: word}).get_json()["numbers"]
    assert 0 < len(told) < len(every())
    assert all(map(is_asked, told))
    assert len(rows(client.get("/numbers", query_string={name: word}).text)) == len(told)
    assert main(["numbers", f"--{name}", word]) == 0
    *_, last = capsys.readouterr().out.splitlines()
    assert last.startswith(f"{len(told)} numbers: ")


WRONG = [
    ("rule=slat-tpi", "rule", "There is no rule 'slat-tpi'; did you mean slat-tip?"),
    ("kind=guess", "kind", "There is no kind 'guess'; there are published, practice, memory, derived, yours."),
    ("kind=memory&kind=yours", "kind", "kind is given 2 times; give it once."),
    ("rules=slat-tip", "rules", "'rules' is not one of rule, kind, process."),
]


@pytest.mark.parametrize(("query", "name", "sentence"), WRONG)
def test_what_means_nothing_is_refused_by_name(client, query, name, sentence):
    answer = client.get(f"/numbers.json?{query}")
    assert_refusal(answer, 422, name)
    assert answer.get_json()["errors"][0]["message"] == sentence
    page = client.get(f"/numbers?{query}")
    assert page.status_code == 422
    assert sentence in Markup(page.text).unescape()


def test_the_command_refuses_in_a_sentence(capsys):
    assert main(["numbers", "--rule", "slat-tpi"]) == 2
    assert capsys.readouterr().err == "rule: slat-tpi: There is no rule 'slat-tpi'; did you mean slat-tip?\n"


def test_your_machine_says_the_kind_of_every_number_it_shows(client):
    """Beside each filled cell of a chart, with what it holds for; beside each field; and where all of them are."""
    page = client.get("/shop/air-plasma?group=steel").text
    cells = re.findall(r'<td class="([^"]*)" data-label.*?</td>', page, re.S)
    assert cells
    for cell in re.findall(r"<td class=.*?</td>", page, re.S):
        value = re.search(r'value="([^"]*)"', cell)[1]
        if value and 'class="first' not in cell:
            assert re.search("|".join(KINDS), cell), cell
    assert "published at 55 A" in page
    assert "from memory at 125 A" in page
    fields = re.findall(r"built-in [^<]*</span>", page)
    assert fields
    kinds = "|".join([*KINDS, "not given"])  # prices have no built-in number
    assert [field for field in fields if not re.search(kinds, field)] == []
    assert 'href="/numbers?process=air-plasma"' in page
    assert "from memory at 3 kW" in client.get("/shop/laser").text
    assert "from memory at good edge" in client.get("/shop/waterjet").text


def test_a_cell_of_the_shops_own_is_yours(client, own_file):
    own_file.write_text(
        '[processes.air-plasma.kerf.steel]\nrows = [{ thickness = "1 mm", kerf = "1.1 mm", current_a = 35 }, '
        '{ thickness = "25 mm", kerf = "3 mm", source = "built-in: from memory" }]\n'
    )
    page = client.get("/shop/air-plasma").text
    kerfs = re.findall(r'<td class=[^>]*data-label="Kerf">.*?</td>', page, re.S)
    first, second = [cell for cell in kerfs if re.search(r'value="[0-9.]+"', cell)]
    assert "yours at 35 A" in first
    assert "from memory" in second
    assert "yours" not in second


def test_an_inch_shop_is_told_inches(client):
    """A shop's own units, or those of the address, on the page alone; what a source says stays as it says it."""

    def told(query, kept="mm"):
        page = client.get(f"/numbers{query}", headers={"Cookie": f"shop=units={kept}&asked=1"}).text
        return {(row[0], row[1]): row[2:4] for row in rows(page)}

    known = told("?units=in")
    assert told("", "in") == known
    assert told("?units=mm", "in") != known
    assert known[("machine.slat_pitch_mm", "")] == ["3", "in"]  # 76.2 mm
    assert known[("machine.acceleration_mm_s2", "")] == ["39.37", "in/s²"]  # 1000 mm/s²
    assert known[("materials.mild-steel.density_kg_per_m3", "")] == ["0.2836", "lb/in³"]  # 7850 kg/m³
    assert not any(unit in ("mm", "mm/s") or re.search(r"[0-9] mm", at) for (_, at), (_, unit) in known.items())
    for address in ("/trace?units=in", "/check?units=in"):
        page = client.get(address).text
        assert not re.search(r"[0-9] mm(?!\.)", page.replace("1/4, 16 ga, 6 mm", ""))
        assert f'action="{address}"' in page
