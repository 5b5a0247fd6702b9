"""A job's kept layout: moved, turned and pinned by hand, laid out again around what is pinned, cut."""

import json
import re
from dataclasses import replace

import pytest

import parts
from parts import store
from parts.errors import Refused
from parts.laying import search as laying
from parts.store import Content, Kept, KeptLayout, KeptSheet, Line, Lying
from parts.workers import run
from tests import laid_out
from tests.web.test_jobs import post, told
from webapp.pages.jobs import sheets

RING, PLATE = Kept("plate-ring", (("thickness", "6"),)), Kept("gusset-triangle", (("thickness", "6"),))
AT = "/jobs/1/layout"


@pytest.fixture
def own_runs(tmp_path, monkeypatch):
    """Runs of this test alone, each done at once in this process."""
    base = tmp_path / "runs"
    base.mkdir()

    def begun(limits, work, token):
        at = run.Run(base / token)
        at.folder.mkdir(exist_ok=True)
        (at.folder / "alive").touch()
        run._write(at.folder, run._worked(laying.search, work, at))
        return at

    monkeypatch.setattr(run, "_base", lambda: base)
    monkeypatch.setattr(sheets, "begin", begun)


@pytest.fixture
def kept(client, own_runs):
    """A job of braces and rings, whose layout is kept as it was found."""
    store.begin(Content("Gate", "Fernhollow 12 (invented)", (Line(1, PLATE, 6, "brace"), Line(2, RING, 2, "ring"))))
    query = "sheet=700x1000&time=0&gap=5&margin=10"
    client.get(f"/jobs/1/sheets?{query}")
    answer = post(client, f"{AT}/keep?{query}")
    assert (answer.status_code, answer.headers["Location"]) == (303, AT)
    return query


def laid(client, address=f"{AT}/layout.json"):
    with client.get(address) as answer:
        return json.loads(answer.data)["sheets"]


def number_of(name, text):
    """The numbers of sheet and part of the first of a name on the page."""
    return tuple(map(int, re.search(rf'data-choose="(\d+) (\d+)"[^>]*>\d+: {name}<', text).groups()))


def put(client, sheet, part, **fields):
    seen = store.job(1).revision.number
    return post(client, AT, seen=seen, sheet=sheet, part=part, **{"act": "put", **fields})


def lying():
    return [each for sheet in store.job(1).content.layout.sheets for each in sheet.lying]


def test_a_kept_layout_comes_back_the_same(client, kept):
    found = laid(client, f"/jobs/1/sheets/layout.json?{kept}")
    assert laid(client) == found
    assert len(lying()) == 8
    assert client.get("/jobs/1/sheets").headers["Location"] == AT
    assert store.job(1).content.layout.sheet == "700x1000 mm"
    data = store.export(1)
    assert store.take_in(data, "gate").content.layout == store.job(1).content.layout
    for name in ("sheet-01.dxf", "layout.pdf", "sheets.zip"):
        assert client.get(f"{AT}/{name}").status_code == 200
    assert client.get(f"{AT}/nothing.dxf").status_code == 404
    assert "Layout none \u2192 8 parts on 1 sheet" in told(client.get("/jobs/1"))


def test_what_is_pinned_stays_where_it_is_when_the_job_is_laid_out_again(client, kept):
    text = client.get(AT).text
    sheet, part = number_of("ring", text)
    answer = put(client, sheet, part, x="350", y="650", makes_room="yes")
    assert answer.status_code == 303, told(answer)
    assert "sheet=1&part=" in answer.headers["Location"]
    (pin,) = [each for each in lying() if each.is_pinned]
    again = kept.replace("gap=5", "gap=7")
    assert "1 pinned: they stay where they are" in told(client.get(f"/jobs/1/sheets?{again}"))
    (sheet,) = laid(client, f"/jobs/1/sheets/layout.json?{again}")
    (pinned,) = [each for each in sheet["placements"] if each.get("pinned")]
    assert (pinned["row"], pinned["x_mm"], pinned["y_mm"], pinned["turn_deg"]) == (2, pin.x, pin.y, pin.turn_deg)
    assert len(sheet["placements"]) == 8
    profiles = {
        1: parts.draw("gusset-triangle", thickness="6").profile,
        2: parts.draw("plate-ring", thickness="6").profile,
    }
    loops = [
        laid_out.place(profiles[e["row"]], e["x_mm"], e["y_mm"], e["turn_deg"], e["mirrored"])
        for e in sheet["placements"]
    ]
    assert list(laid_out.wrong(loops, 700, 1000, 7, 10)) == []
    assert post(client, f"{AT}/keep?{again}").status_code == 303
    assert [each for each in lying() if each.is_pinned] == [pin]


@pytest.mark.parametrize(("fields", "said"), [
    ({"x": "5", "y": "300"}, "would be 5 mm from the edge; 10 mm are asked for"),
    ({"x": "690", "y": "300"}, "would reach over the edge of sheet 1"),
    ({"x": "wide", "y": "300"}, "From the left"),
    ({"turn": "30"}, "may only lie by quarter turns"),
    ({"turn": "left"}, "must be degrees to the left"),
    ({"to_sheet": "7"}, "isn't a sheet of this layout"),
    ({"part": "99"}, "isn't a part on sheet 1"),
    ({"act": "fold"}, "must be one of put, pin"),
])  # fmt: skip
def test_what_cant_be_is_told_by_name_and_nothing_is_moved(client, kept, fields, said):
    before = store.job(1)
    answer = put(client, **{"sheet": 1, "part": 1, **fields})
    assert (answer.status_code, said in told(answer)) == (422, True), told(answer)
    assert store.job(1) == before


