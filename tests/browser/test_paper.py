"""Every page printed on letter and on A4: all of it there, black on white, within the edges, nothing left to press."""

import io
import re

import pypdf
import pytest
from playwright.sync_api import expect

from tests.browser.states import STATES

PAPERS = {"A4": (210, 297), "Letter": (215.9, 279.4)}
"""Width and height in mm: ISO 216:2007, and ANSI/ASME Y14.1 size A."""
MARGIN_MM, FOOT_MM = 12, 14
INSIDE = MARGIN_MM - 0.5  # some letters begin left of their own origin
PX_PER_MM = 96 / 25.4  # CSS Values and Units, absolute lengths
POINTS_PER_MM = 72 / 25.4

PRINTED = sorted(STATES.keys() - {"search", "in-order", "many", "true-refused", "chart-in-inches", "no-history"})
"""Each page; of the states, those that show something which no other does."""

PRESSED = """button, .links, .even-so, .send, .mend, .undo, .star, .drop, .search, .jump, .filter, .presets, .backs,
.upload, .units, .other, .acts:not(.confirm), .file-of, .save, .pick, .spare, .skip, .unseen, header,
.choose a:not([aria-current]), .groups a:not([aria-current]), .tables a:not([aria-current]),
.files .label, .entry.words:has(input:placeholder-shown)"""
"""What is pressed or chosen with, and so is not on paper."""

PIECES = """(pressed) => {
  const folds = [...document.querySelectorAll("details:not([open])")];
  for (const fold of folds) fold.open = true;
  const away = (node) => node.closest(pressed) || node.closest("title, option") || !node.checkVisibility();
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const pieces = [];
  for (let node; (node = texts.nextNode()); )
    if (node.data.trim() && !away(node.parentElement)) pieces.push(node.data);
  for (const field of document.querySelectorAll("input:not([type=hidden]):not([type=checkbox]), select")) {
    if (away(field) || (!field.value && field.closest(".from, .words"))) continue;
    pieces.push(field.tagName === "SELECT" ? field.selectedOptions[0]?.text ?? "" : field.value || field.placeholder);
  }
  for (const fold of folds) fold.open = false;
  return pieces;
}"""
"""All that a person reads on the page with every fold opened: texts, and what stands in fields."""

LAID_OUT = """() => {
  const shown = [...document.body.querySelectorAll("*")].filter((one) => one.checkVisibility());
  const edge = document.documentElement.clientWidth;
  const said = (one) => one.outerHTML.slice(0, 100);
  const grey = (colour) => {
    const parts = colour.match(/[\\d.]+/g)?.map(Number);
    return !parts || parts.length < 3 || parts[3] === 0 || (parts[0] === parts[1] && parts[1] === parts[2]);
  };
  const coloured = (one) => {
    const style = getComputedStyle(one);
    const names = ["color", "borderTopColor", "borderLeftColor", "outlineColor", "fill", "stroke", "backgroundColor"];
    return names.some((name) => !grey(style[name]));
  };
  const pale = (one) => {
    const style = getComputedStyle(one);
    const words = [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
    return words && !one.closest("svg") && (style.color !== "rgb(0, 0, 0)" || style.backgroundImage !== "none");
  };
  return {
    wide: shown.filter((one) => one.getBoundingClientRect().right > edge + 1).map(said),
    cut: shown.filter((one) => !one.closest("svg, .unseen") && getComputedStyle(one).overflowX !== "visible"
      && one.clientWidth && one.scrollWidth > one.clientWidth + 1).map(said),
    fixed: shown.filter((one) => ["sticky", "fixed"].includes(getComputedStyle(one).position)).map(said),
    pressed: shown.filter((one) => one.matches("button, [type=file]") && !one.closest(".unseen")).map(said),
    coloured: shown.filter((one) => !one.closest(".swatch") && coloured(one)).map(said),
    pale: shown.filter((one) => one.tagName !== "OPTION" && pale(one)).map(said),
    high: shown.filter((one) => one.matches("svg, tr, .row, li") && one.getBoundingClientRect().height > 900).map(said),
  };
}"""
CLEAN = {"wide": [], "cut": [], "fixed": [], "pressed": [], "coloured": [], "pale": [], "high": []}

