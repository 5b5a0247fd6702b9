"""The pages as they come from the server: what stands on them, and that they need no script."""

import re
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest

import parts
from parts.export import FORMATS
from parts.part import address as part_address
from parts.part import outlined
from parts.spec.template import Preset
from parts.templates import as_it_comes
from tests import library
from tests.depth import DEEP, some_of
from tests.strategies import DEAR
from webapp.pages.catalogue.thumbnails import HEIGHT_PX, LEAST_PX, WIDTH_PX, thumbnail
from webapp.pages.part import presets

SLUGS = list(parts.templates())
QUERIES = ("", "?units=in")
ASKED = [(slug, query) for i, slug in enumerate(SLUGS) for query in (QUERIES if DEEP else QUERIES[i // 2 % 2 :][:1])]
ASKED = some_of(20, ASKED)
"""In an everyday run some templates, one in mm, the next in inches."""
LENGTHS = ("length", "angle", "count", "number")
GUSSET = "/parts/gusset-triangle"
SMALL_HOLE = f"{GUSSET}?leg_b=150&holes_a=1&bolt=M6&small_holes=cut"


class Page(HTMLParser):
    """The elements of a page: tag and attributes of each, and the fields of its form with their values."""

    def __init__(self, text):
        super().__init__()
        self.elements = []
        self.fields = {}
        self._select = ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        attributes = dict(attrs)
        self.elements.append((tag, attributes))
        if tag == "input" and "name" in attributes and "form" not in attributes:  # or it is another form's
            self.fields[attributes["name"]] = attributes.get("value", "")
        elif tag == "select":
            self._select = attributes["name"]
        elif tag == "option" and "selected" in attributes:
            self.fields[self._select] = attributes["value"]

    def of(self, tag, **wanted):
        return [a for t, a in self.elements if t == tag and all(a.get(k) == v for k, v in wanted.items())]


def submit(client, address, **typed):
    """Open a page, type into its form, send it as a browser without scripts does."""
    return send(client, address, client.get(address).text, **typed)


def send(client, address, text, **typed):
    """Type into the form of a page that is open, and send it."""
    page = Page(text)
    assert set(typed) <= set(page.fields)
    asked = urlencode({**page.fields, **typed})
    return client.get(f"{urlsplit(address).path}?{asked}")


@pytest.mark.parametrize(("slug", "query"), ASKED)
def test_the_page_of_every_template(client, asked_once, slug, query):
    """Its form is whole, nothing on it is of another place, and sent untouched it draws the same part."""
    address = f"/parts/{slug}{query}"
    text = asked_once(address)
    page, template = Page(text), parts.templates()[slug]
    drawn = assert_labelled(page, template.parameters.specs())
    assert drawn or not library.part(slug).profile.dimensions  # what is laid flat shows none of what it becomes
    for caution in library.part(slug).cautions:
        assert caution.split("'")[0] in text
    assert_without_script_or_style(page)
    sent = send(client, address, text)
    assert (sent.status_code, sent.location) == (302, address)  # what is shown rounded stands for the default


def assert_labelled(page, specs):
    """Every parameter has one field with its label and what is said of it; the dimensions are of parameters."""
    assert set(page.fields) == {"typed_in", *specs}
    labelled = {label["for"] for label in page.of("label")}
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    fields = [(tag, a) for tag, a in page.elements if tag in ("input", "select") and a.get("name") in specs]
    assert sorted(field["name"] for _, field in fields) == sorted(specs)
    for tag, field in fields:
        assert field["id"] == field["name"]
        assert field["id"] in labelled
        assert field["aria-describedby"] in ids
        assert tag == "select" or "inputmode" in field or specs[field["name"]].kind not in LENGTHS
    drawn = {a["data-parameter"] for tag, a in page.elements if tag == "g" and "data-parameter" in a}
    assert drawn <= set(specs)
    return drawn


def assert_without_script_or_style(page):
    """It carries no script or style of its own, and nothing from elsewhere."""
    assert page.of("style") == []
    assert all(set(script) == {"type", "src"} for script in page.of("script"))
    for _, attributes in page.elements:
        assert "style" not in attributes
        assert not [name for name in attributes if name.startswith("on")]
    outside = [a for _, a in page.elements for k, a in a.items() if k in ("src", "href") and a[0] not in "/#"]
    assert outside == []


@pytest.mark.parametrize("address", ["/", "/?q=nothing", "/nowhere", SMALL_HOLE])
def test_no_other_page_carries_a_script_or_a_style_of_its_own(client, address):
    assert_without_script_or_style(Page(client.get(address).text))


def test_units_that_are_the_default_are_left_out(client):
    assert submit(client, f"{GUSSET}?units=mm").location == GUSSET


OF_EACH_KIND = (
    "gusset-triangle",
    "plate-bearing",
    "bracket-bent-u",
    "gauge-hole-ladder",
    "silhouette-leaf",
    "box-tray",
)
"""With legs, two bolts, bends, scribed text, thin plate, lengths left to the template."""


def values_of(address):
    return {name: text for name, (text,) in parse_qs(urlsplit(address).query).items()}


@pytest.mark.parametrize("slug", OF_EACH_KIND)
def test_changing_the_working_units_leaves_the_part_as_large(client, asked_once, slug):
    there = send(client, f"/parts/{slug}", asked_once(f"/parts/{slug}"), units="in").location
    inches, mm = parts.draw(slug, **values_of(there)).record, library.part(slug).record
    assert inches.units == "in"
    assert [loop.segments for loop in inches.profile.boundary] == [loop.segments for loop in mm.profile.boundary]
    differing = {name for name in mm.parameters if inches.parameters[name] != mm.parameters[name]} - {"units"}
    assert not any(inches.has(name) for name in differing)
    assert send(client, there, client.get(there).text, units="mm").location == f"/parts/{slug}"
    back = send(client, f"/parts/{slug}?units=in", asked_once(f"/parts/{slug}?units=in"), units="mm").location
    own, again = parts.draw(slug, units="in").record, parts.draw(slug, **values_of(back)).record
    assert [loop.segments for loop in own.profile.boundary] == [loop.segments for loop in again.profile.boundary]


def test_a_row_without_a_say_is_said_so_and_has_no_letter(client):
    def row(query):
        text = client.get(f"/parts/plate-bumper{query}").text
        return re.search(r'<div class="row([^"]*)" data-parameter="lamp_height">.*?</div>', text, re.DOTALL)

    idle, used = row(""), row("?lamps=rectangle")
    assert ("idle" in idle[1], "idle" in used[1]) == (True, False)
    assert "Only where “Lamps” is rectangle." in idle[0]
    assert "Only where" not in used[0]
    letter = re.compile(r'id="letter-lamp_height"[^>]*>([A-Z]*)<')
    assert (letter.search(idle[0])[1], bool(letter.search(used[0])[1])) == ("", True)


@pytest.mark.parametrize(
    ("given", "was", "now", "asked"),
    [
        ("120", "mm", "in", "120 mm"),
        ("4.5", "in", "mm", "4.5 in"),
        ("120 mm", "mm", "in", "120 mm"),
        ("4-1/2", "in", "mm", "4-1/2"),
        ("2ft 3in", "in", "mm", "2ft 3in"),
        ("what", "in", "mm", "what"),
        ("120", "mm", "mm", "120"),
    ],
)
def test_a_typed_length_keeps_its_size_where_the_units_change(client, given, was, now, asked):
    answer = submit(client, f"{GUSSET}?units={was}", leg_a=given, units=now)
    assert parse_qs(urlsplit(answer.location).query)["leg_a"] == [asked]


def test_the_address_says_what_was_typed_and_no_more(client):
    answer = submit(client, GUSSET, leg_a="1 1/2 in", toe="12", bolt="M8")
    assert answer.location == f"{GUSSET}?leg_a=1%201/2%20in&bolt=M8"
    page = client.get(answer.location).text
    assert 'value="1 1/2 in"' in page
    assert "= 38.1 mm" in page


def test_a_repeated_value_is_not_dropped_by_the_form(client):
    answer = client.get(f"{GUSSET}?typed_in=mm&toe=1&toe=2")
    assert answer.status_code == 422
    assert "is given more than once; give it once." in answer.text


def test_a_choice_is_shown_as_it_was_read(client):
    page = Page(client.get(f"{GUSSET}?bolt=m8&material=MILD_STEEL&notes=yes").text)
    assert (page.fields["bolt"], page.fields["material"], page.fields["notes"]) == ("M8", "mild-steel", "on")


def test_refused_values_stay_typed_with_the_sentence_beside_them(client):
    answer = client.get(f"{GUSSET}?toe=400&bolt=M99&leg_a=6 in&tow=1")
    assert answer.status_code == 422
    page, text = Page(answer.text), answer.text
    assert (page.fields["toe"], page.fields["bolt"], page.fields["leg_a"]) == ("400", "M99", "6 in")
    assert page.of("input", id="toe")[0]["aria-invalid"] == "true"
    assert "aria-invalid" not in page.of("input", id="leg_a")[0]
    aside = re.search(r'id="note-toe">(.*?)</p>', text, re.S).group(1)
    assert "must be at most 200 mm." in aside
    assert "The drawing doesn&#39;t follow" in text or "The drawing doesn't follow" in text
    assert "did you mean toe?" in text
    assert "152.4 mm" in text  # the rest is followed
    assert page.of("a", download=None) == [] or not [a for a in page.of("a") if "download" in a]
    assert "No file until the marked values can be drawn." in text


def test_above_the_drawing_stands_what_is_refused_and_the_way_to_its_row(client):
    text = client.get(f"{GUSSET}?toe=400&bolt=M99").text
    top = re.search(r'id="refusal".*?</div>', text, re.S).group(0)
    assert [a["href"] for a in Page(top).of("a") if a["href"].startswith("#")] == ["#toe", "#bolt"]
    assert "must be at most 200 mm." in top
    assert {"toe", "bolt"} <= {a.get("id") for kind in ("input", "select") for a in Page(text).of(kind)}


def test_values_that_clash_only_with_each_other(client):
    answer = client.get(f"{GUSSET}?leg_a=30&leg_b=30&toe=29")
    assert answer.status_code == 422
    page = Page(answer.text)
    assert [a["data-parameter"] for a in page.of("div") if "wrong" in (a.get("class") or "")] == ["snipe"]


def test_a_finding_has_the_number_of_its_flag_and_a_remedy_that_mends_it(client):
    text = client.get(SMALL_HOLE).text
    (asking,) = Page(text).of("a", **{"class": "ask"})
    text = client.get(asking["href"]).text
    page = Page(text)
    assert page.of("a", **{"class": "ask"}) == []
    listed = [a["data-finding"] for a in page.of("li") if "data-finding" in a]
    flagged = [a["data-finding"] for a in page.of("g") if "data-finding" in a]
    assert listed == sorted(flagged) == ["1"]
    assert "6.6 mm against 9 mm" in text
    assert "A finding says stop: mend it before you cut this." in text
    (remedy,) = page.of("a", **{"class": "remedy"})
    assert parse_qs(urlsplit(remedy["href"]).query) == {
        "leg_b": ["150"], "holes_a": ["1"], "bolt": ["M6"], "small_holes": ["drill"], "was": ["small_holes:cut"],
    }  # fmt: skip
    mended = client.get(remedy["href"])
    assert mended.status_code == 200
    assert "Checked and in order" in mended.text
    assert "Can be cut" in mended.text


LOW_LAMPS = "/parts/plate-bumper?lamp_up=198&lamp_spacing=1100"


def solved(client, address):
    """The page with its remedies solved, by the link a browser without scripts follows."""
    asking = Page(client.get(address).text).of("a", **{"class": "ask"})
    assert len({link["href"] for link in asking}) == 1
    answer = client.get(asking[0]["href"])
    assert answer.status_code == 200
    return Page(answer.text)


def changed(page):
    return [a["data-parameter"] for a in page.of("div") if "changed" in (a.get("class") or "").split()]


def test_a_remedy_taken_marks_its_row_and_can_be_put_back(client):
    page = solved(client, f"{LOW_LAMPS}&thickness=8&plate_holes=off")
    (remedy,) = [a for a in page.of("a", **{"class": "remedy"}) if "lamp_up" in a["data-changes"]]
    text = client.get(remedy["href"]).text
    taken = Page(text)
    assert (changed(taken), taken.fields["lamp_up"], taken.fields["was"]) == (["lamp_up"], "197", "lamp_up:198mm")
    assert "was 198 mm" in text
    files = [a["href"] for a in taken.of("a") if "download" in a]
    assert "was=" not in "".join(files)
    (undo,) = {a["href"] for a in taken.of("a", **{"class": "undo"})}
    back = Page(client.get(undo).text)
    assert (changed(back), back.fields["lamp_up"]) == ([], "198")
    assert "was" not in back.fields


def test_what_mates_has_a_button_of_its_own_that_says_so(client):
    address = "/parts/plate-base?inset_x=14"
    page = solved(client, address)
    text = client.get(Page(client.get(address).text).of("a", **{"class": "ask"})[0]["href"]).text
    asks = "Only if “Anchor” may be M10: the bolts are then M10, and so are the holes in what they go through."
    asked, _, rest = text.partition('<a class="remedy"')
    assert asks in asked
    assert rest.partition(">")[2].startswith("Even so: Anchor: M12 → M10</a>")
    (button,) = page.of("a", **{"class": "remedy"})
    assert Page(client.get(button["href"]).text).fields["bolt"] == "M10"
    answer = client.get("/parts/plate-base/remedies.json?inset_x=14").json
    assert (answer["remedies"], answer["without"]) == ([], ["edge-distance"])
    (question,) = answer["questions"]
    assert (question["asks"], question["care"]) == (asks, [])


def test_a_remedy_says_what_it_costs(client):
    of = "leg_b=150&holes_a=1&bolt=M6&small_holes=cut"
    page = client.get(f"/parts/gusset-triangle/remedies?{of}").text
    cost = re.search(r'<span class="soft cost">(.*?)</span>', page).group(1)
    (remedy,) = client.get(f"/parts/gusset-triangle/remedies.json?{of}").json["remedies"]
    assert remedy["cost"]["sentence"] == cost
    assert cost.startswith("Look first whether anything hangs on it; ")
    assert cost.endswith("pierces 2 → 1, drill centres 0 → 1.")
    before, after = remedy["cost"]["before"], remedy["cost"]["after"]
    assert (before["pierces"], after["pierces"], after["drill_centres"]) == (2, 1, 1)
    assert before["mass_kg"] < after["mass_kg"]


def test_what_was_there_before_stays_while_other_fields_are_typed(client):
    answer = submit(client, f"{LOW_LAMPS}&was=lamp_up:190mm", height="260")
    assert parse_qs(urlsplit(answer.location).query)["was"] == ["lamp_up:190mm"]
    assert changed(Page(client.get(answer.location).text)) == ["lamp_up"]


@pytest.mark.parametrize(
    "was", ["", "lamp_up", "lamp_up:", "lamp_up:x", "nothing:4mm", "lamp_up:198mm", ",,:", "was:1"]
)
def test_what_says_nothing_of_before_marks_nothing(client, was):
    answer = client.get(f"{LOW_LAMPS}&was={was}")
    assert answer.status_code == 200
    assert changed(Page(answer.text)) == []


def test_a_hole_put_back_to_its_default_is_still_by_diameter(client):
    """A bare `hole=` says that no bolt sets the hole, so it stays in the address even at its default."""
    page = Page(client.get(f"{GUSSET}?holes_a=1&hole=12&was=hole:11mm").text)
    (undo,) = {a["href"] for a in page.of("a", **{"class": "undo"})}
    back = Page(client.get(undo).text)
    assert (back.fields["bolt"], back.fields["hole"]) == ("by-diameter", "11")


def test_many_findings_of_one_kind_are_folded_and_mended_once(client):
    page = solved(client, "/parts/box-tray?thickness=12&tab=24&tab_every=200")
    text = client.get("/parts/box-tray?thickness=12&tab=24&tab_every=200").text
    part = parts.draw("box-tray", thickness=12, tab=24, tab_every=200)
    count = sum(finding.rule == "bridge-width" for finding in part.findings)
    rows = sum(row.first.rule == "bridge-width" for row in part.record.rows)
    assert count > rows > 3
    kind = re.search(rf"<h3>Bridge width: {count} places</h3>(.*?)</details>", text, re.S).group(1)
    shown, folded = kind.split("<details>")
    assert (shown.count("<li "), folded.count("<li ")) == (3, rows - 3)
    assert f"<summary>{rows - 3} more</summary>" in folded
    assert len(page.of("a", **{"class": "remedy"})) == len(part.remedies) > 0


@pytest.mark.parametrize("query", ["", "?leg_a=6&units=in", "?holes_a=1&bolt=M5"])
def test_the_files_on_the_page_are_of_the_part_on_the_page(client, query):
    page = Page(client.get(GUSSET + query).text)
    files = [a["href"] for a in page.of("a") if "download" in a]
    by_ending = {urlsplit(address).path.rsplit(".")[-1]: address for address in files}
    assert list(by_ending) == [*FORMATS, "zip"]
    json_text = client.get(by_ending["json"]).text
    given = {name: values[0] for name, values in parse_qs(urlsplit(GUSSET + query).query).items()}
    assert json_text == parts.draw("gusset-triangle", **given).to_json()


CALIBRATION = (
    "square-frame", "square-targets", "square-test", "gauge-hole-ladder", "gauge-kerf-comb", "gauge-test-bend",
)  # fmt: skip


@pytest.mark.parametrize(
    ("sought", "found"),
    [
        ("", SLUGS),
        ("TRIANGULAR knee", ["gusset-triangle"]),
        ("triangulr gusset", ["gusset-triangle"]),
        ("zzzz", []),
    ],
)
def test_the_search_goes_by_names_and_shop_words(client, sought, found):
    answer = client.get("/", query_string={"q": sought})
    assert answer.status_code == 200
    listed = [a["href"].removeprefix("/parts/") for a in Page(answer.text).of("a") if a["href"].startswith("/parts/")]
    assert [slug.split("?")[0] for slug in listed][: len(found) or None] == found  # what is called so first
    if not found:
        assert "Show all the parts" in answer.text


def test_a_word_that_several_go_by_finds_them_all(client):
    page = Page(client.get("/?q=calibration").text)
    assert set(CALIBRATION) <= {a["data-slug"] for a in page.of("li") if "data-slug" in a}


def test_the_catalogue_draws_each_template_itself(client):
    text = client.get("/").text
    assert len(Page(text).of("svg", **{"class": "pw-thumbnail"})) == len(SLUGS)
    for template in parts.templates().values():
        assert template.brief in unescape(text)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_picture_is_of_the_part_as_it_comes(slug):
    """Drawn from the outline alone, which is what the whole pipeline draws and checks."""
    assert as_it_comes(slug) == library.part(slug).profile


def test_pictures_of_a_family_are_to_one_scale_but_for_the_smallest(client):
    scales = {}
    for template in parts.templates().values():
        svg = Page(str(thumbnail(template.slug))).of("svg")[0]
        width, height = float(svg["width"]), float(svg["height"])
        assert width <= WIDTH_PX + 2
        assert height <= HEIGHT_PX + 2
        longer = max(width, height) - 1.5  # the line's own width
        assert longer >= min(LEAST_PX, WIDTH_PX, HEIGHT_PX) - 0.01
        measures = library.part(template.slug).measures
        if longer > LEAST_PX + 0.01:
            scales.setdefault(template.family, []).append(longer / max(measures.width_mm, measures.height_mm))
    for family, found in scales.items():
        assert max(found) == pytest.approx(min(found), rel=1e-4), family


def test_families_are_jumped_to_with_their_numbers(client):
    page = Page(client.get("/").text)
    ids = {a["id"] for _, a in page.elements if "id" in a}
    jumps = [a["href"].removeprefix("#") for a in page.of("a") if a["href"].startswith("#family")]
    assert jumps == list(dict.fromkeys(f"family-{template.family}" for template in parts.templates().values()))
    assert set(jumps) <= ids


def test_favourites_are_only_a_place_until_a_script_fills_it(client):
    page = Page(client.get("/").text)
    (place,) = page.of("section", id="favourites")
    assert "hidden" in place
    assert page.of("button", **{"class": "star"}) == []
    assert [a["data-slug"] for a in page.of("li") if "data-slug" in a] == SLUGS


def presets_on(text):
    """The names and addresses of the presets on a page, and those marked as drawn."""
    chunk = text[text.index('id="presets"') : text.index('id="table"')]
    links = re.findall(r'<a href="([^"]+)"( aria-current="true")?>([^<]+)</a>', chunk)
    return {unescape(name): unescape(to) for to, _, name in links}, [unescape(n) for _, drawn, n in links if drawn]


PRESET = [slug for slug in SLUGS if DEEP or ((slug, "") in ASKED and slug not in DEAR)]


@pytest.mark.parametrize("slug", PRESET)
def test_a_preset_is_a_link_to_the_part_it_names(asked_once, slug):
    """By its parameters and address, on which a part hangs alone; an everyday run opens few pages of one, by turns."""
    template, at = parts.templates()[slug], PRESET.index(slug)
    opened = template.presets if DEEP else template.presets[at % len(template.presets) :][: at % 3 == 0]
    found, drawn = presets_on(asked_once(f"/parts/{slug}"))
    assert list(found) == [preset.name for preset in template.presets]
    assert drawn == [preset.name for preset in template.presets if not preset.words]
    for preset in template.presets:
        asked = {name: values[0] for name, values in parse_qs(urlsplit(found[preset.name]).query).items()}
        parameters, named = template.parameters.read(asked), library.part(slug, preset.name).record
        assert {name: getattr(parameters, name) for name in parameters.specs()} == named.parameters
        assert part_address(slug, parameters.texts()) == named.address
        if preset in opened:
            assert presets_on(asked_once(found[preset.name]))[1] == [preset.name]


@pytest.mark.parametrize("slug", [*OF_EACH_KIND, "plate-motor", "flange-round"])
def test_a_preset_leaves_the_shops_own_as_it_was_asked_for(client, slug):
    template = parts.templates()[slug]
    found, _ = presets_on(
        client.get(f"/parts/{slug}?units=in&process=laser&bed_x=60&dxf_version=R12&thickness=junk").text
    )
    own = {"units": "in", "process": "laser", "bed_x": "60", "dxf_version": "R12"}
    for preset in template.presets:
        asked = values_of(found[preset.name_in("in")])
        outlined(slug, **asked)  # it isn't refused
        wanted = template.parameters.read({**own, **preset.values_in("in", template.parameters)})
        assert template.parameters.read(asked) == wanted, preset.name


def test_more_presets_than_a_few_are_folded():
    template = parts.templates()["gusset-triangle"]
    many = replace(template, presets=tuple(Preset(f"Gusset {i}", f"leg_a={150 + i}") for i in range(30)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("webapp.pages.part.presets.find", lambda slug: many)
        patch.setattr("webapp.pages.part.presets._presets", presets._presets.__wrapped__)
        shown, folded = presets.presets(many, {}, {})
        assert (len(shown), len(folded)) == (3, 27)
        assert [link.name for link in (*shown, *folded)] == [preset.name for preset in many.presets]
        four = replace(many, presets=many.presets[:4])
        patch.setattr("webapp.pages.part.presets.find", lambda slug: four)
        assert [len(part) for part in presets.presets(four, {}, {})] == [4, 0]
    washer = parts.templates()["plate-washer"]
    own, metric = presets.presets(washer, {"units": "in"}, {})
    assert [link.name for link in own] == [each.name_in("in") for each in washer.presets if not each.is_metric]
    assert [link.name for link in metric] == [each.name for each in washer.presets if each.is_metric]


def test_the_shops_own_bed_is_the_default_of_the_form(client, own_file):
    own_file.write_text('[bed]\nx = "1000 mm"\ny = "900 mm"\n')
    assert Page(client.get(GUSSET).text).fields["bed_x"] == "1000"
    assert submit(client, GUSSET).location == GUSSET


def test_what_is_read_is_said_beside_the_field_even_where_another_is_refused(client):
    text = client.get("/parts/bracket-flat-l?units=in&leg_a=18in&leg_b=1ft&slot_a=2in").text
    assert "= 12 in" in text
    assert "= 5.906 in" not in text


def test_what_may_be_laid_over_the_drawing_is_there_hidden_and_can_be_switched_on(client):
    """The switches stand outside what a redraw puts in place, so they stay as they are; they send nothing."""
    text = client.get("/parts/bracket-flat-l?inside_radius=0&process=fine-plasma&thickness=1%20mm").text
    page = Page(text)
    switches = page.of("input", type="checkbox")
    assert [switch["id"] for switch in switches] == ["show-solid", "show-all", "show-as-cut", "show-slow", "show-stock"]
    assert all("name" not in switch for switch in switches)
    hidden = [group["class"] for group in page.of("g", display="none")]
    laid_over = [name for name in hidden if "pw-spare" not in name]
    assert laid_over == ["pw-stock", "pw-slow", "pw-as-cut"]
    assert re.search(r"inside corners keep a radius of [\d.]+ mm; [\d.]+ mm\u00b2 more stays", text)
    static = Path(__file__).parents[2] / "static"
    sheet = "".join((static / name).read_text(encoding="utf-8") for name in ("sheet.css", "part.css"))
    for switch, group in (("show-as-cut", "pw-as-cut"), ("show-slow", "pw-slow"), ("show-stock", "pw-stock")):
        assert f".view:has(#{switch}:checked) .{group}" in sheet


def test_the_facts_say_how_much_is_slow_and_what_size_to_expect(client):
    text = client.get("/parts/bracket-flat-l?process=laser&thickness=1%20mm").text
    assert "40 % of the cut" in text
    assert "\u00b1 0.2 mm (ISO 9013 class 1)" in text
    assert "no class in ISO 9013" in client.get("/parts/bracket-flat-l?process=waterjet").text
    thick = client.get("/parts/bracket-flat-l?process=oxy-fuel&thickness=30%20mm").text
    assert "\u00b1 1.9 mm (ISO 9013 class 2, from memory)" in thick


def test_a_jet_that_reaches_every_corner_leaves_the_part_as_drawn(client):
    assert "as drawn, every corner is within" in client.get("/parts/bracket-flat-l").text


@pytest.mark.parametrize("beside", ["toe=1&toe=2", "zzz=1", "compensate=7", "toe=9in", f"toe={'9' * 300}"])
def test_a_value_that_is_misread_is_told_at_its_field_whatever_else_is_refused(client, beside):
    page = client.get(f"/parts/gusset-triangle?leg_a=long&{beside}")
    assert page.status_code == 422
    row = page.text.split('id="note-leg_a"')[1].split("</p>")[0]
    assert 'class="message"' in row
    assert "is neither a number nor a unit known here" in row


@pytest.mark.parametrize(
    ("cookie", "agent", "window"),
    [
        ("", "", "952 681"),
        ("", "Mozilla/5.0 (Linux; Android 10; K) Mobile", "338 316"),
        ("drawing=700x500", "", "700 500"),
        ("drawing=700x500-all", "", "700 500"),
        ("drawing=9x99999", "", "952 681"),
        ("drawing=<b>", "", "952 681"),
    ],
)
def test_the_drawing_is_laid_out_for_the_window_that_the_browser_says(client, cookie, agent, window):
    """A size that no screen has, or what is no size, is not believed; then the usual one holds."""
    browser = client.application.test_client(use_cookies=False)
    text = browser.get("/parts/plate-bumper", headers={"Cookie": cookie, "User-Agent": agent}).text
    assert f'data-window="{window}"' in text
    assert ("pw-spare" in text) == (not cookie.endswith("-all"))
    width, height = re.search(r'class="pw-drawing" role="img" width="([\d.]+)" height="([\d.]+)"', text).groups()
    room = [float(side) for side in window.split()]
    assert float(width) <= room[0]
    assert float(height) <= room[1]
    assert set(re.findall(r'class="pw-text"[^>]* font-size="([\d.]+)"', text)) == {
        "12" if window.startswith("3") else "13"
    }
