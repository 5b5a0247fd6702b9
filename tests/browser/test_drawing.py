"""The drawing of a part's page: its share of the window, its lettering, its levels, moving it, measuring on it."""

import re
import time

import pytest
from playwright.sync_api import expect

from tests.browser.quiet import LONGEST_MS
from tests.browser.states import WINDOWED

DESK = {"width": 1440, "height": 900}
STATES = (
    "/parts/plate-bumper",
    "/parts/bracket-bent-u?thickness=12",
    "/parts/gusset-triangle?toe=400",
    "/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6&small_holes=cut",
    "/parts/silhouette-leaf?units=in",
)
"""Many dimensions, bends, a refusal, a stop, what is rich and in inches."""
SHARE = """() => { const { width, height } = document.getElementById("drawing").getBoundingClientRect();
  return width * height / (innerWidth * innerHeight); }"""
LETTERS = """() => [...document.querySelectorAll("#drawing .pw-text")].filter((one) => one.getClientRects().length)
  .map((one) => [one.getScreenCTM(), parseFloat(one.getAttribute("font-size"))])
  .map(([{ a, b }, size]) => Math.hypot(a, b) * size)"""
SEEN = "() => document.querySelector('#drawing svg').getAttribute('viewBox').split(' ').map(Number)"


def opened(page, address, where):
    page.goto(f"{address}{where}")
    page.wait_for_function(WINDOWED)


def wait_until(page, what):
    """Wait for what the page does by and by, such as asking for something, however long that takes."""
    until = time.monotonic() + LONGEST_MS / 1000
    while not what():
        assert time.monotonic() < until
        page.wait_for_timeout(20)


def assert_lettered(page, least=12, most=14):
    sizes = page.evaluate(LETTERS)
    assert sizes
    assert least - 0.01 <= min(sizes)
    assert max(sizes) <= most + 0.01
    assert max(sizes) - min(sizes) < 0.01


@pytest.fixture
def page(page):
    page.set_viewport_size(DESK)
    return page


def test_the_drawing_has_half_of_the_window_and_letters_of_one_size(page, address):
    for where in STATES:
        opened(page, address, where)
        assert page.evaluate(SHARE) >= 0.5, where
        assert_lettered(page)
        page.fill("#thickness", "8 mm")  # what follows the typing is laid out for the same window
        expect(page.locator("#drawing svg")).to_be_visible()
        assert page.evaluate(SHARE) >= 0.5, where


def test_keys_look_closer_move_and_show_all_again(page, address):
    opened(page, address, "/parts/plate-bumper")
    whole = page.evaluate(SEEN)
    page.focus("#drawing")
    for key in "+++":
        page.keyboard.press(key)
    near = page.evaluate(SEEN)
    assert near[2] == pytest.approx(whole[2] / 1.25**3, rel=0.1)
    assert_lettered(page)
    page.keyboard.press("ArrowRight")
    assert page.evaluate(SEEN)[0] == pytest.approx(near[0] + 60 / 1.25**3, abs=0.1)
    page.fill("#width", "1700")  # the same place of the part, as large, though the drawing is made anew
    expect(page.locator("#drawing", has_text="A 1700")).to_be_attached()
    assert_lettered(page)
    page.locator('.moves [data-move="left"]').click()
    page.focus("#drawing")
    page.keyboard.press("0")
    expect(page.locator("#drawing")).not_to_have_class(re.compile("moved"))
    box = page.locator("#drawing").bounding_box()
    page.mouse.move(box["x"] + 300, box["y"] + 300)
    page.mouse.wheel(0, -400)
    closer = page.evaluate(SEEN)
    assert closer[2] < whole[2]
    page.mouse.down()
    page.mouse.move(box["x"] + 380, box["y"] + 300, steps=4)
    page.mouse.up()
    assert page.evaluate(SEEN)[0] < closer[0]
    page.get_by_role("button", name="Fit").click()
    expect(page.locator(".moves")).to_be_hidden()


