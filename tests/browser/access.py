"""What holds of a page for whoever goes by keys, by ear, enlarged or in few colours: criteria of WCAG 2.2."""

from playwright.sync_api import Page, expect

from tests.browser import roles

CONTRAST = """() => {
  const parts = (colour) => { const [r, g, b, a = 1] = colour.match(/[\\d.]+/g).map(Number); return [r, g, b, a]; };
  const over = ([r, g, b, a], [R, G, B]) => [r * a + R * (1 - a), g * a + G * (1 - a), b * a + B * (1 - a)];
  const grounds = new Map([[null, [255, 255, 255]]]);
  const ground = (one) => {
    if (!grounds.has(one)) {
      const own = parts(getComputedStyle(one).backgroundColor);
      grounds.set(one, own[3] === 1 ? own.slice(0, 3) : over(own, ground(one.parentElement)));
    }
    return grounds.get(one);
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
    spilling: [...document.querySelectorAll("main *")].filter((one) => one.checkVisibility()
        && !one.closest("svg, table, select") && getComputedStyle(one).overflowY === "visible" && one.clientHeight
        && one.scrollHeight > one.clientHeight + 6 && getComputedStyle(one).display !== "inline")
      .map((one) => one.outerHTML.slice(0, 100) + one.scrollHeight + ">" + one.clientHeight),
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
BLANK = """() => {
  const probe = document.body.appendChild(document.createElement("i"));
  probe.style.cssText = "forced-color-adjust: none; color: Canvas";
  const canvas = getComputedStyle(probe).color;
  probe.remove();
  return [...document.querySelectorAll("main *, header *")].filter((one) => {
    const { color, forcedColorAdjust } = getComputedStyle(one);
    const says = [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
    return says && !one.closest("svg") && one.checkVisibility() && color === canvas && forcedColorAdjust !== "none";
  }).map((one) => one.outerHTML.slice(0, 100));
}"""
"""Letters in the colour of the ground that a browser puts behind all letters where it forces colours."""

SOUND = {
    "nameless": [],
    "twice": [],
    "lost": [],
    "heads": 0,
    "headings": 1,
    "mains": 1,
    "spilling": [],
    "unreached": [],
}

FOCUSED = """() => {
  const one = document.activeElement;
  const box = one.getBoundingClientRect();
  const style = getComputedStyle(one);
  const seen = (line) => [0.1, 0.5, 0.9].every((part) => {
    const there = document.elementFromPoint(line.left + line.width / 2, line.top + line.height * part);
    return one.contains(there) || there?.contains(one);
  });
  const barred = one.closest("#drawing, .block, .jump, .skip");
  return {
    what: one.outerHTML.slice(0, 120), body: one === document.body,
    ringed: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2,
    colour: style.outlineColor, wholly: box.height > 300 || [...one.getClientRects()].every(seen),
    top: barred ? null : box.top + scrollY, left: box.left, height: box.height,
  };
}"""

MOVING = """() => [...document.querySelectorAll("*")]
  .filter((one) => parseFloat(getComputedStyle(one).transitionDuration)).length"""


def assert_named_and_fitting(page: Page, width: int) -> None:
    """1.1.1, 1.3.1, 1.4.10, 2.1.1, 2.5.8 and 4.1.2: all is named and reached, and nothing is beyond the width."""
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.wait_for_function("() => new Promise(requestAnimationFrame)")  # what scrolls is a stop from then on
    assert page.evaluate(NAMELESS) == SOUND
    assert page.evaluate(roles.SAID) == roles.SOUND


def assert_legible(page: Page, scheme: str) -> None:
    """1.4.3, by day or by night."""
    page.emulate_media(color_scheme=scheme)
    assert page.evaluate(CONTRAST) == []


def assert_skips(page: Page) -> None:
    """2.4.1: the first stop of a page that was just opened goes to its content."""
    page.keyboard.press("Tab")
    skip = page.locator(".skip").first
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport(ratio=1)
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()


def tabbed(page: Page, key: str = "Tab", most: int = 400) -> list[dict]:
    """What has the focus after each press of the key, until it leaves the page; in the order of the page."""
    stops: list[dict] = []
    while len(stops) < most:
        page.keyboard.press(key)
        stop = page.evaluate(FOCUSED)
        if stop["body"] or (stops and stop == stops[0]):
            break
        stops.append(stop)
    return stops if key == "Tab" else stops[::-1]
