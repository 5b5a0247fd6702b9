"""The part in space by its addresses: facets and a still picture, of the part that the address says."""

import pytest

from tests.web.refusals import assert_refusal

ANGLE = "/parts/bracket-bent-angle"


@pytest.mark.parametrize(("kind", "mime_type"), [("json", "application/json"), ("svg", "image/svg+xml")])
def test_the_address_alone_gives_the_view(client, kind, mime_type):
    answer = client.get(f"{ANGLE}/view.{kind}?flange_a=70")
    assert (answer.status_code, answer.mimetype) == (200, mime_type)
    assert answer.data != client.get(f"{ANGLE}/view.{kind}").data
    assert_refusal(client.get(f"{ANGLE}/view.{kind}?flange_a=0.1"), 422, "flange_a")
    assert_refusal(client.get(f"/parts/nothing/view.{kind}"), 404, "template")


def test_the_flat_of_a_bent_part_has_no_hinges(client):
    assert len(client.get(f"{ANGLE}/view.json").get_json()["hinges"]) == 1
    assert client.get(f"{ANGLE}/view.json?form=flat").get_json()["hinges"] == []
    assert_refusal(client.get(f"{ANGLE}/view.json?form=round"), 422, "form")


def test_the_page_leads_to_the_view_of_what_it_shows(client):
    page = client.get(f"{ANGLE}?flange_a=70mm").text
    assert f'href="{ANGLE}/view.svg?flange_a=70mm" data-mesh="{ANGLE}/view.json?flange_a=70mm"' in page
    assert f'<noscript><img src="{ANGLE}/view.svg?flange_a=70mm"' in page
    assert "view.svg" not in client.get(f"{ANGLE}?flange_a=0.1").text