@pytest.mark.parametrize(
    ("units", "snipe", "said"),
    [("mm", "15mm", "21.21 mm: 15 across, 15 up"), ("in", "5/8in", "0.884 in: 5/8 across, 5/8 up")],
)
def test_the_distance_of_two_points_is_told(page, address, units, snipe, said):
    """The snipe of the gusset: the same on both legs, so the root of 2 times that apart; inches as on the drawing."""
    of = f"leg_a=100mm&leg_b=100mm&snipe={snipe}&corner_radius=3mm&units={units}"
    opened(page, address, f"/parts/gusset-triangle?{of}")
    page.focus("#drawing")
    page.keyboard.press("m")
    for key in ("ArrowRight", "ArrowRight", "Enter", "ArrowUp"):
        page.keyboard.press(key)
    expect(page.locator(".measure-said")).to_contain_text("To the")
    page.keyboard.press("Enter")
    expect(page.locator(".measure-said")).to_have_text(re.compile(rf"^[-/\d.]+ {units}: [-/\d.]+ across, [-/\d.]+ up$"))
    page.keyboard.press("Escape")
    page.keyboard.press("m")
    corners, at = {(round(x), round(y)) for x, y in page.evaluate(CORNERS)}, {"mm": 15, "in": 16}[units]
    assert corners >= {(at, 0), (0, at)}
    for x, y in ((at, 0), (0, at)):
        page.mouse.click(*page.evaluate(PLACE, [x, y]))
    expect(page.locator(".measure-said")).to_have_text(said)
    page.keyboard.press("Escape")
    expect(page.locator(".measure-said")).to_be_hidden()


CORNERS = """() => {
  const svg = document.querySelector("#drawing svg");
  const box = svg.querySelector(".pw-part").getBBox();
  const path = svg.querySelector(".pw-part path").getAttribute("d");
  return [...path.matchAll(/([\\d.]+) ([\\d.]+)(?=[LAZ]|$)/g)]
    .map(([, x, y]) => [(x - box.x) / svg.dataset.scale, (box.y + box.height - y) / svg.dataset.scale]);
}"""
PLACE = """([x, y]) => {
  const svg = document.querySelector("#drawing svg");
  const box = svg.querySelector(".pw-part").getBBox();
  const at = new DOMPoint(box.x + x * svg.dataset.scale + 3, box.y + box.height - y * svg.dataset.scale + 3);
  const { x: left, y: top } = at.matrixTransform(svg.getScreenCTM());
  return [left, top];
}"""


def test_levels_sheet_and_cautions(page, address):
    opened(page, address, "/parts/plate-bumper")
    lit = page.locator('#drawing [data-parameter="corner_radius"]')
    expect(lit).to_be_hidden()
    page.focus("#corner_radius")
    expect(lit).to_be_visible()
    page.focus("#drawing")
    expect(lit).to_be_hidden()
    page.check("#show-all")
    expect(page.locator("#drawing .pw-spare")).to_have_count(0)
    expect(lit).to_be_visible()
    assert_lettered(page)
    page.reload()
    expect(page.locator("#show-all")).to_be_checked()
    expect(lit).to_be_visible()
    page.uncheck("#show-all")
    expect(lit).to_be_hidden()
    page.check("#show-stock")
    expect(page.locator("#drawing .pw-sheet")).to_be_in_viewport(ratio=0.99)
    expect(page.locator("#drawing .pw-part")).to_be_in_viewport(ratio=0.99)
    page.uncheck("#show-stock")
    page.click("#care > summary")
    folded = page.locator("#cautions .line-of")
    assert folded.count() > 3
    assert all(box["height"] < 30 for box in (one.bounding_box() for one in folded.all()))
    with page.expect_download():
        page.locator("#files .first").click()
    expect(page.locator("#cautions details:not([open])")).to_have_count(0)
    page.reload()
    with page.expect_download():
        page.locator("#files .first").click()
    expect(page.locator("#cautions details[open]")).to_have_count(0)  # once is enough


WHOLE = """async () => {
  const page = new DOMParser().parseFromString(await (await fetch(location.href)).text(), "text/html");
  for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
  const drawing = (of) => of.querySelector("#drawing > svg").outerHTML.replace(/>\\s+</g, "><");
  const told = (of) => [drawing(of), of.getElementById("as-cut-said").outerHTML];
  return [told(document), told(page)];
}"""


