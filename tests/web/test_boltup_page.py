"""The page that says whether two parts bolt up: by its address, by files, and for programs."""

import io
import re


def test_it_shows_the_form_and_no_answer(client):
    page = client.get("/boltup").get_data(as_text=True)
    assert "answer-heading" not in page
    assert 'name="a"' in page


def test_an_address_is_answered_as_the_json_and_the_library_have_it(client):
    asked = {"a": "plate-motor?bolt=M8", "b": "4 at 93 x 92.6", "bolt": "M8", "trials": "1000"}
    page = client.get("/boltup", query_string=asked)
    told = client.get("/boltup.json", query_string=asked).get_json()
    assert page.status_code == 200
    assert f"{100 * told['chance']:.1f} %" in page.get_data(as_text=True)
    assert page.get_data(as_text=True).count('class="bolt') >= 4
    assert told["safe"] is False


def test_what_is_wrong_is_said_at_its_field(client):
    page = client.get("/boltup", query_string={"a": "plate-motor", "b": "4 at 90", "bolt": "M8", "lie": "so"})
    assert page.status_code == 422
    assert 'id="say-lie"' in page.get_data(as_text=True)
    refused = client.get("/boltup.json", query_string={"a": "no-such", "b": "4 at 90", "bolt": "M8"})
    assert refused.status_code == 404
    assert client.get("/boltup.json", query_string={"a": "4 at 90"}).status_code == 422


def test_a_file_goes_along_with_the_page(client):
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">' + (
        b'<rect width="90" height="90"/><circle cx="30" cy="45" r="5.5"/><circle cx="60" cy="45" r="5.5"/></svg>'
    )
    form = {"a": "", "b": "2 at 30", "bolt": "M10", "thickness": "6 mm", "a_file": (io.BytesIO(svg), "own.svg")}
    page = client.post("/boltup", data=form)
    text = page.get_data(as_text=True)
    assert page.status_code == 200, text
    assert "2 x M10 bolt" in text
    kept = re.search(r'name="a_kept" value="([^"]+)"', text)[1]
    again = {"a": "own.svg", "a_name": "own.svg", "a_kept": kept, "b": "2 at 30.5", "bolt": "M10", "thickness": "6 mm"}
    assert "2 x M10 bolt" in client.post("/boltup", data=again).get_data(as_text=True)
    spoilt = client.post("/boltup", data={**again, "a_kept": "x"})
    assert (spoilt.status_code, "choose the file again" in spoilt.get_data(as_text=True)) == (422, True)


SLOTTED = b"""<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="60mm" viewBox="0 0 120 60">
<rect width="120" height="60"/><path d="M 25 24.5 H 35 A 5.5 5.5 0 0 1 35 35.5 H 25 A 5.5 5.5 0 0 1 25 24.5 Z"/>
<path d="M 85 24.5 H 95 A 5.5 5.5 0 0 1 95 35.5 H 85 A 5.5 5.5 0 0 1 85 24.5 Z"/></svg>"""


def test_a_checked_drawing_leads_there_and_its_slots_take_holes_further_apart(client):
    form = {"thickness": "6 mm", "file": (io.BytesIO(SLOTTED), "own.svg")}
    checked = client.post("/check", data=form).get_data(as_text=True)
    assert 'formaction="/boltup' in checked
    kept = re.search(r'name="kept" value="([^"]+)"', checked)[1]
    page = client.post("/boltup", data={"kept": kept, "kept_name": "own.svg", "thickness": "6 mm"})
    text = page.get_data(as_text=True)
    assert (page.status_code, "answer-heading" in text, 'value="own.svg"' in text) == (200, False, True)
    carried = {"a": "own.svg", "a_name": "own.svg", "a_kept": re.search(r'name="a_kept" value="([^"]+)"', text)[1]}
    for apart, said in (("66", "all enter with a chance of 97."), ("76", "all enter with a chance of 0 %")):
        asked = {**carried, "b": f"2 at {apart}", "bolt": "M10", "thickness": "6 mm"}
        assert said in client.post("/boltup", data=asked).get_data(as_text=True), apart


def test_a_part_with_bolt_holes_leads_there(client):
    assert "/boltup?a=plate-motor" in client.get("/parts/plate-motor?units=mm").get_data(as_text=True)
    assert "/boltup?" not in client.get("/parts/silhouette-cat?units=mm").get_data(as_text=True)


def test_the_page_escapes_what_is_sent(client):
    page = client.get("/boltup", query_string={"a": "<b>x", "b": "4 at 90", "bolt": "<i>"}).get_data(as_text=True)
    assert "<b>x" not in page
    assert "<i>" not in page


def test_bolts_of_several_sizes_are_counted_each(client):
    said = client.get("/boltup?a=plate-motor&b=plate-motor").get_data(as_text=True)
    assert "4 x M10 bolt, 4 x M8 bolt: all enter" in said
