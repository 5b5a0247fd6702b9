"""A part saved, renamed, opened from a file, linked and pictured, and found again as it was."""

import io
import json

from PIL import Image
from playwright.sync_api import expect


def saved_as_file(page, act):
    """The bytes of what a button has the browser save, and its name."""
    with page.expect_download() as download:
        page.click(f'[data-act="{act}"]')
    return download.value.path().read_bytes(), download.value.suggested_filename


def test_a_part_is_saved_renamed_opened_and_removed(page, address, tmp_path):
    page.goto(f"{address}/parts/gusset-triangle?leg_b=150")
    page.fill("#leg_a", "1-1/2 in")
    expect(page.locator("#facts")).to_contain_text("38.1 by 150 mm")
    page.click("#acts summary >> text=Save")
    page.fill("#save-name", "Bench foot")
    page.press("#save-name", "Enter")
    expect(page.locator("#acts-said")).to_contain_text("as “Bench foot”")
    file, name = saved_as_file(page, "file")
    assert name == "bench-foot.part.json"
    part = json.loads(file)
    assert (part["template"], part["values"]["leg_a"], part["values"]["units"]) == ("gusset-triangle", "1-1/2 in", "mm")

    page.goto(address)
    shelf = page.get_by_role("region", name="Saved in this browser")
    expect(shelf.locator(".summary")).to_have_text("38.1 by 150 mm, 6 mm (0.236 in)")
    shelf.get_by_role("button", name="Rename Bench foot").click()
    page.keyboard.type("Bench foot, left")
    page.keyboard.press("Enter")
    page.reload()
    shelf.get_by_role("link", name="Bench foot, left").click()
    expect(page.locator("#leg_a")).to_have_value("1-1/2 in")
    expect(page.locator("#leg_b")).to_have_value("150")

    page.goto(address)
    shelf.get_by_role("button", name="Remove Bench foot, left").click()
    expect(shelf).to_be_hidden()
    wrong = {"name": "lamp.dxf", "mimeType": "application/json", "buffer": b"0 SECTION"}
    page.set_input_files("#open-part", wrong)
    expect(page.locator("#open-said")).to_contain_text("lamp.dxf isn\u2019t a part that was saved here")
    with page.expect_navigation():
        page.set_input_files("#open-part", {"name": name, "mimeType": "application/json", "buffer": file})
    expect(page.locator("#leg_a")).to_have_value("1-1/2 in")


def test_a_favourite_keeps_its_values_and_one_kept_before_still_stands(page, address):
    page.goto(address)
    page.evaluate("localStorage.setItem('platewright.favourites', '[\"silhouette-leaf\"]')")
    page.goto(f"{address}/parts/plate-base?width=210")
    page.get_by_role("button", name="Favourite: Base plate").click()
    page.goto(address)
    expect(page.locator("#favourites .name")).to_have_text(["Leaf", "Base plate"])
    page.locator("#favourites").get_by_role("link", name="Base plate").click()
    expect(page.locator("#width")).to_have_value("210")


def test_a_link_says_every_value_and_pictures_are_black_on_white(page, address):
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.emulate_media(color_scheme="dark")
    page.goto(f"{address}/parts/bracket-flat-l?leg_a=180")
    page.click('[data-act="link"]')
    expect(page.locator("#acts-said")).to_contain_text("copied")
    link = page.evaluate("navigator.clipboard.readText()")
    assert link.startswith(f"{address}/parts/bracket-flat-l?")
    assert {"leg_a=180", "units=mm", "material=mild-steel", "process=air-plasma"} <= set(link.split("?")[1].split("&"))
    with page.expect_response(link):
        page.goto(link)
    assert page.locator("#refusal .stale").count() == 0
    page.click("#acts summary >> text=Picture")
    inks = []
    for act in ("drawing", "part"):
        file, name = saved_as_file(page, act)
        image = Image.open(io.BytesIO(file)).convert("RGB")
        assert max(image.size) == 2400
        assert image.getpixel((2, 2)) == (255, 255, 255)
        assert all(red == green == blue for _, (red, green, blue) in image.getcolors(1 << 20))
        inks.append(sum(image.convert("L").point(lambda grey: grey < 128 and 255).histogram()[255:]))
    assert 0 not in inks
    assert name == "flat-l-bracket.png"
