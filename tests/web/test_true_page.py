"""The page that trues a table: what is typed, what it answers, and that nothing typed is lost."""

import html
import importlib.util
import io
import json
import math
import re
import tomllib
from pathlib import Path

import pytest
from shapely import LineString, Point

import parts
from parts import draw
from parts.truing import model
from parts.truing.file import MOST_READINGS, read
from parts.truing.reading import KINDS, Reading
from tests.depth import one_in
from tests.property.scribed import metal
from webapp.pages.true import fields, form_of

_spec = importlib.util.spec_from_file_location("true_forms", Path(__file__).with_name("true_forms.py"))
true_forms = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(true_forms)
filled, typed_in = true_forms.filled, true_forms.typed_in


def test_the_form_begins_with_rows_that_settle_every_error_of_the_default_square(client):
    form = typed_in(client.get("/true").text)
    assert [form[f"letter.{i}"] for i in range(11)] == list("ABCDEFGHIJK")
    assert "letter.11" not in form
    errors = model.Errors(0.0004, -0.0003, 0.0009, 0.2, 0.05)
    for i, place in enumerate(form_of.places_of("square-test", {})):
        reading = Reading(place.kind, place.direction, place.nominal, 0, 0.03)
        form[f"measured.{i}"] = repr(model.shown(reading, errors))
    page = client.post("/true", data=form | {"do": "toml"}).text
    found = client.post("/true.json", data=page).json
    assert found["missing"] == {}
    assert found["scale_x"]["value"] == pytest.approx(0.0004, abs=1e-7)
    assert found["out_of_square_deg"]["value"] == pytest.approx(math.degrees(0.0009), abs=1e-5)
    assert found["kerf_error_mm"]["value"] == pytest.approx(0.2, abs=1e-4)
    assert found["hole_shrinkage_mm"]["value"] == pytest.approx(0.05, abs=1e-4)


def test_the_kinds_are_those_of_a_reading():
    assert set(fields.KINDS) == set(KINDS)


def test_the_answer_says_errors_changes_and_cautions(client):
    page = client.post("/true", data=filled(machine__steps_per_mm_x="100"))
    assert page.status_code == 200
    text = page.text
    assert "+0.400 mm in a metre" in text
    assert "Change the steps per mm of X from 100 to 99.96" in text
    assert len(re.findall(r'<svg class="bar"', text)) == 5
    assert "lock it out" in text
    assert "Over a sheet of 4 ft by 8 ft" in text
    assert re.search(r"off in X</th><td>0\.488 mm", text), "0.0004 of 1219.2 mm"


def test_what_is_missing_is_named_with_the_reading_that_settles_it(client):
    page = client.post("/true", data=filled(("300.12", "", "", "", "", "")))
    assert page.status_code == 200
    assert "Nothing here tells the scale of Y by itself" in page.text
    assert "along Y would" in page.text


def test_a_true_table_is_left_alone(client):
    page = client.post("/true", data=filled(("300", "300", "424.264", "350", "12", "10"))).text
    assert page.count("leave it: can") == 5
    assert page.count('class="leave"') == 5


def test_a_reading_that_disagrees_is_marked_in_its_own_row(client):
    form = filled()
    for i, measured in ((6, "300.11"), (7, "300.13"), (9, "303.3")):
        form |= {f"kind.{i}": "centres", f"direction.{i}": "X", f"nominal.{i}": "300", f"measured.{i}": measured}
    text = client.post("/true", data=form).text
    assert re.findall(r'<tr data-row="(\d+)" class="disagrees"', text) == ["9"]
    assert "Measure it again" in text


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("measured.1", "30o", "30o"),
        ("measured.0", "4,5", "4,5"),
        ("nominal.2", "", "length"),
        ("measured.0", "11.8", "far from the nominal"),
        ("direction.2", "north", "write degrees"),
        ("kind.3", "guess", "must be one of"),
        ("instrument.4", "eye", "must be one of"),
        ("u.5", "-1", "more than 0"),
        ("machine.steps_per_mm_x", "lots", "must be a number"),
        ("machine.kerf", "thin", "thin"),
        ("measured.5", "<script>", "&lt;script&gt;"),
    ],
)
def test_what_cannot_be_used_is_told_beside_its_field_and_nothing_typed_is_lost(client, field, typed, said):
    form = filled(machine__name="Fernhollow", tape__a="3 ft") | {field: typed}
    page = client.post("/true", data=form)
    assert page.status_code == 422
    assert f'id="say-{field}"' in page.text
    beside = re.search(rf'id="say-{re.escape(field)}">(.*?)</span>', page.text)[1]
    assert said in beside
    back = typed_in(page.text)
    assert {name: text for name, text in form.items() if back.get(name) != text} == {}


