"""The page that checks a drawing of one's own, and the same for programs."""

import re

import pytest

import parts
from parts.read import read_drawing
from parts.read.limits import LARGEST_BYTES
from parts.rules import RULES
from tests.files.foreign import INCH, UNITLESS, circle, dxf, line, svg
from tests.unit.test_own import box
from tests.web.refusals import assert_refusal
from webapp.forms import carried_file
from webapp.pages.check import LARGEST_REQUEST

PLATE = dxf(box(100, 60) + circle(50, 30, 10) + circle(10, 10, 2))


def post(client, data=PLATE, name="plate.dxf", address="/check", **fields):
    """Send the form; made by hand, since the client would put a large one into a file and leave that open."""
    sent = {"thickness": "6 mm", **fields}
    several = {field: value if isinstance(value, list) else [value] for field, value in sent.items()}
    pairs = [(f'name="{field}"', value.encode()) for field, values in several.items() for value in values]
    pairs += [] if data is None else [(f'name="file"; filename="{name}"', data)]
    body = b"".join(
        b"--edge\r\nContent-Disposition: form-data; %s\r\n\r\n%s\r\n" % (head.encode(), value) for head, value in pairs
    )
    return client.post(address, data=body + b"--edge--\r\n", content_type="multipart/form-data; boundary=edge")


def hidden(answer) -> dict[str, str]:
    """The hidden fields of a page: what its form sends without anything being chosen again."""
    return dict(re.findall(r'<input type="hidden" name="(kept\w*)" value="([^"]*)"', answer.text))


def test_the_form_is_linked_from_the_catalogue(client):
    assert 'href="/check"' in client.get("/").text
    page = client.get("/check")
    assert (page.status_code, page.mimetype) == (200, "text/html")
    assert 'enctype="multipart/form-data"' in page.text


def test_what_was_found_is_on_the_page_with_its_flag(client):
    page = post(client, thickness="6 mm")
    assert page.status_code == 200
    assert "Hole 2 is 4 mm in 6 mm plate" in page.text
    assert 'class="pw-finding pw-stop" data-finding="1"' in page.text
    assert "Don&#39;t cut yet: 1 to mend" in page.text
    assert "Nothing had to be." in page.text


ROW_OF_HOLES = dxf(box(300, 40) + "".join(circle(20 + 26 * i, 20, 2) for i in range(11)))


def test_findings_alike_are_one_row_on_the_page(client):
    text = post(client, ROW_OF_HOLES, thickness="6 mm").text
    assert len(re.findall(r'<li class="stop" data-finding="1"', text)) == text.count('<li class="stop"') == 1
    assert "<b>10 more places like it.</b>" in text
    assert "1 finding<" in text
    assert "Don&#39;t cut yet: 1 to mend" in text


def test_what_was_healed_is_on_the_page(client):
    gap = dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.03, 40, 0, 40) + line(0, 40, 0, 0))
    assert "Joined 1 gap of up to 0.03 mm." in post(client, gap).text


def test_the_tolerance_of_healing_is_a_field_of_the_page_and_of_its_json(client):
    gap = dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.3, 40, 0, 40) + line(0, 40, 0, 0))
    assert 'name="tolerance"' in client.get("/check").text
    page = post(client, gap)
    assert "The outline is open here by 0.3 mm." in page.text
    assert "Healed up to 0.1 mm." in page.text
    page = post(client, gap, tolerance="0.4 mm")
    assert "Joined 1 gap of up to 0.3 mm." in page.text
    assert "Healed up to 0.4 mm." in page.text
    assert 'name="tolerance" value="0.4 mm"' in page.text
    assert post(client, gap, address="/check.json", tolerance="0.4").json["tolerance_mm"] == 0.4


def test_a_tolerance_that_can_not_be_is_told_at_its_field(client):
    page = post(client, tolerance="2 mm")
    row = page.text.split('data-parameter="tolerance"')[1].split("</div>")[0]
    assert page.status_code == 422
    assert "no more than a third of the kerf" in row
    assert 'value="2 mm"' in row
    assert_refusal(post(client, address="/check.json", tolerance="2 mm"), 422, "tolerance")


