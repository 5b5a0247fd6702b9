"""Every page by keys, by ear, enlarged and in few colours: criteria of WCAG 2.2, named beside each check."""

import itertools
import re
from pathlib import Path

import pytest
import tinycss2
from playwright.sync_api import expect

from tests.browser.states import STATES

ROOT = Path(__file__).parents[2]
CHOICE = re.compile(r":focus|:hover|:checked|\.lit|aria-current|aria-pressed|dropping|as-cut|slow")

CONTRAST = """() => {
  const parts = (colour) => { const [r, g, b, a = 1] = colour.match(/[\\d.]+/g).map(Number); return [r, g, b, a]; };
  const over = ([r, g, b, a], [R, G, B]) => [r * a + R * (1 - a), g * a + G * (1 - a), b * a + B * (1 - a)];
  const ground = (one) => {
    if (!one) return [255, 255, 255];
    const own = parts(getComputedStyle(one).backgroundColor);
    return own[3] === 1 ? own.slice(0, 3) : over(own, ground(one.parentElement));
  };
  const light = (rgb) => {
    const [r, g, b] = rgb.map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const poor = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = texts.nextNode()); ) {
    const one = node.parentElement;
    if (!node.data.trim() || one.closest("svg, .held, .idle, option, .unseen") || !one.checkVisibility()) continue;
    const back = ground(one);
    const pair = [light(over(parts(getComputedStyle(one).color), back)), light(back)].sort((a, b) => b - a);
    if ((pair[0] + 0.05) / (pair[1] + 0.05) < 4.5) poor.push(one.outerHTML.slice(0, 100));
  }
  return poor;
}"""
"""Texts under 4.5 to 1 by the formula of WCAG 2.2; what is inactive is exempt there."""

NAMELESS = """() => {
  const named = (one) => one.getAttribute("aria-label") || one.labels?.length || one.textContent.trim()
    || document.getElementById(one.getAttribute("aria-labelledby"))?.textContent;
  const ids = [...document.querySelectorAll("[id]")].map((one) => one.id);
  const refers = (name) => [...document.querySelectorAll(`[${name}]`)]
    .filter((one) => !one.getAttribute(name).split(" ").every((id) => document.getElementById(id)));
  return {
    nameless: [...document.querySelectorAll("button, a[href], select, input:not([type=hidden]), [role=group]")]
      .filter((one) => !named(one)).map((one) => one.outerHTML.slice(0, 100)),
    twice: ids.filter((id, i) => ids.indexOf(id) !== i),
    lost: [...refers("aria-describedby"), ...refers("aria-labelledby")].map((one) => one.outerHTML.slice(0, 100)),
    heads: [...document.querySelectorAll("th")].filter((one) => !one.textContent.trim()).length,
    headings: document.querySelectorAll("h1").length, mains: document.querySelectorAll("main#main").length,
    unreached: [...document.querySelectorAll("*")].filter((one) => {
      const { overflowX, overflowY } = getComputedStyle(one);
      const scrolls = (way, shown, all) => ["auto", "scroll"].includes(way) && all > shown + 1;
      return one.checkVisibility() && (scrolls(overflowX, one.clientWidth, one.scrollWidth)
        || scrolls(overflowY, one.clientHeight, one.scrollHeight)) && one.tabIndex < 0
        && one !== document.documentElement
        && ![...one.querySelectorAll("a[href], button, input, select")].some((inner) => inner.checkVisibility());
    }).map((one) => one.outerHTML.slice(0, 100)),
  };
}"""
SOUND = {"nameless": [], "twice": [], "lost": [], "heads": 0, "headings": 1, "mains": 1, "unreached": []}

FOCUSED = """() => {
  const one = document.activeElement;
  const box = one.getBoundingClientRect();
  const style = getComputedStyle(one);
  const points = [[0.5, 0.5], [0.5, 0.1], [0.5, 0.9]];
  const seen = (x, y) => {
    const there = document.elementFromPoint(box.left + box.width * x, box.top + box.height * y);
    return one.contains(there) || there?.contains(one);
  };
  const barred = one.closest("#drawing, .block, .jump, .skip");
  return {
    what: one.outerHTML.slice(0, 120), body: one === document.body,
    ringed: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
    colour: style.outlineColor, wholly: box.height > 300 || points.every(([x, y]) => seen(x, y)),
    top: barred ? null : box.top + scrollY, left: box.left, height: box.height,
  };
}"""


MOVING = """() => [...document.querySelectorAll("*")]
  .filter((one) => parseFloat(getComputedStyle(one).transitionDuration)).length"""


@pytest.fixture(params=["light", "dark"])
def scheme(request):
    return request.param


def tabbed(page, key="Tab", most=400):
    """What has the focus after each press of the key, until it leaves the page."""
    stops = []
    while len(stops) < most:
        page.keyboard.press(key)
        stop = page.evaluate(FOCUSED)
        if stop["body"] or (stops and stop == stops[0]):
            break
        stops.append(stop)
    return stops