@pytest.mark.parametrize("pressed", ["more", "tape"])
def test_other_buttons_keep_what_was_typed(client, pressed):
    form = filled(machine__name="Fernhollow", tape__a="3 ft", tape__b="4 ft", tape__d1="5 ft")
    back = typed_in(client.post("/true", data=form | {"do": pressed}).text)
    assert {name: text for name, text in form.items() if back.get(name) != text} == {}
    assert ("letter.9" in back) == (pressed == "more")


def test_more_rows_end_at_the_most_that_are_taken(client):
    form = {f"measured.{MOST_READINGS - 2}": "300", "do": "more"}
    page = client.post("/true", data=form).text
    assert f'data-row="{MOST_READINGS - 1}"' in page
    assert f'data-row="{MOST_READINGS}"' not in page


def test_the_form_is_not_sent_in_parts_but_with_a_file(client):
    """Its reader can take the line between two parts for the value of an empty field, where thousands are sent."""
    page = client.get("/true").text
    assert re.search(r'<form id="readings"[^>]*>', page)[0].count("multipart") == 0
    assert re.findall(r'value="(\w+)" formenctype="multipart/form-data"', page) == ["file", "also"]


def test_five_hundred_readings_go_through_the_form(client):
    form = {"units": "mm"}
    for i in range(MOST_READINGS):
        form |= {f"kind.{i}": "centres", f"direction.{i}": "XY"[i % 2], f"nominal.{i}": "300", f"measured.{i}": "300.1"}
        form |= {f"letter.{i}": "", f"instrument.{i}": "caliper", f"u.{i}": ""}
    page = client.post("/true", data=form)
    assert page.status_code == 200
    assert "+0.333 mm in a metre" in page.text


def test_nothing_measured_yet_is_said(client):
    page = client.post("/true", data=filled(("",) * 6))
    assert page.status_code == 422
    assert "one reading at least" in page.text


def test_inches_are_the_same_lengths_and_change_no_answer(client):
    form = filled()
    inches = typed_in(client.post("/true", data=form | {"do": "in"}).text)
    assert inches["units"] == "in"
    shown = client.post("/true", data=form | {"do": "in"}).text
    assert ">tape, 0.02 in<" in shown, "0.5 mm"
    assert 'placeholder="0.02 in"' in shown
    assert " mm<" not in shown.split("<option", 1)[1].split("</select>", 1)[0]
    assert inches["measured.0"] == "300.12 mm"
    one = client.post("/true.json?units=mm", data=client.post("/true", data=form | {"do": "toml"}).data).json
    two = client.post("/true.json?units=mm", data=client.post("/true", data=inches | {"do": "toml"}).data).json
    assert one == two
    typed = inches | {"measured.0": "11.8158"}
    assert 'measured = "11.8158 in"' in client.post("/true", data=typed | {"do": "toml"}).text
    blank = typed_in(client.get("/true?units=in").text)
    assert float(blank["nominal.0"]) * 25.4 == pytest.approx(304.8, abs=1e-4), "12 in"