LINES = """() => [...document.querySelectorAll(".readings input, .facts-of input")]
  .filter((one) => one.checkVisibility() && !one.value && !one.placeholder)
  .map((one) => [one.getBoundingClientRect().width, parseFloat(getComputedStyle(one).borderBottomWidth)])"""


def squeezed(text):
    return re.sub(r"\s", "", text)


def printed(page, paper):
    """The size of the paper in mm, the text in the order in which it is painted, and what begins in a margin.

    The pages' numbers, which stand in the foot, are looked for there and left out.
    """
    sheets = pypdf.PdfReader(io.BytesIO(page.pdf(format=paper))).pages
    texts, beyond = [], []
    for i, sheet in enumerate(sheets):
        width, height = (float(side) / POINTS_PER_MM for side in sheet.mediabox[2:])
        foot = []

        def place(text, ours, tm, font, size, width=width, height=height, foot=foot):
            x = (ours[0] * tm[4] + ours[2] * tm[5] + ours[4]) / POINTS_PER_MM
            y = (ours[1] * tm[4] + ours[3] * tm[5] + ours[5]) / POINTS_PER_MM
            if y < FOOT_MM and re.fullmatch(r"[\d/\s]+", text):
                foot.append(text)
                return
            texts.append(text)
            if text.strip() and not (INSIDE <= x <= width - INSIDE and FOOT_MM - 1 <= y <= height - INSIDE):
                beyond.append((text, round(x, 1), round(y, 1)))

        sheet.extract_text(visitor_text=place)
        assert squeezed("".join(foot)) == f"{i + 1}/{len(sheets)}"
    return (width, height), squeezed("".join(texts)), beyond


@pytest.mark.parametrize("state", PRINTED)
def test_all_of_a_page_is_on_paper_within_its_edges(browser, address, own_file, state):
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme="dark")
    page = context.new_page()
    STATES[state](page, address)
    page.wait_for_load_state("networkidle")
    pieces = page.evaluate(PIECES, PRESSED)
    assert len(pieces) >= 3
    folds = page.locator("details:not([open])").count()
    for paper, (width, height) in PAPERS.items():
        sides, text, beyond = printed(page, paper)
        assert sides == pytest.approx((width, height), abs=0.4)
        assert [piece for piece in pieces if squeezed(piece) not in text] == []
        assert beyond == []
    assert page.locator("details:not([open])").count() == folds, "folded again after printing"
    page.emulate_media(media="print", color_scheme="dark")
    for width, height in PAPERS.values():
        page.set_viewport_size({"width": int((width - 2 * MARGIN_MM) * PX_PER_MM), "height": int(height * PX_PER_MM)})
        assert page.evaluate(LAID_OUT) == CLEAN
    context.close()


@pytest.mark.parametrize(("where", "folded"), [
    ("/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6", "smallest hole"),
    ("/true", "Travel in X"),
    ("/shop/air-plasma?group=steel", "Thinner than this"),
])  # fmt: skip
def test_what_is_folded_is_on_paper_without_scripts(browser, address, where, folded):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}{where}")
    fold = page.locator("details:not([open])", has_text=folded).first
    expect(fold).to_be_visible()
    expect(fold.get_by_text(folded).first).to_be_hidden()
    assert squeezed(folded) in printed(page, "A4")[1]
    context.close()


@pytest.mark.parametrize("where", ["/true", "/true/bend"])
def test_a_form_has_a_line_wherever_something_can_be_written(browser, address, where):
    page = browser.new_page(viewport={"width": 703, "height": 1000})
    page.goto(f"{address}{where}")
    page.emulate_media(media="print")
    lines = page.evaluate(LINES)
    assert len(lines) >= 8
    assert all(width >= 15 * PX_PER_MM and line >= 1 for width, line in lines)
    page.close()


def test_a_part_prints_its_drawing_first_then_its_table_then_what_was_found(browser, address):
    page = browser.new_page(viewport={"width": 703, "height": 1000})
    STATES["gusset"](page, address)
    page.emulate_media(media="print")
    order = ["#drawing", "#facts", "#table", "#findings", "#cautions"]
    tops = [page.locator(one).bounding_box()["y"] for one in order]
    assert tops == sorted(tops)
    assert page.locator("#drawing svg").bounding_box()["height"] >= 100 * PX_PER_MM
    page.close()