def test_a_part_put_onto_another_says_which_and_how_near(client, kept):
    one, other = lying()[:2]
    gap = 5.0
    text = client.get(AT).text
    boxes = {
        int(n): list(map(float, box.split())) for n, box in re.findall(r'data-part="(\d+)" data-box="([^"]+)"', text)
    }
    names = dict(re.findall(r"<title>(\d+): ([a-z]+)", text))
    rings = [int(number) for number, name in names.items() if name == "ring"]
    x0, y0, x1, _ = boxes[rings[0]]
    answer = put(client, 1, rings[1], x=f"{x0 + 5:.2f}", y=f"{y0 + 5:.2f}")
    assert f"would lie on part {rings[0]}, ring. Move it elsewhere, or let others make room" in told(answer), one
    near = put(client, 1, rings[1], x=f"{x1 + gap - 2:.2f}", y=f"{y0:.2f}")
    assert "would be " in told(near), other
    assert "5 mm are asked for" in told(near)


def test_a_part_is_turned_pinned_and_unpinned_and_that_is_undone(client, kept):
    sheet, part = number_of("brace", client.get(AT).text)
    assert put(client, sheet, part, act="pin").status_code == 303
    (pin,) = [each for each in lying() if each.is_pinned]
    sheet, part = (
        int(n)
        for n in re.findall(r"\d+", re.search(r"laid-pinned.*?data-part=.(\d+)", client.get(AT).text)[0])[-1:] * 2
    )
    turned = put(client, 1, part, turn="90", makes_room="yes")
    assert turned.status_code == 303, told(turned)
    (now,) = [each for each in lying() if each.is_pinned]
    assert now.turn_deg == (pin.turn_deg + 90) % 360
    assert post(client, AT, act="unpin-all", seen=store.job(1).revision.number).status_code == 303
    assert not any(each.is_pinned for each in lying())
    store.undo(1, store.job(1).revision.number)
    assert [each for each in lying() if each.is_pinned] == [now]
    stale = post(client, AT, act="unpin-all", seen="2")
    assert "was changed meanwhile" in told(stale)
    assert post(client, AT, act="forget", seen=store.job(1).revision.number).headers["Location"] == "/jobs/1"
    assert client.get(AT).headers["Location"] == "/jobs/1/sheets"


def test_a_job_that_changed_says_what_of_its_layout_doesnt_hold(client, kept):
    store.change(1, lambda job: job.content.with_line(replace(job.content.line(2), quantity=1)))
    assert "1 of what was laid out is no longer in the job" in told(client.get(AT))
    store.change(1, lambda job: job.content.with_line(replace(job.content.line(1), quantity=9)))
    assert "Line 1, gusset-triangle: 3 of it isn't laid out yet" in told(client.get(AT))
    large = Kept("gusset-triangle", (("thickness", "6"), ("leg_a", "300"), ("leg_b", "300")))
    store.change(1, lambda job: job.content.with_line(replace(job.content.line(1), kept=large)))
    assert "nearer to each other than the gap" in told(client.get(AT))


def test_a_pin_that_cant_stay_is_told_and_laid_out_with_the_others(client, kept):
    sheet, part = number_of("brace", client.get(AT).text)
    put(client, sheet, part, act="pin")
    store.change(1, lambda job: job.content.with_line(replace(job.content.line(1), kept=Kept("gusset-triangle", (
        ("thickness", "6"), ("leg_a", "500"), ("leg_b", "500"))), quantity=1)))  # fmt: skip
    words = told(client.get(f"/jobs/1/sheets?{kept}&even_so=yes"))
    assert "brace was pinned, and is now too near to the edge of its sheet: it is laid out with the others" in words


def test_a_layout_that_nobody_wrote_is_refused_with_the_place():
    content = Content("Gate", "", (Line(1, PLATE),), layout=KeptLayout((KeptSheet(500, 500, (Lying(1, 10, 10),)),)))
    store.begin(content)
    whole = json.loads(store.export(1))
    for change, said in [
        ({"placements": [[1, 2]]}, "must be six numbers"),
        ({"placements": [["1", 0, 0, 0, 0, 0]]}, "must be a number"),
        ({"width_mm": -1}, "above 0"),
        ({"off_cut": 3, "outline_mm": [[[0, 0]]]}, "3 to 5,000 corners"),
    ]:
        other = json.loads(json.dumps(whole))
        other["job"]["layout"]["sheets"][0] |= change
        with pytest.raises(Refused, match=said):
            store.take_in(json.dumps(other).encode(), "gate")


def test_others_may_look_and_change_nothing(client, kept):
    before = store.job(1)
    assert (
        client.post(AT, data={"act": "forget", "seen": "2"}, headers={"Sec-Fetch-Site": "cross-site"}).status_code
        == 403
    )
    assert client.post(f"{AT}/keep?{kept}", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
    assert store.job(1) == before