def test_the_readings_go_to_a_file_and_come_back(client):
    form = filled(machine__name='Fern "hollow" \\ Tisch', machine__kerf="1.4", machine__steps_per_mm_y="80")
    file = client.post("/true", data=form | {"do": "toml"})
    assert file.headers["Content-Disposition"] == 'attachment; filename="measurements.toml"'
    table, readings = read(file.text)
    assert (table.name, table.kerf, table.steps_per_mm_y) == ('Fern "hollow" \\ Tisch', 1.4, 80.0)
    assert len(readings) == 6
    back = client.post("/true", data={"do": "file", "units": "mm", "file": (io.BytesIO(file.data), "m.toml")})
    assert back.status_code == 200
    again = client.post("/true", data=typed_in(back.text) | {"do": "toml"})
    assert read(again.text) == (table, readings)


def test_a_file_in_inches_fills_in_the_same_readings(client):
    rows = "".join(
        f'[[reading]]\nkind = "centres"\ndirection_deg = {way}\nnominal = {nominal}\nmeasured = "{read}"\nu = 0.001\n'
        for way, nominal, read in ((0, 12, "12.004"), (90, 12.0, "12"), (45, 16.97, "16.97 in"))
    )
    text = f'units = "in"\n[machine]\nname = "T"\nkerf = 0.06\n{rows}'
    page = client.post("/true", data={"do": "file", "units": "mm", "file": (io.BytesIO(text.encode()), "m.toml")})
    assert page.status_code == 200
    table, readings = read(client.post("/true", data=typed_in(page.text) | {"do": "toml"}).text)
    assert (table.name, table.kerf) == ("T", pytest.approx(1.524))
    assert [each.measured for each in readings] == pytest.approx([304.9016, 304.8, 431.038])
    assert [each.u for each in readings] == pytest.approx([0.0254] * 3)


@pytest.mark.parametrize(
    "data", [b"\xff\xfe", b"= nonsense", b"reading = 3", b"[machine]\nkerf = 'thin'\n[[reading]]\nkind = 'x'", b""]
)
def test_a_file_that_is_none_is_told(client, data):
    page = client.post("/true", data={"do": "file", "file": (io.BytesIO(data), "m.toml")})
    assert page.status_code == 422
    assert 'class="stale"' in page.text


def test_programs_send_toml_or_json(client):
    toml = client.post("/true", data=filled() | {"do": "toml"}).text
    one = client.post("/true.json", data=toml, content_type="application/toml")
    two = client.post("/true.json", json=tomllib.loads(toml))
    assert one.status_code == two.status_code == 200
    assert one.json == two.json
    assert one.json["scale_x"]["value"] == pytest.approx(0.0004, rel=1e-6)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_programs_get_what_the_command_prints(client, units):
    text = draw("square-test", units=units).measuring_sheet().to_toml()
    text = text.replace('measured = ""', f'measured = "{300.12 if units == "mm" else 12.0047}"', 1)
    answer = client.post("/true.json", data=text)
    assert answer.json == json.loads(parts.true_table(text).to_json())
    assert answer.json["left_out"] == list("BCDEFGHIJK")
    assert [each["said"] for each in answer.json["readings"]] == [
        f"A, centres {'300' if units == 'mm' else '304.8'} mm at 0°"
    ]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"{}",
        b"\xff",
        b"[[reading]]",
        b"[" * 9999,
        b'{"a":' * 5000,
        b'{"reading": [1]}',
        b'{"reading": [{"measured": NaN}]}',
        json.dumps({"machine": 3, "reading": [{}]}).encode(),
    ],
)
def test_programs_are_told_what_is_wrong(client, body):
    answer = client.post("/true.json", data=body)
    assert answer.status_code == 422
    assert all(set(problem) == {"parameter", "value", "message"} for problem in answer.json["errors"])


def test_the_rows_are_those_of_the_piece_that_is_named(client):
    asked = "form=frame&leg_x=400&leg_y=400&spacing=175&holes_x=3&holes_y=3"
    form = typed_in(client.get("/true?template=square-test&" + asked).text)
    assert form["nominal.0"] == "350"
    ways = [form[f"direction.{i}"] for i in range(7)]
    assert ways[:2] == ["X", "Y"]
    assert len([way for way in ways if way not in "XY"]) == 2, "both diagonals"


