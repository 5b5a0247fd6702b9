"""A drawing of one's own in a real browser: dropped, looked at, handed back healed; and all that without scripts."""

import re

from playwright.sync_api import expect

from parts.read import read_drawing
from tests.files.foreign import UNITLESS, circle, dxf, line
from tests.unit.test_own import box

GAP = line(0, 0, 100, 0) + line(100, 0, 100, 60) + line(100.03, 60, 0, 60) + line(0, 60, 0, 0)
PLATE = dxf(GAP + circle(20, 20, 2))

DROP = """([name, text]) => {
  const carried = new DataTransfer();
  carried.items.add(new File([text], name));
  for (const kind of ["dragenter", "dragover", "drop"])
    document.querySelector("main").dispatchEvent(
      new DragEvent(kind, { dataTransfer: carried, bubbles: true, cancelable: true }));
}"""


def assert_found(shown):
    expect(shown.locator(".findings li.stop")).to_contain_text("4 mm in 6 mm plate")
    expect(shown.locator(".healed")).to_contain_text("Joined 1 gap of up to 0.03 mm.")
    expect(shown.locator('#drawing [data-finding="1"]')).to_be_visible()


def assert_healed(download):
    again = read_drawing(download.value.path().read_bytes(), "healed.dxf")
    assert (again.healed, again.findings) == ((), ())
    assert [round(loop.area, 6) for loop in again.profile.outside] == [6000]


def test_a_dropped_file_is_checked_and_comes_back_healed(page, address):
    page.goto(address)
    with page.expect_navigation():  # with the module that takes what is dropped
        page.get_by_role("link", name="Check a drawing of your own").click()
    page.evaluate(DROP, ["plate.dxf", PLATE.decode()])
    assert_found(page)
    page.locator('#drawing [data-finding="1"] text').click()
    expect(page.locator('li[data-finding="1"]')).to_have_class(re.compile(r"\blit\b"))
    page.get_by_text("Files even so").click()
    with page.expect_download() as download:
        page.click('button[value="dxf"]')
    assert download.value.suggested_filename == "plate_healed_mm.dxf"
    assert_healed(download)
    page.click("button.remedy")
    expect(page.locator(".facts")).to_contain_text("1 to drill")


def test_without_scripts_the_form_does_it_all(plain, address, tmp_path):
    file = tmp_path / "plate.dxf"
    file.write_bytes(PLATE)
    plain.goto(f"{address}/check")
    plain.set_input_files("#file", file)
    plain.get_by_role("button", name="Check it").click()
    assert_found(plain)
    plain.get_by_text("Files even so").click()
    with plain.expect_download() as download:
        plain.click('button[value="dxf"]')
    assert_healed(download)
    plain.fill("#thickness", "2 mm")
    plain.get_by_role("button", name="Check it").click()
    expect(plain.locator(".facts")).to_contain_text("2 mm")


def test_units_are_asked_for_once_and_the_file_stays(page, address):
    page.goto(f"{address}/check")
    page.evaluate(DROP, ["no-units.dxf", dxf(box(4, 2), units=UNITLESS).decode()])
    expect(page.locator('.row.wrong[data-parameter="units"]')).to_contain_text("4 mm x 2 mm, or 4 in x 2 in")
    page.select_option("#units", "in")
    page.get_by_role("button", name="Check it").click()
    expect(page.locator(".facts")).to_contain_text("4 by 2 in")


LAYERED = dxf(GAP.replace("\n8\n0\n", "\n8\nBORDER\n") + circle(50, 30, 10) + circle(20, 20, 8, "DIM"))


def test_a_layer_and_an_outline_are_chosen_and_the_next_file_starts_anew(page, address):
    page.goto(f"{address}/check")
    page.evaluate(DROP, ["layers.dxf", LAYERED.decode()])
    expect(page.locator(".findings li.warn")).to_contain_text("1 closed outline on layer DIM left out")
    expect(page.locator(".pw-aside-line")).to_have_count(1)
    page.get_by_label("DIM").select_option(label="Cut")
    page.get_by_role("button", name="Check with these").click()
    expect(page.locator(".facts")).to_contain_text("3")
    expect(page.locator(".pw-aside-line")).to_have_count(0)
    page.get_by_text("3 that are cut").click()
    page.get_by_label("20 mm x 20 mm").select_option(label="Leave out")
    page.get_by_role("button", name="Check with these").click()
    expect(page.locator(".healed")).to_contain_text("Left out 1 outline, as chosen.")
    expect(page.locator(".pw-aside-line")).to_have_count(1)
    page.wait_for_load_state()  # with the module that takes what is dropped
    page.evaluate(DROP, ["plate.dxf", PLATE.decode()])
    assert_found(page)


def test_phone_width_has_nothing_beyond_its_edge(page, address):
    """Empty, and with a drawing checked, of one layer and of several."""
    page.set_viewport_size({"width": 390, "height": 844})
    for data in (None, PLATE, LAYERED):
        page.goto(f"{address}/check")
        if data:
            page.evaluate(DROP, ["plate.dxf", data.decode()])
            expect(page.locator(".facts")).to_contain_text("100 by 60 mm")
        assert page.evaluate("document.documentElement.scrollWidth") <= 390, data