@pytest.mark.parametrize(
    ("kind", "mimetype", "name"),
    [
        ("dxf", "image/vnd.dxf", "plate_healed_mm.dxf"),
        ("svg", "image/svg+xml", "plate_healed.svg"),
        ("pdf", "application/pdf", "plate_healed.pdf"),
        ("json", "application/json", "plate_healed.json"),
    ],
)
def test_the_page_carries_the_file_so_that_the_healed_drawing_can_be_had(client, kind, mimetype, name):
    answer = post(client, None, **hidden(post(client)), thickness="6 mm", **{"as": kind})
    assert (answer.status_code, answer.mimetype) == (200, mimetype)
    assert answer.headers["Content-Disposition"] == f'attachment; filename="{name}"'
    assert answer.data == parts.check(PLATE, "plate.dxf", thickness="6 mm").file(kind)


def test_a_healed_drawing_reads_back_the_same(client):
    answer = post(client, **{"as": "dxf"})
    assert read_drawing(answer.data, "again.dxf").profile == read_drawing(PLATE, "plate.dxf").profile


def test_r12_says_its_units_in_its_name(client):
    answer = post(client, dxf_version="R12", **{"as": "dxf"})
    assert "plate_healed_R12_mm.dxf" in answer.headers["Content-Disposition"]


@pytest.mark.parametrize(
    "name", ['a"b\r\nX: y.dxf', "../../etc/pass wd.dxf", "Größe.dxf", ".dxf", "C:\\jobs\\plate.dxf"]
)
def test_a_name_can_not_break_the_header(client, name):
    sent = post(client, None, kept=carried_file.packed(PLATE), kept_name=name, **{"as": "dxf"})
    assert re.fullmatch(r'attachment; filename="[A-Za-z0-9._-]+_healed_mm\.dxf"', sent.headers["Content-Disposition"])


def test_units_are_asked_for_and_the_file_needs_no_choosing_again(client):
    unitless = dxf(box(4, 2), units=UNITLESS)
    page = post(client, unitless, "no.dxf")
    assert page.status_code == 422
    row = page.text.split('data-parameter="units"')[1].split("</div>")[0]
    assert "It is 4 mm x 2 mm, or 4 in x 2 in." in row
    again = post(client, None, **hidden(page), units="in", thickness="1/4")
    assert again.status_code == 200
    assert "4 by 2 in" in again.text
    assert '<option value="in" selected>' in again.text


def test_wrong_values_are_named_at_their_fields_and_kept(client):
    page = post(client, thickness="900 mm", process="saw")
    assert page.status_code == 422
    assert 'value="900 mm"' in page.text
    assert 'data-parameter="thickness"' in page.text.split('class="row wrong"')[1] + page.text.split("row wrong")[1]
    assert "must be at most 150 mm" in page.text
    assert hidden(page)["kept_name"] == "plate.dxf"


def test_a_remedy_is_taken_by_a_button_of_the_form(client):
    page = post(client)
    assert 'name="take" value="small_holes=drill"' in page.text
    taken = post(client, None, **hidden(page), small_holes="cut", take="small_holes=drill")
    assert "and 1 to drill" in taken.text
    assert "No findings" in taken.text


LAYERED = dxf(box(100, 60).replace("\n8\n0\n", "\n8\nBORDER\n") + circle(50, 30, 10) + circle(15, 15, 5, "DIM <b>"))


def selects(page) -> dict[str, list[tuple[str, str, bool]]]:
    """The options of each layer and outline by its label: value, title, and which is taken."""
    found = re.findall(
        r'<div class="row role.*?<span>(.*?)</span></label>.*?<select.*?>(.*?)</select>', page.text, re.DOTALL
    )
    option = re.compile(r'<option value="([^"]*)"( selected)?>(.*?)</option>')
    return {label: [(value, title, bool(on)) for value, on, title in option.findall(body)] for label, body in found}


def test_layers_and_outlines_are_on_the_page_with_what_they_are_taken_for(client):
    found = selects(post(client, LAYERED))
    assert list(found) == ["BORDER", "0", "DIM &lt;b&gt;", "10 mm x 10 mm", "100 mm x 60 mm", "20 mm x 20 mm"]
    assert found["BORDER"] == [
        ("", "Cut (guessed)", True), ("BORDER=cut", "Cut", False), ("BORDER=scribe", "Scribe", False),
        ("BORDER=bend", "Bend", False), ("BORDER=drill", "Drill", False), ("BORDER=aside", "Leave out", False),
    ]  # fmt: skip
    assert found["DIM &lt;b&gt;"][0] == ("", "Leave out (guessed)", True)
    assert found["10 mm x 10 mm"] == [("", "Left out", True), ("10,10,20,20=cut", "Cut", False)]
    assert found["20 mm x 20 mm"] == [("", "Cut", True), ("40,20,60,40=aside", "Leave out", False)]