@pytest.mark.parametrize("asked", ["template=plate-base", "leg_x=no", "leg_x=1&leg_x=2"])
def test_a_piece_that_cannot_be_measured_is_told(client, asked):
    page = client.get(f"/true?{asked}")
    assert page.status_code == 422
    assert 'class="stale"' in page.text


OPEN = {
    "square-test": set(),
    "square-frame": set(),
    "square-targets": {"kerf", "hole_shrinkage"},
    "gauge-kerf-comb": {"scale_y", "out_of_square", "hole_shrinkage"},
    "gauge-hole-ladder": {"scale_y", "out_of_square"},
}
"""What each test piece leaves open; together they settle everything."""


def test_every_test_piece_is_measured():
    assert set(OPEN) == {slug for slug, of in parts.templates().items() if of.readings}


@pytest.mark.parametrize("slug", OPEN)
def test_the_places_of_every_test_piece_are_on_it_and_settle_what_they_are_for(slug):
    template = parts.templates()[slug]
    for preset in template.presets:
        places = template.places(template.parameters.read(preset.values))
        part = parts.draw(slug, **preset.values)
        x0, y0, x1, y1 = part.profile.box
        assert [place.letter for place in places] == [chr(ord("A") + i) for i in range(len(places))]
        for place in places:
            assert all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in (place.start, place.end))
        points = [opening.loop.circle.centre for opening in part.profile.inside if opening.loop.circle]
        points += template.parameters.read(preset.values).middles if slug == "square-targets" else ()
        for place in places:
            for end in (place.start, place.end) if place.kind == "centres" else ():
                assert min(math.dist(end, point) for point in points) < 1e-9
        assert set(parts_missing(places)) == OPEN[slug]


@pytest.mark.parametrize("slug", ["gauge-kerf-comb", "gauge-hole-ladder"])
def test_slots_and_holes_are_measured_from_edge_to_edge(slug):
    """A hundredth of a mm beyond each end of a reading there is metal, and none a hundredth within."""
    template = parts.templates()[slug]
    for preset in template.presets:
        part = parts.draw(slug, **preset.values)
        cut = metal(part)
        for place in template.places(template.parameters.read(preset.values)):
            (xa, y), (xb, _) = place.start, place.end
            if place.kind in ("inside", "hole"):
                assert cut.contains(Point(xa - 0.01, y))
                assert cut.contains(Point(xb + 0.01, y))
                assert not cut.intersects(LineString([(xa + 0.01, y), (xb - 0.01, y)]))


def parts_missing(places):
    from parts.truing.missing import missing

    return missing([Reading(p.kind, p.direction, p.nominal, p.nominal, 0.03) for p in places])


@pytest.mark.parametrize(
    ("tape", "said"),
    [
        # 3-4-5: no error to see
        ({"a": "3 ft", "b": "4 ft", "d1": "5 ft"}, "tell it from square"),
        # law of cosines: cos C = (a² + b² - c²) / 2ab with c = 5 ft 1/4 in: 0.40° beyond a right angle
        ({"a": "3 ft", "b": "4 ft", "d1": "5 ft 1/4 in"}, "opens too wide"),
        # the longer diagonal starts from the sharper corner
        ({"a": "1200", "b": "2400", "d1": "2690", "d2": "2680"}, "is too sharp"),
        ({"a": "1200", "b": "2400", "d1": "2680", "d2": "2690"}, "opens too wide"),
    ],
)
def test_the_tape_tells_what_it_can(client, tape, said):
    page = client.post("/true", data={f"tape.{name}": text for name, text in tape.items()} | {"do": "tape"})
    assert page.status_code == 200
    assert said in page.text
    assert "The smallest error it shows" in page.text


