"""The page that checks a drawing of one's own, and the same for programs."""

import re

import pytest

import parts
from parts.read import read_drawing
from parts.read.limits import LARGEST_BYTES
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
    assert "11 findings" in text
    assert "Don&#39;t cut yet: 11 to mend" in text


def test_what_was_healed_is_on_the_page(client):
    gap = dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.03, 40, 0, 40) + line(0, 40, 0, 0))
    assert "Joined 1 gap of up to 0.03 mm." in post(client, gap).text


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
    assert "4 in x 2 in" in again.text
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


def test_bare_numbers_are_shown_in_the_drawings_own_units(client):
    """Read so and shown otherwise, 40 would be told as 40 mm, or be none at all."""
    inches = dxf(box(4, 2), units=INCH)
    page = post(client, inches, thickness="1/4", bed_x="40")
    assert page.status_code == 200
    assert "= 1016 mm" in page.text
