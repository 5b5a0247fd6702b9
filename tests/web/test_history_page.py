"""The page of a table's history: kept by this page alone, plotted, corrected, accepted, taken out and in again."""

import importlib.util
import io
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from parts.truing import history
from webapp.pages.history.plot import ticks_over

_spec = importlib.util.spec_from_file_location("true_forms", Path(__file__).with_name("true_forms.py"))
true_forms = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(true_forms)
filled, HERE, READ = true_forms.filled, true_forms.HERE, true_forms.READ


def keep(client, headers=HERE, read=READ, **more):
    more = {"machine__name": "Fernhollow table", **more}
    return client.post("/true/keep", data=filled(read, **more), headers=headers)


def test_readings_are_kept_and_plotted_with_their_bars(client):
    assert "Nothing is kept yet" in client.get("/true/history").text
    for x in ("300.12", "300.05", "300.01"):
        assert keep(client, read=(x, *READ[1:])).status_code == 303
    page = client.get("/true/history?machine=Fernhollow table").text
    plots = re.findall(r'<svg class="history".*?</svg>', page, re.DOTALL)
    assert len(plots) == 5
    scale = ElementTree.fromstring(plots[0])
    entries = [group for group in scale.iter() if group.get("data-entry")]
    assert [group.get("data-entry") for group in entries] == ["1", "2", "3"]
    heights = [float(next(c for c in group if c.tag.endswith("circle")).get("cy")) for group in entries]
    assert heights == sorted(heights), "the error falls from entry to entry"
    zero = next(path for path in scale.iter() if path.get("class") == "plot-zero").get("d")
    tick = float(re.match(r"M[\d.]+ ([\d.]+)H", zero)[1])
    for group, entry in zip(entries, history.entries(), strict=True):
        found = entry.report().solution.estimates["scale_x"]
        bar = next(path.get("d") for path in group if path.get("class") == "plot-bar")
        top, bottom = sorted(map(float, re.match(r"M[\d.]+ ([\d.]+)V([\d.]+)", bar).groups()))
        middle = float(next(c for c in group if c.tag.endswith("circle")).get("cy"))
        assert (top + bottom) / 2 == pytest.approx(middle, abs=0.11)
        shown = (tick - middle) / (bottom - middle)
        assert shown == pytest.approx(found.value / (found.high95 - found.value), rel=0.03)


def test_it_is_kept_as_it_was_typed(client):
    keep(client)
    page = client.get("/true/history/1").text
    assert "These are the readings of entry 1" in page
    assert 'value="300.12 mm"' in page
    assert 'name="replaces" value="1"' in page
    assert client.get("/true/history/2").status_code == 404


def test_a_correction_stands_beside_what_it_replaces(client):
    keep(client, read=("303.1", *READ[1:]))
    keep(client, replaces="1")
    page = client.get("/true/history").text
    assert "corrected by entry 2" in page
    assert "correcting entry 1" in page
    assert 'class="plot-entry plot-old" data-entry="1"' in page
    assert len(history.entries()) == 2
    assert 'name="replaces"' not in client.get("/true/history/1").text
    again = keep(client, replaces="1")
    assert again.status_code == 422
    assert "in force" in again.text


def test_errors_are_accepted(client):
    keep(client)
    assert client.post("/true/history/accept", data={"entry": "1"}, headers=HERE).status_code == 303
    page = client.get("/true/history").text
    assert "its errors are the accepted ones" in page
    assert 'class="plot-taken"' in page
    assert history.accepted(history.entries())["Fernhollow table"].number == 1
    for wrong in ("7", "", "x", "9" * 40):
        assert client.post("/true/history/accept", data={"entry": wrong}, headers=HERE).status_code == 422


def test_errors_that_settle_too_little_are_not_accepted_and_the_page_says_what_is_missing(client):
    row = '[[reading]]\nkind = "centres"\ndirection_deg = 0\nnominal = "300 mm"\nmeasured = "300.12 mm"\n'
    history.keep("Fernhollow table", row)
    answer = client.post("/true/history/accept", data={"entry": "1"}, headers=HERE)
    assert answer.status_code == 422
    assert "settles too little to compensate by. Nothing here tells the scale of Y by itself" in answer.text
    assert len(history.entries()) == 1