def test_the_tape_gives_the_angle_of_the_law_of_cosines(client):
    a, b, c = 914.4, 1219.2, 1524 + 6.35
    angle = math.degrees(math.acos((a * a + b * b - c * c) / (2 * a * b))) - 90
    page = client.post("/true", data={"tape.a": "3 ft", "tape.b": "4 ft", "tape.d1": f"{c} mm", "do": "tape"})
    assert f"The corner stands at {90 + angle:.3f}\u00b0" in page.text


@pytest.mark.parametrize(
    ("tape", "field"),
    [
        ({}, "a"),
        ({"a": "x", "b": "4 ft", "d1": "5 ft"}, "a"),
        ({"a": "3 ft", "b": "-4 ft", "d1": "5 ft"}, "b"),
        ({"a": "3 ft", "b": "4 ft", "d1": "50 ft"}, "d1"),
        ({"a": "3 ft", "b": "4 ft", "d1": "5 ft", "u": "0"}, "u"),
    ],
)
def test_what_the_tape_cannot_have_read_is_told(client, tape, field):
    page = client.post("/true", data={f"tape.{name}": text for name, text in tape.items()} | {"do": "tape"})
    assert page.status_code == 422
    assert f'id="say-tape.{field}"' in page.text


def test_the_description_has_the_addresses(client):
    description = client.get("/openapi.json").json  # test_openapi.py tells whether it is valid
    assert {"/true", "/true.json", "/true/history", "/true/history.csv", "/true/keep"} <= set(description["paths"])


@pytest.mark.parametrize("slug", OPEN)
def test_the_file_to_fill_in_is_that_of_the_sheet_and_goes_back_into_the_form(client, slug):
    answer = client.get(f"/true/sheet.toml?template={slug}&units=in")
    assert answer.headers["Content-Disposition"] == 'attachment; filename="measurements.toml"'
    assert answer.text == draw(slug, units="in").measuring_sheet().to_toml()
    assert f"/true/sheet.toml?template={slug}" in client.get(f"/true/sheet?template={slug}").text
    page = client.post("/true", data={"do": "file", "units": "in", "file": (io.BytesIO(answer.data), "m.toml")})
    assert page.status_code == 200
    assert 'class="stale"' not in page.text
    form, rows = typed_in(page.text), typed_in(client.get(f"/true?template={slug}&units=in").text)
    names = [name for name in rows if name.split(".")[0] in ("letter", "kind", "measured")]
    assert names
    assert {name: form.get(name) for name in names} == {name: rows[name] for name in names}
    assert client.get("/true/sheet.toml?template=plate-base").status_code == 422


def test_rows_of_another_piece_stand_after_those_that_are_typed(client):
    page = client.post("/true", data=filled() | {"do": "piece", "piece": "gauge-kerf-comb"})
    assert page.status_code == 200
    form = typed_in(page.text)
    assert {name: form[name] for name in filled()} == filled()
    assert [form[f"letter.{i}"] for i in range(6, 16)] == [f"comb {each}" for each in "ABCDEFGHIJ"]
    assert [form[f"kind.{i}"] for i in range(6, 16)] == ["inside"] * 8 + ["outside"] * 2
    refused = client.post("/true", data=filled() | {"do": "piece", "piece": "plate-base"})
    assert refused.status_code == 422
    assert "isn&#39;t a test piece" in refused.text


def test_rows_of_a_file_stand_after_those_that_are_typed(client):
    file = (
        draw("gauge-hole-ladder", steps="3").measuring_sheet().to_toml().replace('measured = ""', 'measured = "9.7"', 1)
    )
    data = filled(machine__name="Fernhollow") | {"do": "also", "file": (io.BytesIO(file.encode()), "ladder.toml")}
    page = client.post("/true", data=data)
    assert page.status_code == 200
    form = typed_in(page.text)
    assert {name: form[name] for name in filled()} == filled()
    assert (form["machine.name"], form["measured.6"], form["measured.7"]) == ("Fernhollow", "9.7 mm", "")
    assert "X comes out 0.4" in page.text


