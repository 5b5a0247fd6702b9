"""Styles and scripts come compressed to whoever takes them so, and are asked for again by their tag."""

import gzip

import pytest


@pytest.mark.parametrize("name", ["sheet.css", "part.js", "icon.svg"])
def test_a_text_is_compressed_where_that_is_taken(client, name):
    plain = client.get(f"/static/{name}")
    assert "Content-Encoding" not in plain.headers
    answer = client.get(f"/static/{name}", headers={"Accept-Encoding": "gzip"})
    assert answer.headers["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in answer.headers["Vary"]
    assert gzip.decompress(answer.data) == plain.data
    assert int(answer.headers["Content-Length"]) == len(answer.data) < len(plain.data)
    for tag in (plain.headers["ETag"], answer.headers["ETag"]):
        again = client.get(f"/static/{name}", headers={"Accept-Encoding": "gzip", "If-None-Match": tag})
        assert (again.status_code, again.data) == (304, b"")


def test_what_is_compressed_already_and_a_part_of_a_file_are_sent_as_they_are(client):
    for headers in ({"Accept-Encoding": "gzip"}, {}):
        assert "Content-Encoding" not in client.get("/static/vendor/barlow-400.woff2", headers=headers).headers
    part = client.get("/static/sheet.css", headers={"Accept-Encoding": "gzip", "Range": "bytes=0-99"})
    assert (part.status_code, len(part.data)) == (206, 100)
    assert "Content-Encoding" not in part.headers