def test_readings_that_say_nothing_or_have_no_table_are_not_kept(client, own_history):
    nameless = keep(client, machine__name="")
    assert nameless.status_code == 422
    assert 'id="say-machine.name"' in nameless.text
    assert keep(client, read=("wrong", *READ[1:])).status_code == 422
    assert not own_history.exists()


@pytest.mark.parametrize("where", ["/true/keep", "/true/history/accept", "/true/history/load"])
@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Origin": "http://elsewhere.example"},
        {"Origin": "null"},
        {"Sec-Fetch-Site": "cross-site", "Origin": "http://localhost"},
        {"Sec-Fetch-Site": "same-site"},
        {**HERE, "Host": "elsewhere.example", "Origin": "http://elsewhere.example"},
    ],
)
def test_no_other_site_writes(client, own_history, where, headers):
    form = filled(machine__name="T") | {"entry": "1"}
    refused = client.post(where, data=form, headers=headers)
    assert refused.status_code == 403
    assert "your tables&#39; history" in refused.text.lower()
    assert not own_history.exists()


def test_no_other_name_of_the_machine_reads(client):
    for where in ("/true/history", "/true/history.csv", "/true/history/1"):
        assert client.get(where, headers={"Host": "elsewhere.example"}).status_code == 403


def test_served_to_other_machines_nothing_is_written_unless_allowed(own_history):
    from webapp import create_app

    shared = create_app({"LISTENS_ON": "0.0.0.0"}).test_client()
    refused = keep(shared)
    assert refused.status_code == 403
    assert not own_history.exists()
    why = "your tables&#39; history can only be read, because the page is served to other machines too. Add to it on"
    assert why in refused.text
    assert why in shared.get("/true/history").text


def test_csv_goes_out_and_comes_in(client, monkeypatch, tmp_path):
    keep(client)
    keep(client, machine__name="Other table")
    whole = client.get("/true/history.csv")
    assert whole.mimetype == "text/csv"
    one = client.get("/true/history.csv?machine=Other table").text
    assert one.count("readings") == 2 - 1
    monkeypatch.setenv(history.VARIABLE, str(tmp_path / "second.sqlite"))
    taken = client.post(
        "/true/history/load", data={"file": (io.BytesIO(whole.data), "h.csv")}, headers=HERE, follow_redirects=True
    )
    assert "2 new entries" in taken.text
    assert client.get("/true/history.csv").data == whole.data
    for wrong in (b"\xff", b"nothing", b""):
        data = {"file": (io.BytesIO(wrong), "h.csv")}
        assert client.post("/true/history/load", data=data, headers=HERE).status_code == 422
    assert client.post("/true/history/load", data={}, headers=HERE).status_code == 422


def test_a_history_that_cannot_be_used_is_told_and_what_was_typed_stays(client, monkeypatch, tmp_path):
    (tmp_path / "in-the-way").write_text("a file")
    monkeypatch.setenv(history.VARIABLE, str(tmp_path / "in-the-way" / "history.sqlite"))
    page = keep(client)
    assert page.status_code == 422
    assert "can&#39;t be used" in page.text
    assert 'value="300.12"' in page.text


def test_a_name_is_shown_as_text(client):
    keep(client, machine__name="T <b>one</b> & co")
    page = client.get("/true/history").text
    assert "T &lt;b&gt;one&lt;/b&gt; &amp; co" in page
    assert "<b>one" not in page


@pytest.mark.parametrize(("low", "high"), [(0, 1), (-0.013, 0.4), (-3000, 0), (0, 1e-9), (0, 0), (-0.4, 0.4)])
def test_ticks_are_round_and_hold_the_range(low, high):
    ticks = ticks_over(low, high)
    assert 2 <= len(ticks) <= 8
    assert ticks[0] <= low + 1e-12
    assert ticks[-1] >= high - 1e-12
    assert min(abs(tick) for tick in ticks) < 1e-12