def test_a_left_out_outline_is_drawn_dotted(client):
    assert post(client, LAYERED).text.count('class="pw-aside-line"') == 1
    assert b"pw-aside" not in post(client, LAYERED, **{"as": "svg"}).data


def test_what_was_chosen_is_done_and_stays_chosen(client):
    page = post(client, LAYERED, layer=["DIM <b>=cut", "", "BORDER="], outline=["40,20,60,40=aside", ""])
    assert page.status_code == 422  # an empty role is none
    page = post(client, LAYERED, layer=["DIM <b>=cut", ""], outline=["40,20,60,40=aside", ""])
    assert page.status_code == 200
    found = selects(page)
    assert ("DIM &lt;b&gt;=cut", "Cut", True) in found["DIM &lt;b&gt;"]
    assert found["20 mm x 20 mm"] == [("40,20,60,40=aside", "Left out", True), ("", "Cut", False)]
    assert "Left out 1 outline, as chosen." in page.text


def test_choices_go_along_while_something_else_is_asked(client):
    page = post(client, LAYERED, thickness="900 mm", layer="DIM <b>=cut", outline="40,20,60,40=aside")
    assert page.status_code == 422
    assert '<input type="hidden" name="layer" value="DIM &lt;b&gt;=cut">' in page.text
    assert '<input type="hidden" name="outline" value="40,20,60,40=aside">' in page.text


def test_where_all_is_left_out_the_layers_are_still_there_to_choose(client):
    page = post(client, LAYERED, layer=["BORDER=aside", "0=aside", "DIM <b>=aside"])
    assert page.status_code == 422
    assert "nothing in it is left to cut" in page.text
    assert ("BORDER=aside", "Leave out", True) in selects(page)["BORDER"]


def test_an_unknown_layer_is_named_and_not_sent_again(client):
    page = post(client, LAYERED, layer="SOFT=cut")
    assert page.status_code == 422
    assert "is no layer of this drawing; it has BORDER, 0 and DIM &lt;b&gt;." in page.text
    assert 'value="SOFT=cut"' not in page.text


def test_another_file_takes_none_of_the_choices_of_the_one_before(client):
    page = post(client, PLATE, kept=carried_file.packed(LAYERED), kept_name="old.dxf", layer="DIM <b>=cut")
    assert page.status_code == 200


def test_programs_are_told_of_layers_and_outlines_and_choose(client):
    said = post(client, LAYERED, address="/check.json", layer="DIM <b>=scribe").json
    assert [(row["name"], row["guess"], row["chosen"], row["role"]) for row in said["layers"]] == [
        ("BORDER", "aside", None, "cut"), ("0", "cut", None, "cut"), ("DIM <b>", "aside", "scribe", "scribe"),
    ]  # fmt: skip
    assert said["layers"][0]["why"] == ["since it lies around what is cut"]
    assert [(row["outline"], row["cut"]) for row in said["outlines"]] == [("0,0,100,60", True), ("40,20,60,40", True)]
    assert_refusal(post(client, LAYERED, address="/check.json", layer="0=burn"), 422, "layer")
    assert_refusal(post(client, LAYERED, address="/check.json", outline="5,5,6,6=cut"), 422, "outline")


def test_where_nothing_closes_there_is_no_file(client):
    page = post(client, dxf(line(0, 0, 80, 0) + line(80, 0, 80, 50)))
    assert page.status_code == 200
    assert "No file: no outline in it closes." in page.text
    assert "pw-open-line" in page.text
    refused = post(client, dxf(line(0, 0, 80, 0)), **{"as": "dxf"})
    assert refused.status_code == 422
    assert "nothing to write" in refused.text


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (None, "Choose a drawing: a DXF or an SVG."),
        (b"", "it is empty"),
        (b"\x89PNG\r\n\x1a\n", "it is a picture"),
        (PLATE[:-6], "it ends before its end mark"),
        (svg("<g>"), "its XML is broken"),
        (b"0" * (LARGEST_BYTES + 1), "at most 20 MB are read"),
    ],
    ids=["none", "empty", "picture", "cut short", "xml", "large"],
)
def test_what_can_not_be_read_is_a_sentence_on_the_page_and_for_programs(client, data, says):
    page = post(client, data)
    assert page.status_code == 422
    assert says in page.text
    problems = assert_refusal(post(client, data, address="/check.json"), 422, "file")
    assert says in problems[0]["message"]


