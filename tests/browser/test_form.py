"""The form in a real browser: change a dimension, see it, take a remedy, download, read the file back."""

import io
import re

import ezdxf
import pytest
from playwright.sync_api import expect

from tests import depth


def test_the_drawing_follows_and_the_file_is_the_one_asked_for(page, address):
    page.goto(f"{address}/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6&small_holes=cut")
    page.fill("#leg_a", "8 in")
    expect(page.locator("main")).to_contain_text("203.2 by 150 mm")
    page.wait_for_url("**leg_a=8%20in**")  # written once the drawing is shown
    finding = page.locator(".findings li.stop")
    expect(finding).to_contain_text("6.6 mm in 6 mm plate")
    page.locator(".findings .remedy").click()
    expect(page.locator(".findings")).to_contain_text("Checked and in order")
    with page.expect_download() as download:
        page.click(".files a.first")
    drawing = ezdxf.read(io.StringIO(download.value.path().read_text(encoding="utf-8")))
    outside = drawing.modelspace().query('LWPOLYLINE[layer=="OUTSIDE"]')[0]
    assert max(x for x, y in outside.get_points("xy")) == pytest.approx(203.2, abs=1e-9)
    assert len(drawing.modelspace().query('POINT[layer=="DRILL"]')) == 1


def test_a_wrong_value_is_named_at_its_field_and_kept(page, address):
    page.goto(f"{address}/parts/gusset-triangle")
    page.fill("#toe", "4,5")
    expect(page.locator('.row[data-parameter="toe"] .message')).to_be_visible()
    assert page.input_value("#toe") == "4,5"


def test_what_is_refused_leads_to_its_field(page, address):
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{address}/parts/gusset-triangle?toe=400")
    expect(page.locator("#refusal")).to_contain_text("must be at most 200 mm.")
    page.locator("#refusal a[href='#toe']").click()
    expect(page.locator("#toe")).to_be_focused()
    expect(page.locator('.row[data-parameter="toe"] .message')).to_be_in_viewport(ratio=1)
    page.keyboard.type("15")
    expect(page.locator("#refusal")).to_be_empty()


UNCUT = """() => {
  const [size, more] = ["#facts .slim dd", "#more-facts summary"].map((at) => document.querySelector(at));
  const words = document.createRange();
  words.selectNodeContents(size);
  const box = words.getBoundingClientRect();
  const foot = size.closest(".slim").getBoundingClientRect().bottom;
  return box.right <= more.getBoundingClientRect().left && box.bottom <= foot;
}"""


def test_phone_width_has_nothing_beyond_its_edge_and_the_whole_size(page, address):
    page.goto(f"{address}/parts/plate-bumper")
    for width in (390, 320):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate(UNCUT), width


def test_phone_width_has_room_for_the_whole_bend_table_and_the_head_on_one_line(page, address):
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{address}/parts/bracket-bent-hat?thickness=16ga&top=50&side=25&foot=25&mark=15&bolt=M6&process=laser")
    assert page.evaluate(
        "(({ scrollWidth, clientWidth }) => scrollWidth <= clientWidth)(document.querySelector('.bends'))"
    )
    page.goto(f"{address}/check")
    assert page.locator("header").bounding_box()["height"] < 60
    expect(page.get_by_role("link", name="Your machine")).to_be_in_viewport(ratio=1)
    expect(page.locator(".units-of")).to_be_in_viewport(ratio=1)


def test_touching_a_field_lights_its_dimension(page, address):
    page.goto(f"{address}/parts/bracket-flat-l")
    page.focus("#leg_a")
    expect(page.locator('#drawing [data-parameter="leg_a"]')).to_have_class(re.compile(r"\blit\b"))


@pytest.mark.parametrize("tab", ["page", "plain"], ids=["with scripts", "without"])
def test_the_switches_show_what_is_laid_over_and_stay_through_a_redraw(request, address, tab):
    page = request.getfixturevalue(tab)
    page.goto(f"{address}/parts/bracket-flat-l?inside_radius=0&process=laser&thickness=1mm")
    for switch, group in (("#show-as-cut", "pw-as-cut"), ("#show-slow", "pw-slow")):
        drawn = page.locator(f"#drawing .{group}")
        expect(drawn).to_be_hidden()
        page.check(switch)
        expect(drawn).to_be_visible()
    if tab == "page":
        page.fill("#leg_a", "180")
        expect(page.locator("main")).to_contain_text("180 by")
        expect(page.locator("#drawing .pw-as-cut")).to_be_visible()
        page.uncheck("#show-slow")
        expect(page.locator("#drawing .pw-slow")).to_be_hidden()


