"""A part on a job's sheets found, moved, turned and pinned: by the mouse, by a finger, by keys, and without scripts."""

import pytest
from playwright.sync_api import expect

from parts import store
from parts.store import Content, Kept, KeptLayout, KeptSheet, Line, Lying
from tests.browser.quiet import quiet_page

RING, BRACE = Kept("plate-ring", (("thickness", "6"),)), Kept("gusset-triangle", (("thickness", "6"),))
LAYOUT = KeptLayout(
    (
        KeptSheet(600, 1000, (Lying(1, 20, 20), Lying(1, 200, 20), Lying(2, 20, 300))),
        KeptSheet(600, 1000, (Lying(1, 20, 20),)),
    ),
    "600x1000 mm",
)


@pytest.fixture
def number():
    """A job of two sheets: two braces and a ring, and a brace."""
    lines = (Line(1, BRACE, 3, "brace"), Line(2, RING, 1, "ring"))
    return store.begin(Content("Gate for the garden", "Fernhollow 12 (invented)", lines, layout=LAYOUT)).number


def lying(number):
    return [each for sheet in store.job(number).content.layout.sheets for each in sheet.lying]


def pinned(number):
    return [(each.line, round(each.x), round(each.y), each.turn_deg) for each in lying(number) if each.is_pinned]


def middle(page, part, sheet=1):
    text = page.locator(f'svg[data-sheet="{sheet}"] .laid[data-part="{part}"] text')
    text.scroll_into_view_if_needed()
    box = text.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def sent(page, act):
    with page.expect_navigation():
        act()


def test_a_part_is_dragged_turned_and_pinned(page, address, number):
    page.goto(f"{address}/jobs/{number}/layout")
    scale = page.evaluate("document.querySelector('svg[data-sheet]').getScreenCTM().a")
    x, y = middle(page, 2)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 100 * scale, y - 30 * scale, steps=4)
    page.mouse.up()
    expect(page.locator("#hand-part")).to_have_value("2")
    page.get_by_role("button", name="Turn left").click()
    expect(page.locator("#hand-turn")).to_have_value("90")
    sent(page, page.get_by_role("button", name="Pin it there").click)
    ((line, px, py, turn),) = pinned(number)
    assert (line, turn) == (1, 90.0)
    assert (px, py) == pytest.approx((400, 50), abs=2)  # its own lower left is its right now
    expect(page.locator(".laid-pinned")).to_have_count(1)
    expect(page.get_by_role("button", name="Unpin", exact=True)).to_be_visible()


def test_a_part_dragged_onto_another_stays_and_is_told_of(page, address, number):
    page.goto(f"{address}/jobs/{number}/layout")
    before = lying(number)
    x, y = middle(page, 1)
    to = middle(page, 2)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(*to, steps=4)
    page.mouse.up()
    sent(page, page.get_by_role("button", name="Pin it there").click)
    expect(page.get_by_role("alert").first).to_contain_text("would lie on part 2, brace")
    assert lying(number) == before
    expect(page.locator(".laid-moved")).to_have_count(1)  # where it was tried stays to be seen
    page.locator("[name=makes_room]").check()
    sent(page, page.get_by_role("button", name="Pin it there").click)
    assert len(lying(number)) == len(before) - 1
    expect(page.get_by_role("alert").first).to_contain_text("1 of it isn't laid out yet")


def test_everything_by_keys(page, address, number):
    page.goto(f"{address}/jobs/{number}/layout")
    sheet = page.locator('svg[data-sheet="1"]')
    sheet.focus()
    keys = page.keyboard
    for key in ("n", "n", "p"):
        keys.press(key)
    expect(page.locator("#hand-part")).to_have_value("1")
    for key in ("ArrowRight", "Shift+ArrowUp", "Shift+ArrowUp", "r", "Shift+R", "Shift+R"):
        keys.press(key)
    expect(page.locator("#told")).to_contain_text("brace: 21 from the left, 40 from below, turned left, degrees: -90")
    keys.press("Escape")
    expect(page.locator("#hand-x")).to_have_value("20")
    keys.press("Shift+ArrowUp")
    sent(page, lambda: keys.press("Enter"))
    assert pinned(number) == [(1, 20, 30, 0.0)]
    expect(sheet).to_be_focused()  # and goes on from there
    expect(page.locator(".laid-chosen")).to_have_count(1)
    sent(page, lambda: keys.press("u"))
    assert pinned(number) == []


def test_a_finger_chooses_first_and_then_drags(browser, address, number):
    with quiet_page(browser, viewport={"width": 390, "height": 844}, has_touch=True) as page:
        page.goto(f"{address}/jobs/{number}/layout")
        page.touchscreen.tap(*middle(page, 1))
        expect(page.locator("#hand-part")).to_have_value("1")
        expect(page.locator(".laid-chosen")).to_have_css("touch-action", "none")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        page.locator("#hand-x").fill("50")
        page.locator("#hand-to").select_option("1")
        sent(page, page.get_by_role("button", name="Pin it there").click)
        assert pinned(number) == [(1, 50, 20, 0.0)]


def test_the_same_without_scripts(plain, address, number):
    plain.goto(f"{address}/jobs/{number}/layout")
    plain.locator("summary", has_text="3 parts by their numbers").click()
    plain.get_by_role("link", name="3: ring").click()
    expect(plain.locator("#hand-x")).to_have_value("20")
    plain.locator("#hand-x").fill("200")
    plain.locator("#hand-to").select_option("2")
    sent(plain, plain.get_by_role("button", name="Pin it there").click)
    layout = store.job(number).content.layout
    assert [(each.line, each.x) for each in layout.sheets[1].lying if each.is_pinned] == [(2, 200.0)]