def test_more_than_a_drawing_may_have_is_refused_before_it_is_read(client):
    for address in ("/check", "/check.json"):
        answer = post(client, b"0" * (LARGEST_REQUEST + 1), address=address)
        assert answer.status_code == 413
        assert "a drawing may have 20 MB" in answer.text


@pytest.mark.parametrize("what", ["no base64!", "bm90IHppcHBlZA==", carried_file.packed(PLATE)[:40]])
def test_a_kept_file_that_was_tampered_with_is_a_sentence(client, what):
    assert post(client, None, kept=what, kept_name="plate.dxf").status_code == 422


def test_a_kept_file_is_not_unpacked_without_end(client):
    answer = post(client, None, kept=carried_file.packed(b"0" * 200_000_000), kept_name="bomb.dxf")
    assert answer.status_code == 422
    assert "at most 20 MB are read" in answer.text


def test_the_json_is_what_the_library_says(client):
    answer = post(client, address="/check.json", thickness="6 mm")
    assert answer.mimetype == "application/json"
    assert answer.text == parts.check(PLATE, "plate.dxf", thickness="6 mm").to_json()


@pytest.mark.parametrize("fields", [{"thickness": []}, {"thickness": ""}, {"thickness": " "}], ids=str)
def test_without_a_thickness_nothing_is_checked(client, fields):
    (problem,) = assert_refusal(post(client, address="/check.json", **fields), 422, "thickness")
    assert problem["message"].startswith("isn't given: say how thick")


def test_a_thickness_that_was_erased_is_asked_for_at_its_field(client):
    page = post(client, thickness="")
    assert page.status_code == 422
    assert "isn&#39;t given: say how thick" in page.text
    assert 'name="thickness" value=""' in page.text


def test_the_form_shows_the_thickness_it_begins_with(client):
    assert 'name="thickness" value="6 mm"' in client.get("/check").text


@pytest.mark.parametrize("fields", [{"thickness": ["6 mm", "8 mm"]}, {"leg_a": "3"}, {"thickness": "9" * 300}])
def test_fields_that_are_wrong_are_named(client, fields):
    assert_refusal(post(client, address="/check.json", **fields), 422, next(iter(fields)))


def test_markup_in_a_file_and_its_name_stays_text(client):
    page = post(client, PLATE.replace(b"\n8\n0\n", b"\n8\n<script>\n"), "<script>alert(1)</script>.dxf")
    assert "<script>" not in page.text


def test_the_address_for_programs_says_that_it_wants_something(client):
    answer = client.get("/check.json")
    assert "ask with" in assert_refusal(answer, 405, "address")[0]["message"]
    assert "POST" in answer.headers["Allow"]


def test_the_policy_holds_here_too(client):
    page = post(client)
    assert "script-src 'self'" in page.headers["Content-Security-Policy"]
    assert not re.search(r"<script(?! type=\"module\" src)|\son\w+=|style=", page.text)


SMALL = dxf(box(4, 2.4) + circle(2, 1.2, 0.125))


def test_doubtful_units_are_asked_about_with_a_button_for_each(client):
    text = post(client, SMALL, thickness="6").text
    assert "in inches it would be 4 in x 2.4 in with a hole of 1/4 in." in text
    assert '<button class="remedy" form="own" name="take" value="units=mm">It is in mm</button>' in text
    assert '<button class="remedy" form="own" name="take" value="units=in">It is in inches</button>' in text
    assert 'name="thickness" value="6 mm"' in text  # what is typed bare stays so long
    told = post(client, SMALL, thickness="6 mm", take="units=in").text
    assert "<dd>4 by 2.4 in</dd>" in told
    assert "Is the unit right?" not in told
    assert "Is the unit right?" not in post(client, SMALL, thickness="6", take="units=mm").text


def test_units_that_are_not_said_have_a_button_each(client):
    answer = post(client, SMALL.replace(b"70\n4\n", b"70\n0\n"), thickness="6 mm")
    assert answer.status_code == 422
    assert 'name="take" value="units=mm">It is in mm</button>' in answer.text


