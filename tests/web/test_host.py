"""Under which names the page answers: a strange site that has its own name lead here (DNS rebinding) learns nothing."""

import pytest

from webapp import create_app

STRANGE = [
    "attacker.example",
    "localhost.attacker.example",
    "192.168.1.9:8765",
    "[::1",
    "",
    "127.0.0.1.attacker.example",
]
PATHS = {
    "name": "layout.pdf",
    "token": 22 * "A",
    "slug": "gusset-triangle",
    "kind": "dxf",
    "process": "laser",
    "number": "1",
    "filename": "sheet.css",
}
TELLS_NOTHING = {"/static/<path:filename>", "/healthz"}


def addresses(app):
    """Every address of the application with one of its methods, those aside that tell nothing of the shop."""
    for rule in app.url_map.iter_rules():
        if rule.rule not in TELLS_NOTHING:
            with app.test_request_context():
                given = {name: PATHS[name] for name in rule.arguments - set(rule.defaults or ())}
                path = app.url_map.bind("localhost").build(rule.endpoint, given | (rule.defaults or {}))
            yield path, "POST" if "POST" in rule.methods else "GET"


@pytest.mark.parametrize("host", STRANGE)
def test_no_address_answers_under_a_strange_name(client, host):
    every = dict(addresses(client.application))
    assert len(every) > 20
    for path, method in every.items():
        answer = client.open(path, method=method, headers={"Host": host, "Sec-Fetch-Site": "same-origin"})
        assert answer.status_code == 403, path
        assert "use localhost" in answer.text.lower()
    assert client.get("/nowhere", headers={"Host": host}).status_code == 403
    assert client.get("/healthz", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize("host", ["localhost", "LOCALHOST:8765", "127.0.0.1", "[::1]:8765", "localhost."])
def test_this_machines_own_names_are_answered(client, host):
    assert client.get("/parts/gusset-triangle", headers={"Host": host}).status_code == 200


def test_a_name_that_whoever_serves_the_page_says_is_answered():
    client = create_app({"LISTENS_ON": "0.0.0.0", "NAMES": ("Cutter.Fernhollow.example",)}).test_client()
    asked = [("cutter.fernhollow.example:8765", 200), ("192.168.1.9", 200), ("fernhollow.example", 403)]
    for host, status in asked:
        assert client.get("/", headers={"Host": host}).status_code == status


def test_a_page_behind_a_proxy_is_one_that_others_reach():
    """Whatever it listens on: its numbers can only be read, but by whoever is let in with --shop-edits."""
    for edits, status in ((False, 403), (True, 200)):
        client = create_app({"PROXIED": True, "SHARED_SHOP_EDITS": edits}).test_client()
        answer = client.post("/shop", headers={"Sec-Fetch-Site": "same-origin"})
        assert (answer.status_code == 403) == (status == 403)