@pytest.mark.parametrize("state", sorted(STATES.keys() - {"many", "search", "numbers", "chart-in-inches"}))
def test_a_page_is_named_legible_and_no_wider_than_320_px(browser, address, own_file, scheme, state):
    """1.1.1, 1.3.1, 1.4.3, 1.4.10, 2.1.1, 2.4.1, 4.1.2, by day and by night, at a desk, enlarged twice, and narrow."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme=scheme, reduced_motion="reduce")
    page = context.new_page()
    STATES[state](page, address)
    page.wait_for_load_state("networkidle")
    for width, height in ((1440, 900), (720, 450), (320, 640)):
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        page.wait_for_function("() => new Promise(requestAnimationFrame)")
        assert page.evaluate(NAMELESS) == SOUND
        assert page.evaluate(CONTRAST) == []
    assert page.evaluate(MOVING) == 0
    context.close()


@pytest.mark.parametrize("where", ["/", "/parts/gusset-triangle", "/check", "/true", "/true/bend", "/shop", "/nothing"])
def test_the_first_stop_skips_to_the_content(browser, address, where):
    """2.4.1."""
    page = browser.new_page()
    page.goto(f"{address}{where}")
    page.keyboard.press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    expect(page.locator(".skip")).to_be_in_viewport(ratio=1)
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()
    page.close()


@pytest.mark.parametrize(("width", "height"), [(390, 844), (320, 640)])
@pytest.mark.parametrize("state", ["gusset", "bent", "refused", "checked", "true"])
def test_on_a_phone_the_focus_is_seen_whole_in_the_order_of_the_page(browser, address, state, width, height):
    """2.4.3, 2.4.7, 2.4.11 and 2.4.12."""
    page = browser.new_page(viewport={"width": width, "height": height}, reduced_motion="reduce")
    STATES[state](page, address)
    page.wait_for_load_state("networkidle")
    fault = page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--fault')").strip()
    ways = [tabbed(page), tabbed(page, "Shift+Tab")]
    for stops in ways:
        assert len(stops) >= 15
        assert [stop["what"] for stop in stops if not stop["ringed"] or not stop["wholly"]] == []
        red, green, blue = (int(fault[i : i + 2], 16) for i in (1, 3, 5))
        assert f"rgb({red}, {green}, {blue})" not in {stop["colour"] for stop in stops}
    tops = [(stop["top"], stop["height"], stop["what"]) for stop in ways[0] if stop["top"] is not None]
    back = [after for (y, _, _), after in itertools.pairwise(tops) if after[0] + after[1] < y]
    assert back == []
    page.close()


def test_what_changes_is_told(browser, address):
    """4.1.3: the verdict, what isn't drawn, what is offered, how many are found."""
    page = browser.new_page()
    page.goto(f"{address}/parts/gusset-triangle")
    told = page.locator("#told")
    expect(told).to_have_attribute("role", "status")
    page.fill("#toe", "400")
    expect(told).to_contain_text("Not drawn as typed", timeout=30_000)
    expect(page.get_by_role("status").filter(has_text="must be at most 200 mm")).to_be_visible()
    page.goto(f"{address}/parts/gusset-triangle?leg_b=150&holes_a=1")
    page.select_option("#bolt", "M6")
    expect(told).to_contain_text("Offered: Holes too small to cut", timeout=30_000)
    page.goto(address)
    page.fill("#q", "leaf")
    expect(told).to_contain_text("go")
    page.close()


def test_in_few_colours_what_is_chosen_is_outlined(browser, address):
    """1.4.1 and 1.4.11, as CSS Color Adjustment's forced colours show it."""
    context = browser.new_context(forced_colors="active")
    page = context.new_page()
    page.goto(f"{address}/parts/gusset-triangle")
    page.focus("#leg_a")
    row = page.locator('.row[data-parameter="leg_a"]')
    expect(row).to_have_css("outline-style", "solid")
    page.goto(f"{address}/shop")
    expect(page.locator('.choose [aria-current="page"]')).to_have_css("outline-style", "solid")
    context.close()


def test_the_colour_of_a_fault_is_for_faults_alone():
    wrong = []
    for sheet in sorted((ROOT / "static").glob("*.css")):
        rules = tinycss2.parse_stylesheet(sheet.read_text(encoding="utf-8"), skip_comments=True)
        while rules:
            rule = rules.pop()
            if rule.type == "at-rule" and rule.content and rule.lower_at_keyword == "media":
                rules += tinycss2.parse_rule_list(rule.content, skip_comments=True)
            elif rule.type == "qualified-rule" and CHOICE.search(tinycss2.serialize(rule.prelude)):
                said = tinycss2.serialize(rule.content)
                wrong += [tinycss2.serialize(rule.prelude)] if re.search(r"--(on-)?fault|--wash", said) else []
    assert wrong == []
