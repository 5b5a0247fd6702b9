"""A part compensated for a table whose errors were accepted: offered, off by default, plainly labelled."""

import html
import io
import re

import ezdxf
import pytest

from parts.export import FORMATS
from parts.truing import history

SQUARE = '[machine]\nname = "Fernhollow table"\n' + "".join(
    f'[[reading]]\nkind = "centres"\ndirection_deg = {way}\nnominal = "{drawn} mm"\nmeasured = "{got} mm"\n'
    for way, drawn, got in ((0, 300, 300.6), (90, 300, 300), (135, 424.264069, 424.9))
)
TRUE = SQUARE.replace("300.6", "300").replace("424.9", "424.264069").replace("Fernhollow", "Other")
PART = "/parts/gusset-triangle"


@pytest.fixture
def entry():
    history.keep("Fernhollow table", SQUARE)
    history.accept(1)
    return 1


def widest(dxf):
    outside = ezdxf.read(io.StringIO(dxf)).modelspace().query('LWPOLYLINE[layer=="OUTSIDE"]')[0]
    return max(x for x, y in outside.get_points("xy") if abs(y) < 1e-3)


def test_nothing_is_offered_before_errors_are_accepted(client):
    assert 'name="compensate"' not in client.get(PART).text
    history.keep("Fernhollow table", SQUARE)
    assert 'name="compensate"' not in client.get(PART).text


def test_it_is_offered_and_off(client, entry):
    page = client.get(PART).text
    assert '<option value="1">Fernhollow table</option>' in page
    assert "Compensated for" not in page
    assert "compensate=" not in page
    assert "compensated" not in client.get(f"{PART}.dxf").headers["Content-Disposition"]


def test_the_dxf_is_the_other_way_off_and_says_for_which_table(client, entry):
    page = client.get(f"{PART}?leg_a=200&corner_radius=0&compensate=1").text
    assert "Compensated for Fernhollow table" in page
    links = re.findall(r'href="(/parts/[^"]*)" download', page)
    kinds = [re.search(r"\.(\w+)\?", link)[1] for link in links]
    assert kinds == [*(kind for kind, each in FORMATS.items() if each.compensable), "zip"], (
        "a drawing on paper and a solid show the part as it shall be"
    )
    file = client.get(links[0].replace("&amp;", "&"))
    assert "_compensated-for-fernhollow-table.dxf" in file.headers["Content-Disposition"]
    # the axis along X is 0.2 % long, so 200 mm are drawn as 200 / 1.002; the square error moves no point of that axis
    assert widest(file.text) == pytest.approx(200 / (1 + 0.6 / 300), abs=2e-4)
    assert "COMPENSATED for Fernhollow table" in file.text
    assert widest(client.get(f"{PART}.dxf?leg_a=200&corner_radius=0").text) == 200


def test_the_empty_choice_of_the_form_leaves_no_trace_in_the_address(client, entry):
    answer = client.get(f"{PART}?typed_in=mm&leg_a=200&compensate=")
    assert answer.headers["Location"] == f"{PART}?leg_a=200"
    assert client.get(f"{PART}?typed_in=mm&compensate=1").headers["Location"] == f"{PART}?compensate=1"


def test_remedies_are_those_of_the_true_part_and_keep_the_table(client, entry):
    asked = "leg_b=150&holes_a=1&bolt=M6&small_holes=cut"
    with_table = client.get(f"{PART}/remedies.json?{asked}&compensate=1").json["remedies"]
    without = client.get(f"{PART}/remedies.json?{asked}").json["remedies"]
    assert with_table
    for one, other in zip(with_table, without, strict=True):
        assert "compensate=1" in one["address"]
        assert one | {"address": ""} == other | {"address": ""}
        assert one["address"].replace("&compensate=1", "") == other["address"]


def test_a_remedy_taken_without_scripts_and_put_back_keeps_the_table(client, entry):
    page = client.get(f"{PART}/remedies?leg_b=150&holes_a=1&bolt=M6&small_holes=cut&compensate=1").text
    link = html.unescape(re.search(r'href="(/parts/[^"]*was=[^"]*)"', page)[1])
    assert "compensate=1" in link
    taken = client.get(link).text
    assert "Compensated for Fernhollow table" in taken
    back = [html.unescape(to) for to in re.findall(r'class="undo" href="(/parts/[^"]*)"', taken)]
    assert back
    assert all("compensate=1" in to for to in back)


def test_the_facts_name_the_table(client, entry):
    row = r"Compensated for</dt>\s*<dd[^>]*>Fernhollow table, to be cut on no other"
    assert re.search(row, client.get(f"{PART}?compensate=1").text)
    assert not re.search(row, client.get(PART).text)


@pytest.mark.parametrize("chosen", ["2", "0", "x", "1 ", "9" * 50])
def test_another_entry_is_refused_beside_the_field(client, entry, chosen):
    page = client.get(PART, query_string={"compensate": chosen})
    assert page.status_code == 422
    assert "no entry whose errors a table is left with; there are 1" in page.text
    assert client.get(f"{PART}.dxf", query_string={"compensate": chosen}).status_code == 422


def test_errors_that_cannot_be_told_from_nothing_are_not_drawn_around(client):
    history.keep("Other table", TRUE)
    history.accept(1)
    assert "no error that drawings could undo" in client.get(f"{PART}?compensate=1").text


def test_a_correction_takes_the_offer_back(client, entry):
    history.keep("Fernhollow table", SQUARE, replaces=1)
    assert client.get(f"{PART}.dxf?compensate=1").status_code == 422


@pytest.mark.parametrize("kind", [kind for kind, each in FORMATS.items() if not each.compensable])
def test_what_shows_the_part_as_it_shall_be_is_not_written_compensated(client, entry, kind):
    assert client.get(f"{PART}.{kind}?compensate=1").status_code == 422


def test_a_history_that_cannot_be_had_stops_no_drawing(client, own_history):
    own_history.parent.mkdir()
    own_history.write_text("no database " * 200)
    assert client.get(PART).status_code == 200
    assert client.get(f"{PART}.dxf").status_code == 200


def test_errors_that_settle_too_little_are_told_in_a_sentence(client):
    history.keep("Fernhollow table", SQUARE.split('[[reading]]\nkind = "centres"\ndirection_deg = 90')[0])
    history.take_in((history.Entry(2, "Fernhollow table", "2026-01-02", "acceptance", 1, ""),))  # accepted elsewhere
    (error,) = client.get(f"{PART}.dxf?compensate=1").json["errors"]
    assert error["message"] == (
        "settles too little to compensate by. Nothing here tells the scale of Y by itself; "
        "the distance between two hole centres along Y would. Nothing here tells the angle between the axes by itself; "
        "the gap of the piece flipped along a straightedge would."
    )