def test_rows_not_measured_yet_go_into_the_file_and_are_left_out_of_the_answer(client):
    form = filled(("300.12", "", "", "", "", ""))
    file = client.post("/true", data=form | {"do": "toml"}).text
    assert [row["note"] for row in tomllib.loads(file)["reading"]] == list("ABCDEF")
    assert len(read(file)[1]) == 1
    wrong = client.post("/true", data=form | {"measured.3": "no"})
    assert 'id="say-measured.3"' in wrong.text


def test_more_rows_than_are_taken_are_refused(client):
    form = {f"measured.{i}": "300" for i in range(MOST_READINGS - 3)}
    page = client.post("/true", data=form | {"do": "piece", "piece": "square-test"})
    assert page.status_code == 422
    assert f"at most {MOST_READINGS}" in page.text


PIECES = ("square-test", "square-frame", "square-targets", "gauge-kerf-comb", "gauge-hole-ladder")
DRAWN = {
    "square-test": ("leg_x=420mm&units=in", "nominal.3", 420),
    "square-frame": ("size_x=555mm", "nominal.6", 555),
    "square-targets": ("across=24in&up=700mm&units=in", "nominal.0", 609.6),
    "gauge-kerf-comb": ("smallest=8mm&units=in", "nominal.0", 8),
    "gauge-hole-ladder": ("smallest=8mm", "nominal.0", 8),
}
"""A drawing of each piece that isn't its default, and a row that shows it."""


def links(page):
    """The links of a page to a sheet or to the drawing, as a person follows them."""
    found = re.findall(r'href="(/(?:true/sheet|parts/)[^"]*)"', page.split("<main", 1)[-1])
    return {html.unescape(each) for each in found}


def lengths(sheet):
    return [float(each) for each in re.findall(r'nominal = "([\d.]+) (?:mm|in)"', sheet)]


BUTTONS = ("", "more", "solve", "in", "mm", "piece", "tape", "keep")


@pytest.mark.parametrize("slug", PIECES)
def test_every_link_follows_the_drawing_that_is_on_the_screen(client, slug):
    """From the part's page to the form, through its buttons, to the sheet: always of the values shown.

    An everyday run presses two buttons of each piece, so that all are pressed of one or another.
    """
    asked, field, drawn = DRAWN[slug]
    part = client.get(f"/parts/{slug}?{asked}").text
    measure = re.search(r'id="measure" data-live="always"><a href="([^"]+)"', part)[1]
    address = html.unescape(measure)
    page = client.get(address).text
    form = typed_in(page)
    inch = 25.4 if "units=in" in asked else 1.0
    assert form["units"] == ("in" if inch > 1 else "mm"), "the units of the piece"
    assert float(form[field]) * inch == pytest.approx(drawn, abs=1e-3)
    expected = lengths(client.get(address.replace("/true?", "/true/sheet.toml?")).text)
    assert [float(form[f"nominal.{i}"]) for i in range(len(expected))] == pytest.approx(expected, abs=6e-4)
    for pressed in one_in(4, BUTTONS, first=PIECES.index(slug) % 4):
        data = form | {"do": pressed, "measured.0": form["nominal.0"], "piece": "gauge-kerf-comb"}
        after = client.post("/true", data=data).text
        for link in links(after) - {f"/parts/{slug}", "/parts/square-test"}:
            values = link.split("?", 1)[1]
            assert all(value in values for value in asked.split("&")), (pressed, link)
        (sheet,) = (link for link in links(after) if link.startswith("/true/sheet"))
        assert lengths(client.get(sheet.replace("/sheet?", "/sheet.toml?")).text) == expected
        assert client.get(sheet).status_code == 200


@pytest.mark.parametrize("slug", PIECES)
def test_what_cannot_be_drawn_is_not_measured_against_another_drawing(client, slug):
    field = DRAWN[slug][0].split("=")[0]
    page = client.get(f"/parts/{slug}?{field}=no")
    assert page.status_code == 422
    assert "/true" not in re.search(r'<p id="measure".*?</p>', page.text)[0]