def test_a_kerf_of_the_shops_own_is_on_the_next_drawing_and_goes_again(page, address, own_file):
    page.goto(f"{address}/shop/air-plasma?group=steel")
    place = next(
        field.get_attribute("name").split(".")[0]
        for field in page.locator('td.first input[name$=".thickness"]').all()
        if field.input_value() == "6"
    )
    page.fill(f'[name="{place}.kerf"]', "1.45")
    page.press(f'[name="{place}.kerf"]', "Enter")
    expect(page.locator(".saved")).to_contain_text(f"Saved in {own_file}")
    page.goto(f"{address}/parts/gusset-triangle?thickness=6")
    expect(page.locator("#facts")).to_contain_text("1.45 mm")
    page.goto(f"{address}/shop/air-plasma?group=steel")
    page.get_by_role("button", name="Back to the built-in kerf column").click()
    expect(page.locator(".saved")).to_be_visible()
    page.goto(f"{address}/parts/gusset-triangle?thickness=6")
    expect(page.locator("#facts")).not_to_contain_text("1.45 mm")
    assert own_file.read_text().strip() == ""


def test_another_site_can_not_write_the_shops_file(page, address, own_file):
    """The form of a page elsewhere, here one under another name of this machine, as a browser really sends it."""
    elsewhere = address.replace("127.0.0.1", "localhost")
    page.route(
        "**/elsewhere",
        lambda route: route.fulfill(
            content_type="text/html",
            body=f'''
        <form method="post" action="{address}/shop"><input name="was" value="{{}}"><input name="stamp" value="none">
        <input name="bed.x_mm" value="500"><button>Win a plate</button></form>''',
        ),
    )
    page.goto(f"{elsewhere}/elsewhere")
    with page.expect_response(f"{address}/shop") as answer:
        page.get_by_role("button").click()
    assert answer.value.status == 403
    assert own_file.read_text() == ""


PHONED = ["/shop", "/shop/laser?units=in"]


@pytest.mark.parametrize("where", depth.several(PHONED, [*PHONED, "/shop/air-plasma"]))
def test_the_shops_numbers_fit_a_phone_and_are_saved_without_scripts(plain, address, own_file, where):
    plain.set_viewport_size({"width": 390, "height": 844})
    plain.goto(f"{address}{where}")
    assert plain.locator("html").bounding_box()["width"] <= 390
    rights = plain.locator("td input").evaluate_all("all => all.map((one) => one.getBoundingClientRect().right)")
    assert max(rights, default=0) <= 390
    plain.get_by_role("button", name="Save").last.click()
    expect(plain.locator(".saved")).to_contain_text("Nothing was changed")


def test_rows_without_a_say_are_gone_and_come_back_as_they_get_one(page, plain, address):
    page.goto(f"{address}/parts/plate-bumper")
    row = page.locator('.row[data-parameter="lamp_height"]')
    expect(row).to_be_hidden()
    page.select_option("#lamps", "rectangle")
    expect(row).to_be_visible()
    page.select_option("#lamps", "none")
    expect(row).to_be_hidden()
    plain.goto(f"{address}/parts/plate-bumper")
    expect(plain.locator('.row[data-parameter="lamp_height"]')).to_contain_text("Only where “Lamps” is rectangle.")


def test_a_remedy_is_taken_and_put_back(page, address):
    page.goto(f"{address}/parts/plate-bumper?lamp_spacing=1100&thickness=8&plate_holes=off&small_holes=drill")
    page.fill("#lamp_up", "198")
    remedy = page.get_by_role("link", name="Lamp centres up: 198 → 197 mm")
    expect(page.locator(".findings li.stop")).to_have_count(1)
    expect(page.locator(".findings li.stop")).to_contain_text("1 more place like it.")
    remedy.click()
    row = page.locator('.row[data-parameter="lamp_up"]')
    expect(row).to_have_class(re.compile(r"\bchanged\b"))
    expect(row).to_contain_text("was 198 mm")
    expect(row).to_be_in_viewport()
    assert page.input_value("#lamp_up") == "197"
    expect(page.locator(".findings li.stop")).to_have_count(0)
    page.fill("#height", "255")
    expect(page.locator("main")).to_contain_text("1800 by 255 mm")
    expect(row).to_contain_text("was 198 mm")
    row.get_by_role("link").click()
    expect(row).not_to_have_class(re.compile(r"\bchanged\b"))
    assert page.input_value("#lamp_up") == "198"
    page.wait_for_url(lambda url: "was=" not in url)  # written once the drawing is shown


def test_a_flag_opens_the_fold_its_finding_is_in(page, address):
    page.goto(f"{address}/parts/box-tray?thickness=12&tab=24&tab_every=200")
    expect(page.locator('li[data-finding="6"]')).not_to_be_visible()
    page.locator('#drawing [data-finding="6"] text').first.click()
    expect(page.locator('li[data-finding="6"]')).to_be_visible()
