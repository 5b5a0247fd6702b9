"""The pages of jobs: parts go in and come back, every change is undone, nothing is changed from elsewhere."""

import contextlib
import io
import json
import re
import zipfile
from html import unescape

import pytest

import parts
from parts import store
from parts.errors import Overrun
from parts.laying import search as layout
from parts.orders import Asked
from parts.sheets import Stock
from parts.store import Content, Kept, Line
from parts.workers import run
from webapp import create_app
from webapp.pages.jobs import lines as shown_lines
from webapp.pages.jobs import sheets
from webapp.workers.apart import DRAWINGS, POOLS

HERE = {"Sec-Fetch-Site": "same-origin"}
GUSSET_KEPT = Kept("gusset-triangle")
GUSSET = "gusset-triangle?holes_a=1&hole=5mm&thickness=6"


def told(answer):
    """The page's words."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", answer.text)).split())


def post(client, address, **fields):
    return client.post(address, data=fields, headers=HERE)


@pytest.fixture
def job(client):
    """A job of three lines: braces that a finding stops, two rings, an own drawing."""
    add = {"act": "add", "line_name": ""}
    post(client, f"/jobs/add/{GUSSET}", **add, quantity="12", name="Gate", reference="Fernhollow 12 (invented)")
    post(client, "/jobs/add/plate-ring?units=in&od=4&bore=2&thickness=1/4", **add, quantity="2", job="1")
    drawing = {"file": (io.BytesIO(parts.draw("plate-ring").to_dxf().encode()), "own ring.dxf"), "thickness": "10 mm"}
    kept = re.search(r'name="kept" value="([^"]+)"', client.post("/check", data=drawing).text)[1]
    offered = client.post("/jobs/drawing", data={"kept": kept, "kept_name": "own ring.dxf", "thickness": "10 mm"})
    assert (offered.status_code, 'name="thickness" value="10 mm"' in offered.text) == (200, True)
    sent = {"kept": kept, "kept_name": "own ring.dxf", "thickness": "10 mm", "quantity": "3", "job": "1"}
    assert post(client, "/jobs/drawing", **{**add, **sent}).headers["Location"] == "/jobs/1#line-3"
    return store.job(1)


def test_parts_go_into_a_job_and_are_summed_up(client, job):
    assert [(line.kept.part, line.quantity) for line in job.content.lines] == [
        ("gusset-triangle", 12), ("plate-ring", 2), ("own ring.dxf", 3),
    ]  # fmt: skip
    page = client.get("/jobs/1")
    words = told(page)
    gusset = parts.draw("gusset-triangle", holes_a=1, hole="5mm", thickness="6")
    ring = parts.draw("plate-ring", units="in", od="4", bore="2", thickness="1/4")
    own = parts.draw("plate-ring", thickness="10 mm")
    each = ((gusset, 12), (ring, 2), (own, 3))
    kg = sum(count * part.measures.mass_kg for part, count in each)
    seconds = sum(count * part.measures.cut_time_s for part, count in each)
    assert re.search(rf"Parts 17 Weight {kg:.1f} kg", words)
    assert f"Pierces {sum(count * part.measures.pierces for part, count in each)}" in words
    assert f"Time {seconds // 60:.0f} min {seconds % 60:.0f} s" in words
    assert "no rates are set" in words
    assert gusset.findings[0].message in words, "findings over all"
    assert page.text.count("<svg") >= 3 + 3
    assert 'href="/check?job_line=1-3"' in page.text
    assert "http-equiv" not in page.text


def test_costs_are_by_the_shops_rates(client, job, own_file):
    own_file.write_text('[rates]\nmachine_per_h = 60.0\ncurrency = "EUR"\nsource = "invented"\n', encoding="utf-8")
    words = told(client.get("/jobs/1"))
    assert re.search(r"Cost \d+\.\d\d EUR, without material, labour, consumables, air", words)


def test_lines_are_in_the_units_that_are_worked_in(client, job):
    assert "101.6 by 101.6 mm" in told(client.get("/jobs/1"))
    inches = told(client.get("/jobs/1?units=in"))
    assert "4 by 4 in" in inches
    assert re.search(r"hole.{0,40} 0\.\d+ in", inches, re.IGNORECASE), "its findings too"


def test_a_part_is_opened_changed_and_goes_back_into_its_line(client, job):
    (to,) = set(re.findall(r'href="(/parts/gusset-triangle[^"]*job_line=1-1[^"]*)"', client.get("/jobs/1").text))
    opened = client.get(to.replace("&amp;", "&"))
    assert "Opened from line 1" in told(opened)
    assert '<input type="hidden" name="job_line" value="1-1">' in opened.text
    mended = client.get(f"/parts/{GUSSET}&job_line=1-1", headers={"Platewright-Live": "following hole"})
    assert "job_line=1-1" in re.search(r'href="(/jobs/add/[^"]+)"', mended.text)[1]
    offered = client.get("/jobs/add/gusset-triangle?holes_a=1&hole=14mm&job_line=1-1")
    assert "Keep as line 1 of Gate" in offered.text
    assert 'name="quantity" value="12"' in offered.text
    placed = post(client, "/jobs/add/gusset-triangle?holes_a=1&hole=14mm&job_line=1-1", act="place", quantity="13",
                  line_name="brace")  # fmt: skip
    assert placed.headers["Location"] == "/jobs/1#line-1"
    line = store.job(1).content.line(1)
    assert (dict(line.kept.values), line.quantity, line.name) == ({"holes_a": "1", "hole": "14mm"}, 13, "brace")
    changed = told(client.get("/jobs/1/compare"))
    assert "Line 1, brace Hole diameter 5mm 14mm" in changed
    assert "Line 1, brace Quantity 12 13" in changed
    assert re.search(r"4 \S+ \S+ Line 1, brace: .*Hole diameter 5mm → 14mm", told(client.get("/jobs/1")))


def test_a_drawing_is_opened_from_its_line_and_goes_back(client, job):
    opened = client.get("/check?job_line=1-3")
    assert "Keep in line 3 of job 1" in opened.text
    assert 'value="10 mm"' in opened.text
    kept = re.search(r'name="kept" value="([^"]+)"', opened.text)[1]
    sent = {"kept": kept, "kept_name": "own ring.dxf", "thickness": "12 mm", "job_line": "1-3"}
    assert "Keep as line 3 of Gate" in client.post("/jobs/drawing", data=sent).text
    post(client, "/jobs/drawing", **sent, act="place", quantity="3", line_name="")
    assert dict(store.job(1).content.line(3).kept.values) == {"thickness": "12 mm"}
    assert told(client.get("/check?job_line=1-1")).count("is no drawing") == 1
    assert client.get("/check?job_line=9-9").status_code == client.get("/check?saved=none").status_code == 422


def test_quantities_names_and_ways_of_lying_are_changed_together(client, job):
    fields = {"quantity-1": "20", "name-1": "brace", "turns-1": "any", "mirror-1": "yes", "quantity-2": "a dozen"}
    refused = post(client, "/jobs/1/lines", **fields)
    assert (refused.status_code, store.job(1)) == (422, job)
    assert "Line 2 a dozen" in told(refused)
    post(client, "/jobs/1/lines", **{**fields, "quantity-2": "5", "remove": "3"})
    assert store.job(1).revision.number == job.revision.number + 1
    first, second = store.job(1).content.lines
    assert (first.number, first.quantity, first.name, first.turns, first.mirror) == (1, 20, "brace", "any", True)
    assert (second.number, second.quantity, second.name, second.turns, second.mirror) == (2, 5, "", "quarter", False)
    post(client, "/jobs/1/named", name="Gate II", reference="")
    assert (store.job(1).content.name, store.job(1).content.reference) == ("Gate II", "")
    assert post(client, "/jobs/1/named", name=" ", reference="").status_code == 422


def test_changes_are_undone_put_back_and_compared(client, job):
    post(client, "/jobs/1/lines", **{"quantity-1": "20"})
    assert 'action="/jobs/1/redo"' not in client.get("/jobs/1").text
    assert post(client, "/jobs/1/undo", seen="1").status_code == 422
    post(client, "/jobs/1/undo", seen="4")
    assert store.job(1).content == job.content
    assert 'action="/jobs/1/redo"' in client.get("/jobs/1").text
    post(client, "/jobs/1/redo", seen="5")
    assert store.job(1).content.line(1).quantity == 20
    old = client.get("/jobs/1?revision=1")
    assert "This is revision 1" in told(old)
    assert 'name="quantity-1"' not in old.text
    post(client, "/jobs/1/back", seen="6", to="1")
    assert [line.number for line in store.job(1).content.lines] == [1]
    words = told(client.get("/jobs/1"))
    for said in (
        "Put back to revision 1",
        "Revision 4 again",
        "Revision 4 undone",
        "Line 1, gusset-triangle: Quantity 12 → 20",
    ):
        assert said in words
    assert "taken out 2 of it" in told(client.get("/jobs/1/compare?since=6&to=7"))
    assert "They are the same" in client.get("/jobs/1/compare?since=3&to=5").text


def test_jobs_are_found_archived_duplicated_exported_and_taken_in(client, job):
    post(client, "/jobs/new", name="Trailer", reference="")
    assert re.findall(r'href="/jobs/(\d+)"', client.get("/jobs?q=fernhollow+ring").text) == ["1"]
    assert post(client, "/jobs/1/duplicate").headers["Location"] == "/jobs/3"
    post(client, "/jobs/1/archive", archived="yes")
    assert re.findall(r'href="/jobs/(\d+)"', client.get("/jobs").text) == ["3", "2"]
    assert re.findall(r'href="/jobs/(\d+)"', client.get("/jobs?archived=yes").text) == ["1"]
    sent = client.get("/jobs/3/job.json")
    assert sent.headers["Content-Disposition"] == 'attachment; filename="Gate--copy.job.json"'
    came = client.post("/jobs/load", data={"file": (io.BytesIO(sent.data), "gate.json")}, headers=HERE)
    assert came.headers["Location"] == "/jobs/4"
    assert store.job(4).content == store.job(3).content
    for data in ({}, {"file": (io.BytesIO(b"{}"), "gate.json")}):
        refused = client.post("/jobs/load", data=data, headers=HERE)
        assert (refused.status_code, "Nothing was kept" in refused.text) == (422, True)


def test_a_saved_part_is_a_preset_of_its_template(client):
    assert post(client, f"/jobs/add/{GUSSET}", act="save", save_name="<Our> brace").status_code == 303
    page = client.get("/parts/gusset-triangle").text
    assert '<a href="/parts/gusset-triangle?holes_a=1&amp;hole=5mm&amp;thickness=6">&lt;Our&gt; brace</a>' in page
    assert "Our" not in client.get("/parts/plate-ring").text
    assert "&lt;Our&gt; brace" in client.get("/jobs").text
    post(client, "/jobs/saved/forget", name="<Our> brace")
    assert store.saved_parts() == ()
    assert post(client, "/jobs/saved/forget", name="none").status_code == 422
    assert post(client, f"/jobs/add/{GUSSET}", act="save", save_name="").status_code == 422


@pytest.mark.parametrize("headers", [{}, {"Sec-Fetch-Site": "cross-site"}, {"Origin": "http://elsewhere.example"}])
def test_nothing_is_kept_that_another_page_sends(client, headers):
    store.begin(Content("Gate", "", (Line(1, Kept("plate-ring")),)))
    known = store.job(1)
    for address, fields in {
        "/jobs/new": {"name": "x"}, "/jobs/1/lines": {"quantity-1": "9"}, "/jobs/1/archive": {"archived": "yes"},
        f"/jobs/add/{GUSSET}": {"act": "add", "quantity": "1", "job": "1"}, "/jobs/1/duplicate": {},
        "/jobs/drawing": {"act": "save", "save_name": "x"}, "/jobs/load": {}, "/jobs/saved/forget": {"name": "x"},
    }.items():  # fmt: skip
        answer = client.post(address, data=fields, headers=headers)
        assert (answer.status_code, "nothing was kept" in answer.text) == (403, True), address
    assert ([row.number for row in store.jobs()], store.job(1), store.saved_parts()) == ([1], known, ())


def test_a_page_for_other_machines_shows_and_keeps_nothing():
    served = create_app({"LISTENS_ON": "0.0.0.0", "NAMES": ("localhost",)}).test_client()
    store.begin(Content("Gate", "", (Line(1, Kept("plate-ring")),)))
    for address in ("/jobs", "/jobs/1", "/jobs/add/plate-ring"):
        page = served.get(address)
        assert (page.status_code, "Here your jobs can only be read" in page.text) == (200, True), address
        assert '<form method="post"' not in page.text, address
    assert served.post("/jobs/1/archive", data={"archived": "yes"}, headers=HERE).status_code == 403


def test_what_cant_be_drawn_is_told_in_its_line_and_the_others_are_drawn(client):
    given = (
        Kept("gusset-none"),
        Kept("gusset-triangle", (("toe", "400"),)),
        Kept("lost.dxf", (), "0" * 64),
        Kept("plate-ring"),
    )
    store.begin(Content("Gate", "", tuple(Line(i, kept) for i, kept in enumerate(given, start=1))))
    words = told(client.get("/jobs/1"))
    for said in (
        "There is no template called",
        "toe 400 must be at most 200 mm",
        "isn't kept here",
        "3 of the parts can",
    ):
        assert said in words
    refused = client.get("/jobs/add/gusset-triangle?toe=400")
    assert (refused.status_code, "be drawn as it is, so it" in refused.text) == (422, True)
    for wrong in ("/jobs/9", "/jobs/1?revision=9", "/jobs/1/compare?to=9", "/jobs/9/job.json", "/jobs/add/none"):
        assert client.get(wrong).status_code == 404, wrong


def test_a_page_that_takes_long_shows_what_is_drawn_and_asks_again(client, job, monkeypatch):
    monkeypatch.setattr(shown_lines, "LONGEST_S", 0.0)
    monkeypatch.setattr(shown_lines.SUMMARIES, "_held", type(shown_lines.SUMMARIES._held)())
    page = client.get("/jobs/1")
    assert '<meta http-equiv="refresh" content="1">' in page.text
    assert "3 of 3 lines are still being drawn" in told(page)


def test_a_store_that_cant_be_used_spoils_no_part(client, own_store):
    own_store.parent.mkdir(parents=True, exist_ok=True)
    own_store.write_text("no database" * 100)
    assert client.get("/parts/plate-ring").status_code == 200
    page = client.get("/jobs")
    assert (page.status_code, "can&#39;t be used" in page.text) == (500, True)


@pytest.fixture
def own_runs(tmp_path, monkeypatch):
    """Runs of this test alone, each done at once in this process."""
    base = tmp_path / "runs"
    base.mkdir()

    def begun(limits, work, token):
        at = run.Run(base / token)
        at.folder.mkdir()
        (at.folder / "alive").touch()
        assert limits.target == "parts.laying.search:search"
        run._write(at.folder, run._worked(layout.search, work, at))
        return at

    monkeypatch.setattr(run, "_base", lambda: base)
    monkeypatch.setattr(sheets, "begin", begun)


ON = "/jobs/1/sheets?sheet=500x1000&time=0&even_so=yes"


def test_a_job_is_laid_out_each_material_and_thickness_on_sheets_of_its_own(client, job, own_runs):
    assert "1500x3000" in client.get("/jobs/1/sheets").text
    assert "4ftx8ft" in client.get("/jobs/1/sheets?units=in").text
    page = client.get(ON)
    words = told(page)
    for said in ("Searched to the end: layout 1", "Mild steel, 6 mm thick", "Mild steel, 6.35 mm thick", "10 mm thick"):
        assert said in words
    assert re.findall(r'data-row="(\d+)"', page.text).count("1") == 12
    with client.get(ON.replace("sheets?", "sheets/layout.json?")) as answer:
        laid = answer.json
    assert sorted(each["row"] for sheet in laid["sheets"] for each in sheet["placements"]) == 12 * [1] + 2 * [2] + 3 * [
        3
    ]
    assert laid["unplaced"] == []
    with client.get(ON.replace("sheets?", "sheets/sheets.zip?")) as answer:
        names = zipfile.ZipFile(io.BytesIO(answer.data)).namelist()
    count = len(laid["sheets"])
    assert names == [*(f"sheet-{number:02d}.dxf" for number in range(1, count + 1)), "layout.pdf", "layout.json"]
    inches = told(client.get(f"{ON}&units=in"))
    assert "Mild steel, 1/4 in thick" in inches
    for wrong in ("../state.json", "state.json", "none.dxf"):
        assert client.get(ON.replace("sheets?", f"sheets/{wrong}?")).status_code == 404, wrong


def test_what_lies_on_no_sheet_is_told_with_why(client, job, own_runs):
    words = told(client.get("/jobs/1/sheets?sheet=250x250&time=0"))
    assert "Line 1, gusset-triangle: 12 of it: a finding says stop" in words
    assert "Line 3, own ring.dxf: 3 of it: it is too large" in words
    store.change(1, lambda job: job.content.with_line(Line(9, Kept("gusset-triangle", (("toe", "400"),)))))
    assert "line 9: toe: 400: must be at most 200 mm" in told(client.get("/jobs/1/sheets?sheet=250x250&time=0"))
    store.change(1, lambda job: job.content.with_line(Line(10, Kept("plate-ring"), 99_999)))
    assert "up to 5,000 are laid out at once" in told(client.get("/jobs/1/sheets?sheet=250x250&time=0"))


@pytest.mark.parametrize(("query", "said"), [
    ("sheet=large", "isn't a size"), ("sheet=500x1000&margin=400", "leaves nothing of the sheet"),
    ("sheet=500x1000&gap=x", "Gap x"), ("sheet=500x1000&time=999", "must be seconds, 0 to 120"),
])  # fmt: skip
def test_sheets_that_cant_be_are_refused_by_name(client, job, query, said):
    answer = client.get(f"/jobs/1/sheets?{query}")
    assert (answer.status_code, said in told(answer)) == (422, True), told(answer)
    assert client.get("/jobs/1/sheets?sheet=9x9", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 422


def test_better_layouts_are_written_as_they_are_found_and_a_stop_keeps_the_last(tmp_path):
    lines = (Line(1, GUSSET_KEPT, 30), Line(2, Kept("plate-ring"), 4))
    asked = Asked((Stock(1000, 1000),), seconds=0.6)
    seen = []

    def tell(state):
        seen.append(state["at"])
        if state["at"] == 2:
            raise run.Stopping

    with contextlib.suppress(run.Stopping):
        layout.search(layout.Searched(Content("Gate", "", lines), {}, asked), tmp_path, tell)
    assert seen[0] == 1
    for at in range(1, max(seen) + 1):
        laid = json.loads((tmp_path / f"out-{at}" / "layout.json").read_bytes())
        assert sum(len(sheet["placements"]) for sheet in laid["sheets"]) == 34
        assert (tmp_path / f"out-{at}" / layout.ZIPPED).exists()


def test_what_was_traced_goes_into_a_job_as_its_outline(client):
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 60"><path d="M0 0H100V60H0Z"/></svg>'
    sent = {"file": (io.BytesIO(svg), "plate.svg"), "width": "100 mm", "thickness": "4 mm", "as": "job"}
    offered = client.post("/trace", data=sent)
    assert (offered.status_code, "100 by 60 mm" in told(offered)) == (200, True), told(offered)
    assert offered.headers["Referrer-Policy"] == "same-origin"
    fields = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', offered.text))
    post(client, "/jobs/drawing", **fields, act="add", quantity="2", line_name="", name="Traced")
    (line,) = store.job(1).content.lines
    assert (line.kept.part, dict(line.kept.values)["thickness"], line.quantity) == ("plate.dxf", "4mm", 2)
    assert "100 by 60 mm" in told(client.get("/jobs/1"))


def test_a_drawing_that_takes_too_much_is_told_of_in_its_line(job):
    class Ends:
        """A worker that is ended over whatever it is given."""

        @contextlib.contextmanager
        def turn(self):
            yield self

        def do(self, _):
            raise Overrun

    served = create_app({POOLS: {DRAWINGS: Ends()}}).test_client()
    shown_lines.SUMMARIES._held.clear()
    words = told(served.get("/jobs/1"))
    assert "takes more time or memory to check than there is" in words
    assert "Parts 14" in words, "the others are drawn"
    shown_lines.SUMMARIES._held.clear()


def test_the_switch_of_units_leads_back_to_the_job_in_the_others(client, job):
    assert 'value="in" formnovalidate aria-pressed="true"' in client.get("/jobs/1?units=in").text
    back = client.post("/setting?back=/jobs/1/sheets%3Fsheet%3D4ftx8ft%26units%3Din", data={"now": "mm"}, headers=HERE)
    assert back.headers["Location"] == "/jobs/1/sheets?sheet=4ftx8ft&units=mm"
