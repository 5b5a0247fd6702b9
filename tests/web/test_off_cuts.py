"""Off-cuts: put into the store, used by layouts, taken out when their sheet is cut, and what is left put in."""

import io
import json

import pytest
import shapely

import parts
from parts import store
from parts.store import Content, Kept, Line, OffCut
from tests.web.test_jobs import HERE, post, told
from tests.web.test_layouts import own_runs, put  # noqa: F401 - a fixture
from webapp.cli import main

AT = "/jobs/off-cuts"
RING = Kept("plate-ring", (("thickness", "6"), ("od", "120"), ("bore", "60")))
L_SHAPE = (((0.0, 0.0), (900.0, 0.0), (900.0, 300.0), (300.0, 300.0), (300.0, 800.0), (0.0, 800.0)),)


def test_one_is_put_in_by_its_size_and_by_its_drawing_and_taken_out(client):
    assert post(client, AT, size="600x900", thickness="6", material="mild-steel", name="rack 2").status_code == 303
    drawn = io.BytesIO(parts.draw("plate-ring", thickness="10").to_dxf().encode())
    sent = {"file": (drawn, "left.dxf"), "thickness": "10", "material": "mild-steel", "size": ""}
    assert client.post(AT, data=sent, headers=HERE).status_code == 303
    one, ring = store.off_cuts()
    assert (one.size, one.thickness_mm, one.material, one.name) == ((600, 900), 6, "mild-steel", "rack 2")
    assert (len(ring.outline), ring.thickness_mm) == (2, 10), "an opening counts as gone"
    words = told(client.get(AT))
    assert "600 mm by 900 mm" in words
    assert "rack 2" in words
    assert post(client, AT, take="1").status_code == 303
    assert [each.number for each in store.off_cuts()] == [2]
    assert "isn't one in the store" in told(post(client, AT, take="1"))


@pytest.mark.parametrize(("fields", "said"), [
    ({"size": "600x900"}, "Thickness isn't given"),
    ({"size": "large", "thickness": "6"}, "isn't a size"),
    ({"size": "600x900", "thickness": "thick"}, "Thickness thick"),
    ({"size": "600x900", "thickness": "6", "material": "wood"}, "Material wood"),
    ({"size": "20x900", "thickness": "6"}, "is no off-cut by its size"),
])  # fmt: skip
def test_what_is_no_off_cut_is_refused_by_name(client, fields, said):
    answer = post(client, AT, **fields)
    assert (answer.status_code, said in told(answer)) == (422, True), told(answer)
    assert store.off_cuts() == ()


def test_a_drawing_without_an_outline_is_refused(client):
    line = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 60"><path d="M0 0H100"/></svg>'
    sent = {"file": (io.BytesIO(line), "line.svg"), "thickness": "6"}
    answer = client.post(AT, data=sent, headers=HERE)
    assert (answer.status_code, "line.svg" in told(answer)) == (422, True), told(answer)


