"""The page of tables: what a table orders is made while the page says how far it is, and handed over as one ZIP."""

import csv
import io
import re
import zipfile

import pytest

import parts
from parts import orders, store
from parts.orders import Sent, zipped
from parts.workers import DONE, FAILED, STOPPED, Limits, Run, run
from tests.depth import DEEP
from webapp.pages import table

HERE = {"Sec-Fetch-Site": "same-origin"}
ROWS = (
    b"part,quantity,name,leg_a,thickness\ngusset-triangle,2,brace,4in,6\ngusset-triangle,1,,ten,6\nplate.dxf,1,,,10\n"
)
PLATE = parts.draw("plate-ring").to_dxf().encode()


@pytest.fixture(autouse=True)
def own_base(tmp_path, monkeypatch):
    """Runs of this test alone."""
    monkeypatch.setattr(run, "_base", lambda: tmp_path)


def sent(client, data=ROWS, **fields):
    beside = {"drawings": (io.BytesIO(PLATE), "../plate.dxf")}
    table = {"table": (io.BytesIO(data), "t.csv"), "format": ["dxf", "svg"]}
    return client.post("/table", data={**table, **beside, **fields}, headers=HERE)


def test_a_table_is_made_and_handed_over(client, monkeypatch):
    """In a process of its own, as it is served."""
    waited = []
    watch = run._watch
    monkeypatch.setattr(run, "_watch", lambda *given: waited.append(watch(*given)))
    begun = sent(client)
    at = begun.headers["Location"]
    assert re.fullmatch(r"/table/[\w-]{22}", at)
    page = client.get(at)
    while "data-goes-on" in page.text:
        assert 'http-equiv="refresh"' in page.text
        page = client.get(at)
    words = " ".join(re.sub("<[^>]+>", " ", page.text).split())
    assert "4 files: 2 parts made, 1 part can\u2019t be drawn." in words
    assert re.search(r"2 002-gusset-triangle .*leg_a: ten: ", words)
    assert "3 003-plate plate.dxf 1" in words
    with client.get(f"{at}/files.zip") as answer:
        archive = zipfile.ZipFile(io.BytesIO(answer.data))
    assert archive.namelist() == [
        "003-plate.dxf",
        "003-plate.svg",
        "brace.dxf",
        "brace.svg",
        "report.csv",
        "report.json",
    ]
    assert archive.read("brace.dxf") == parts.draw("gusset-triangle", leg_a="4in", thickness="6").to_dxf().encode()
    assert client.post(f"{at}/job").status_code == 403
    assert client.post(f"{at}/job", headers=HERE).headers["Location"] == "/jobs/1"
    content = store.job(1).content
    assert [(line.kept.part, line.quantity, line.name) for line in content.lines] == [
        ("gusset-triangle", 2, "brace"), ("gusset-triangle", 1, "002-gusset-triangle"), ("plate.dxf", 1, "003-plate"),
    ]  # fmt: skip
    assert store.file(content.lines[2].kept.drawing) == PLATE
    assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize(("data", "fields", "said"), [
    (b"", {}, "is an empty table"), (b"slug\nx\n", {}, "has no column part"), (b"%PDF-1.4", {}, "is a PDF"),
    (b"part,leg_z\ngusset-triangle,4\n", {}, "is a parameter of no part"),
    (b"part,leg_a\n" + 3 * b"gusset-triangle,100..800 step 1\n", {}, "2,103 different parts; a page makes 2,000"),
    (b"part\n" + b"x" * 9000, {}, "more than a table may have"), (ROWS, {"format": "exe"}, "Choose at least one kind"),
])  # fmt: skip
def test_a_table_that_cant_be_read_is_refused_at_once(client, data, fields, said, tmp_path, monkeypatch):
    monkeypatch.setattr(table, "LARGEST", 9000)
    answer = sent(client, data, **fields)
    assert (answer.status_code, said in answer.text.replace("&#34;", '"')) == (422, True), answer.text
    assert not list(tmp_path.iterdir())


def test_the_table_to_fill_in_is_made_as_it_is(client, tmp_path):
    data = client.get("/table/template.csv").data
    assert next(csv.reader(io.StringIO(data.decode("utf-8-sig"))))[:3] == ["part", "quantity", "name"]
    told = []
    state = zipped.make(Sent("parts.csv", data, (), ("dxf",), False), tmp_path, told.append)
    assert state == {"counts": {"written": 6}, "files": 6}
    assert told == [{"done": done, "of": 6} for done in range(7)]
    assert (tmp_path / orders.FILES).exists()


def test_only_this_page_sends_and_only_a_token_shows(client):
    assert client.post("/table", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
    assert client.post("/table", headers=HERE).status_code == 422
    for wrong in ("/table/x", f"/table/{'A' * 22}", f"/table/{'A' * 22}/files.zip", "/table/..%2f..%2fetc"):
        assert client.get(wrong).status_code == 404, wrong
    assert client.post(f"/table/{'A' * 22}/stop", headers=HERE).status_code == 404


def test_a_run_is_stopped_and_what_goes_wrong_in_it_is_said(tmp_path, capfd):
    one = Run(tmp_path / ("A" * 22))
    one.folder.mkdir()

    def counts(_job, _folder, tell):
        for done in range(3):
            tell({"done": done})
        return {"files": 1}

    assert run._worked(counts, None, one) == {"done": 2, "files": 1, "state": DONE}
    assert run.find("A" * 22) == one
    one.stop()
    assert run._worked(counts, None, one) == {"done": 0, "state": STOPPED}
    assert run._worked(lambda *_: 1 / 0, None, one) == {"state": FAILED}
    assert "ZeroDivisionError" in capfd.readouterr().err
    assert Run(tmp_path / "gone").state == {"state": FAILED}


def test_no_more_run_than_may_and_old_ones_are_taken_away(tmp_path, monkeypatch):
    for name in ("A", "B"):
        (tmp_path / (name * 22)).mkdir()
        (tmp_path / (name * 22) / "alive").touch()
        run._write(tmp_path / (name * 22), {"state": "running"})
    with pytest.raises(parts.errors.Busy):
        run.begin(table.LIMITS, None)
    monkeypatch.setattr(run, "_SILENT_S", -1.0)
    assert Run(tmp_path / (22 * "A")).state == {"state": FAILED}, "whoever started it was ended"
    monkeypatch.setattr(run, "KEPT_S", -1.0)
    run._sweep(tmp_path)
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(not DEEP, reason="waits for a process to be ended")
def test_a_run_that_takes_too_long_is_ended(tmp_path):
    begun = run.begin(Limits("time:sleep", processor_s=60, wall_s=1.0, memory_mb=500), None)
    while begun.state["state"] == "running":
        pass
    assert begun.state["state"] == FAILED