def test_what_an_svg_leaves_open_can_be_said(client):
    """Pixels to the inch and what is cut of strokes: kept in the form, wrong ones named beside it."""
    ring = svg('<circle cx="50" cy="50" r="20" fill="none" stroke="red" stroke-width="4"/>', 'width="100" height="100"')
    page = post(client, ring, "ring.svg", dpi="100", strokes="middle")
    assert '<input id="dpi" name="dpi" value="100"' in page.text
    assert '<option value="middle" selected>' in page.text
    said = post(client, ring, "ring.svg", "/check.json", dpi="100", strokes="middle").get_json()
    assert said["measures"]["width_mm"] == pytest.approx(40 * 25.4 / 100)
    wrong = post(client, ring, "ring.svg", "/check.json", dpi="0", strokes="edge")
    assert {problem["parameter"] for problem in wrong.get_json()["errors"]} <= {"dpi", "strokes"}
    assert wrong.status_code == 422


def test_bare_numbers_are_shown_in_the_drawings_own_units(client):
    """Read so and shown otherwise, 40 would be told as 40 mm, or be none at all."""
    inches = dxf(box(4, 2), units=INCH)
    page = post(client, inches, thickness="1/4", bed_x="40")
    assert page.status_code == 200
    assert "= 1016 mm" in page.text


def test_files_of_what_is_stopped_are_behind_even_so(client):
    """As the command wants `--even-so`; a drawing in order has its files at once."""
    stopped, sound = post(client).text, post(client, dxf(box(100, 60))).text
    assert re.search(r"<details class=\"even-so\"><summary>Files even so</summary>\s*<p class=\"links\">", stopped)
    assert "Files even so" not in sound
    assert sound.count('name="as"') == stopped.count('name="as"') > 0


def test_a_gap_has_a_button_that_heals_more(client):
    gap = dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.3, 40, 0, 40) + line(0, 40, 0, 0))
    text = post(client, gap).text
    assert '<button class="remedy" form="own" name="take" value="tolerance=0.3mm">Heal up to 0.3 mm</button>' in text
    taken = post(client, gap, take="tolerance=0.3mm").text
    assert "Joined 1 gap of up to 0.3 mm." in taken
    assert 'name="tolerance" value="0.3mm"' in taken


def test_places_on_the_page_are_those_of_the_drawing(client):
    text = post(client, dxf(box(100, 60, 500, 700) + circle(520, 730, 2))).text
    assert '<span class="place">At 520, 730 in the drawing.</span>' in text


def test_what_could_not_be_checked_is_the_verdict_of_the_page(client, monkeypatch):
    rule = next(rule for rule in RULES if rule.RULE == "finger")
    monkeypatch.setattr(rule, "check", lambda *_: 1 / 0)
    text = post(client, dxf(box(100, 60))).text
    assert "Not everything could be checked: finger" in text
    assert "Files even so" in text


def test_a_word_of_the_shops_is_told_beside_its_field(client):
    text = post(client, dxf(box(100, 60)), process="hi-def plasma", material="A36").text
    assert "Hi-def plasma is taken for fine-plasma." in text
    assert "A36 is taken for mild-steel." in text
    assert '<option value="fine-plasma" selected>' in text
    wrong = post(client, dxf(box(100, 60)), process="jet")
    assert wrong.status_code == 422
    assert "may be air-plasma, fine-plasma or waterjet here; say which." in wrong.text
    assert post(client, dxf(box(100, 60)), address="/check.json", process="plasma").json["process"] == "air-plasma"


def test_a_sheets_border_is_left_out_by_a_button_and_stays_out(client):
    sheet = dxf(box(297, 210) + box(100, 60, 50, 50) + circle(70, 80, 6))
    page = post(client, sheet)
    assert '<button class="remedy" form="own" name="take" value="outline=0,0,297,210=aside">Leave it out' in page.text
    page = post(client, sheet, take="outline=0,0,297,210=aside")
    assert "border of the sheet" not in page.text
    assert "100 by 60 mm" in page.text
    assert '<option value="0,0,297,210=aside" selected>' in page.text
    page = post(client, sheet, take="outline=0,0,297,210=cut")
    assert "border of the sheet" not in page.text