@pytest.mark.parametrize("slug", PIECES)
def test_a_sheets_file_brings_back_its_drawing_and_its_units(client, slug):
    asked = DRAWN[slug][0]
    file = client.get(f"/true/sheet.toml?template={slug}&{asked}").text
    data = {"units": "mm", "do": "file", "file": (io.BytesIO(file.encode()), "m.toml")}
    page = client.post("/true", data=data).text
    form = typed_in(page)
    assert form["units"] == ("in" if "units=in" in asked else "mm")
    assert form["piece.drawing"].startswith(f"/parts/{slug}?")
    (sheet,) = (link for link in links(page) if link.startswith("/true/sheet"))
    assert lengths(client.get(sheet.replace("/sheet?", "/sheet.toml?")).text) == lengths(file)
    again = client.post("/true", data=form | {"do": "toml"}).text
    assert tomllib.loads(again)["piece"]["drawing"] == form["piece.drawing"]
    assert tomllib.loads(again)["units"] == form["units"]


@pytest.mark.parametrize(
    "drawing",
    ["https://elsewhere.example/parts/square-test", "/parts/plate-base", "//x/parts/square-test", "javascript:1"],
)
def test_a_file_cannot_make_the_page_link_elsewhere(client, drawing):
    page = client.post("/true", data=filled() | {"piece.drawing": drawing}).text
    assert f'href="{drawing}' not in page
    assert 'href="/true/sheet"' in page


def test_errors_that_no_shop_misses_are_confirmed_by_a_tick(client):
    form = filled(("303", "300", "", "", "", ""), machine__steps_per_mm_x="100")
    asked = client.post("/true", data=form).text
    assert "that is more than a shop misses" in asked
    assert 'name="machine.confirmed" value="yes">' in asked
    assert "Change the steps per mm of X" not in asked
    told = client.post("/true", data=form | {"machine.confirmed": "yes"}).text
    assert "Change the steps per mm of X from 100 to 99.0099" in told
    assert 'name="machine.confirmed" value="yes" checked>' in told
    assert (
        tomllib.loads(client.post("/true", data=form | {"machine.confirmed": "yes", "do": "toml"}).text)["machine"][
            "confirmed"
        ]
        == "yes"
    )


def test_how_warm_the_piece_was_is_typed_in_the_units_of_the_form(client):
    form = filled() | {"piece.temperature": "88", "piece.instrument_temperature": "20 C", "piece.metal": "aluminium"}
    for units, said in (("mm", "88 \u00b0C"), ("in", "88 \u00b0F")):
        file = tomllib.loads(client.post("/true", data=form | {"units": units, "do": "toml"}).text)
        assert file["piece"] == {"temperature": said, "instrument_temperature": "20 C", "metal": "aluminium"}
    wrong = client.post("/true", data=form | {"piece.temperature": "warm"})
    assert wrong.status_code == 422
    assert 'id="say-piece.temperature"' in wrong.text


def test_while_readings_disagree_no_setting_is_told(client):
    form = filled(machine__steps_per_mm_x="100")
    for i, measured in ((6, "300.11"), (7, "300.13"), (9, "301.3")):
        form |= {f"kind.{i}": "centres", f"direction.{i}": "X", f"nominal.{i}": "300", f"measured.{i}": measured}
    text = client.post("/true", data=form).text
    assert (
        "X&#39;s scale waits until the readings that disagree are measured again; by the others it comes out 0.4 mm"
        in text
    )
    assert "Change the steps" not in text
    assert "open until the readings agree" in text
    assert 'type="checkbox"' not in text


def test_the_piece_stands_beside_its_rows_by_the_same_letters(client):
    page = client.get("/true?template=square-frame&units=in").text
    drawn = set(re.findall(r'<g class="pw-dimension" data-parameter="(\w+)"', page))
    rows = re.findall(r'<tr data-row="\d+" data-parameter="(\w+)"', page)
    assert drawn
    assert set(rows) == drawn
    assert 'id="measured"' in page
    undrawn = client.post("/true", data={"piece.drawing": "/parts/square-test?width=1", "do": "more"}).text
    assert 'id="measured"' not in undrawn