def is_whole(request):
    return request.headers.get("platewright-live") == "following"


def test_what_is_hidden_is_left_out_while_typing_and_brought_at_rest(page, address):
    opened(page, address, "/parts/plate-bumper")
    asked = []

    def hold(route, request):
        asked.append((request.headers.get("platewright-live"), route))
        if asked[-1][0] != "following":
            route.continue_()

    page.route("**/parts/plate-bumper?*", hold)
    page.fill("#corner_radius", "33")
    left_out = page.locator("#drawing").locator(".pw-as-cut, .pw-stock, .pw-spare:not([data-parameter=corner_radius])")
    expect(left_out).to_have_count(0)
    expect(page.locator("#drawing .pw-spare[data-parameter=corner_radius]")).to_be_visible()
    expect(page.locator("#as-cut-said")).to_have_class("soft held")  # it is of the drawing before
    wait_until(page, lambda: len(asked) > 1)
    assert [live for live, _ in asked] == ["following corner_radius", "following"]
    asked[-1][1].continue_()
    expect(left_out).not_to_have_count(0)
    expect(page).to_have_url(re.compile("corner_radius=33"))
    shown, whole = page.evaluate(WHOLE)
    assert shown == whole
    page.check("#show-as-cut")  # what is shown follows at once
    page.fill("#corner_radius", "34")
    wait_until(page, lambda: [live for live, _ in asked if live][2:])
    assert [live for live, _ in asked if live][2:] == ["following"]
    asked[-1][1].continue_()
    expect(page).to_have_url(re.compile("corner_radius=34"))
    expect(page.locator("#drawing .pw-as-cut")).to_be_visible()
    page.unroute_all()
    page.uncheck("#show-as-cut")
    opened(page, address, "/parts/plate-panel")  # a rich part: first its drawing, then what is found of it
    held = []
    page.route("**/parts/plate-panel?*", lambda route, of: held.append(route) if is_whole(of) else route.continue_())
    page.fill("#width", "777")
    expect(page.locator("#drawing .pw-dimension", has_text="777")).to_have_count(1)
    expect(page.locator("#facts")).to_have_class("facts held")
    expect(page.locator("#verdict")).to_contain_text("Being checked")
    expect(page.locator("#files")).to_have_class("files held")
    expect(page.locator("#main")).not_to_have_class("late")
    page.wait_for_timeout(300)
    held[-1].continue_()
    expect(page.locator("#files")).to_have_class("files")
    expect(page.locator("#verdict")).not_to_contain_text("Being checked")
    expect(page.locator("#facts")).to_contain_text("777 by")
    page.unroute_all()


def test_on_a_phone_the_drawing_comes_first_and_is_pinched(browser, address):
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    opened(page, address, "/parts/plate-bumper")
    assert_lettered(page, most=12)
    assert page.locator("#drawing").bounding_box()["y"] < page.locator("#findings").bounding_box()["y"]
    page.check("#show-all")
    expect(page.locator("#drawing .pw-spare")).to_have_count(0)
    assert_lettered(page, least=11)
    whole = page.evaluate(SEEN)
    touch = context.new_cdp_session(page)
    for kind, half in (("touchStart", 30), ("touchMove", 50), ("touchMove", 70), ("touchEnd", 0)):
        points = [{"x": 195 + way * half, "y": 240, "id": way + 1} for way in (-1, 1)] if half else []
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    assert page.evaluate(SEEN)[2] < whole[2]
    context.close()


def test_without_scripts_the_drawing_is_whole_and_nothing_dead_is_offered(plain, address):
    plain.set_viewport_size(DESK)
    plain.goto(f"{address}/parts/plate-bumper")
    assert plain.locator("#drawing svg").bounding_box()["width"] > 900
    for dead in (".tools", "#show-all", "#show-stock"):
        expect(plain.locator(dead)).to_be_hidden()
    plain.check("#show-slow")
    plain.click("#care > summary")
    fold = plain.locator("#cautions .line-of").first
    fold.locator("summary").click()
    expect(fold).to_have_attribute("open", "")