def test_others_may_look_and_change_nothing(client):
    sent = {"size": "600x900", "thickness": "6"}
    assert client.post(AT, data=sent, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
    assert store.off_cuts() == ()


@pytest.mark.usefixtures("own_runs")
def test_a_layout_uses_off_cuts_first_and_cutting_takes_them_out_and_puts_in_what_is_left(client):
    other = store.keep_off_cut(OffCut("mild-steel", 10, L_SHAPE))
    mine = store.keep_off_cut(OffCut("mild-steel", 6, L_SHAPE))
    store.begin(Content("Gate", "", (Line(1, RING, 3, "ring"),)))
    query = "sheet=1000x2000&time=0&gap=5&margin=10&off_cuts=yes"
    client.get(f"/jobs/1/sheets?{query}")
    with client.get(f"/jobs/1/sheets/layout.json?{query}") as answer:
        (sheet,) = json.loads(answer.data)["sheets"]
    assert (sheet["off_cut"], len(sheet["placements"])) == (mine.number, 3)
    outline = shapely.Polygon(L_SHAPE[0])
    radius = 60
    middles = [shapely.Point(each["x_mm"], each["y_mm"]) for each in sheet["placements"]]
    for at in middles:  # a ring's own origin is the lower left of its box, however it is turned its middle is near
        assert outline.contains(at)
    assert post(client, f"/jobs/1/layout/keep?{query}").status_code == 303
    assert f"Off-cut {mine.number}, within" in told(client.get("/jobs/1/layout"))
    assert put(client, 1, 1, act="cut", keeps_left="yes").status_code == 303
    there, left = store.off_cuts()
    assert there.number == other.number
    assert (left.of_job, left.thickness_mm) == (1, 6)
    rest = shapely.Polygon(left.outline[0], left.outline[1:])
    assert rest.area < outline.area - 3 * 3.14 * radius**2
    words = told(client.get("/jobs/1/layout"))
    assert "1 sheet cut already" in words
    assert "isn't laid out" not in words
    assert "isn't a sheet of this layout" in told(put(client, 1, 1, act="cut"))


@pytest.mark.usefixtures("own_runs")
def test_two_jobs_cant_cut_one_off_cut(client):
    one = store.keep_off_cut(OffCut("mild-steel", 6, L_SHAPE))
    store.begin(Content("Gate", "", (Line(1, RING, 1, "ring"),)))
    query = "sheet=1000x2000&time=0&off_cuts=yes"
    client.get(f"/jobs/1/sheets?{query}")
    post(client, f"/jobs/1/layout/keep?{query}")
    store.take_off_cut(one.number)
    before = store.job(1)
    assert "isn't in the store any more" in told(put(client, 1, 1, act="cut", keeps_left="yes"))
    assert store.job(1) == before
    assert store.off_cuts() == ()


@pytest.mark.usefixtures("own_runs")
def test_what_was_cut_isnt_laid_out_again_and_what_comes_later_is(client):
    store.begin(Content("Gate", "", (Line(1, RING, 2, "ring"),)))
    query = "sheet=1000x1000&time=0"
    client.get(f"/jobs/1/sheets?{query}")
    post(client, f"/jobs/1/layout/keep?{query}")
    put(client, 1, 1, act="cut")
    assert store.off_cuts() == ()
    store.change(1, lambda job: job.content.with_line(Line(1, RING, 3, "ring")))
    assert "Line 1, plate-ring: 1 of it isn't laid out yet" in told(client.get("/jobs/1/layout"))
    client.get(f"/jobs/1/sheets?{query}")
    post(client, f"/jobs/1/layout/keep?{query}")
    layout = store.job(1).content.layout
    assert [(len(sheet.lying), sheet.is_cut) for sheet in layout.sheets] == [(2, True), (1, False)]


def test_the_command_puts_in_lists_and_takes_out_and_a_layout_uses_them(tmp_path, capsys):
    drawing = tmp_path / "left.dxf"
    drawing.write_text(parts.draw("plate-cover", thickness="6").to_dxf())
    assert main(["offcut", "add", "700x500", "--thickness", "6", "--name", "rack 1"]) == 0
    assert main(["offcut", "add", str(drawing), "--thickness", "10"]) == 0
    assert main(["offcut", "list"]) == 0
    out = capsys.readouterr().out
    assert "off-cut 1: mild-steel 6 mm" in out
    table = tmp_path / "t.csv"
    table.write_text("part,thickness,od,bore,quantity\nplate-ring,6,120,60,3\n")
    asked = ["nest", str(table), "--sheet", "1000x2000", "--time", "0", "--json"]
    assert main([*asked, "--off-cuts"]) == 0
    (sheet,) = json.loads(capsys.readouterr().out)["sheets"]
    assert (sheet["off_cut"], sheet["width_mm"], sheet["height_mm"]) == (1, 700, 500)
    assert main(["offcut", "take", "1"]) == 0
    assert main([*asked, "--off-cuts"]) == 0
    capsys.readouterr()
    assert main(["offcut", "take", "1"]) == 2
    assert "isn't one in the store" in capsys.readouterr().err
    assert main(["offcut", "add", "700x500", "--thickness", "thick"]) == 2
    assert "thickness" in capsys.readouterr().err
    assert main(["offcut", "list", "--json"]) == 0
    assert [each["number"] for each in json.loads(capsys.readouterr().out)] == [2]
