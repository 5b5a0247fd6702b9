"""A page on letter and on A4: all of it there, black on white, within the edges, nothing left to press."""

import io
import re

import pypdf
import pytest
from playwright.sync_api import Page
from pypdf.generic import DecodedStreamObject, NameObject

PAPERS = {"A4": (210, 297), "Letter": (215.9, 279.4)}
"""Width and height in mm: ISO 216:2007, and ANSI/ASME Y14.1 size A."""
MARGIN_MM, FOOT_MM = 12, 14
INSIDE = MARGIN_MM - 0.5  # some letters begin left of their own origin
PX_PER_MM = 96 / 25.4  # CSS Values and Units, absolute lengths
POINTS_PER_MM = 72 / 25.4

PRESSED = """button, .links, .even-so, .send, .mend, .undo, .star, .drop, .search, .jump, .filter, .presets, .backs,
.bar .scripted, .more > summary, .upload, .units, .units-of, .asking, .asks-here, .other, .acts:not(.confirm), .file-of,
.save, .pick, .spare, .skip, .unseen, header, .acts-of, .opening, .shelf-acts, .ways, #hangs-fold,
.choose a:not([aria-current]),
.groups a:not([aria-current]), .tables a:not([aria-current]), .files .label,
.entry.words:has(input:placeholder-shown), .from:has(input:placeholder-shown), .switches p:not(:has(:checked))"""
"""What is pressed or chosen with, and so is not on paper."""

PIECES = """(pressed) => {
  const folds = [...document.querySelectorAll("details:not([open])")];
  for (const fold of folds) fold.open = true;
  const hidden = (group) => group && getComputedStyle(group).display === "none"; // checkVisibility says nothing of it
  const away = (node) => node.closest(pressed) || node.closest("title, option") || hidden(node.closest("g"))
    || !node.checkVisibility();
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const pieces = [];
  for (let node; (node = texts.nextNode()); )
    if (node.data.trim() && !away(node.parentElement)) pieces.push(node.data);
  for (const field of document.querySelectorAll("input:not([type=hidden]):not([type=checkbox]), select")) {
    if (away(field)) continue;
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


NO_TEXT = re.compile(rb"(?m)^.*(?<![\w>])(?:[mlchfSn]|f\*|re|rg|RG|gs|W\*?|[wJjMd])$\n")
"""Operators of ISO 32000-1, 8.4.4 and 8.5, that draw a path or set its pen; Chromium writes an operator a line."""
RUN = re.compile(rb"<(\w+)> Tj\n((?:[-.\d]+ 0 Td <\w+> Tj\n){2,})")
STEP = re.compile(rb"([-.\d]+) 0 Td <(\w+)> Tj\n")
"""A line of text as Chromium writes it: its first letter, and the others with the way to each, ISO 32000-1, 9.4."""


def squeezed(text: str) -> str:
    """The text without its spaces, as lines are broken elsewhere on paper."""
    return re.sub(r"\s", "", text)


def _joined(run: re.Match[bytes]) -> bytes:
    """The line with all its letters but the last in one string; first and last stay where they are."""
    steps = STEP.findall(run[2])
    letters = b"".join([run[1], *(letter for _, letter in steps[:-1])])
    return b"<%b> Tj\n%f 0 Td <%b> Tj\n" % (letters, sum(float(way) for way, _ in steps), steps[-1][1])


def _make_quick_to_read(sheet: pypdf.PageObject) -> None:
    """Leave out the paths of a page and join the letters of its texts: reading them one by one takes a second."""
    texts = DecodedStreamObject()
    texts.set_data(RUN.sub(_joined, NO_TEXT.sub(b"", sheet.get_contents().get_data())))
    sheet[NameObject("/Contents")] = texts


def printed(page: Page, paper: str) -> tuple[tuple[float, float], str, list]:
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

        _make_quick_to_read(sheet)
        sheet.extract_text(visitor_text=place)
        assert squeezed("".join(foot)) == f"{i + 1}/{len(sheets)}"
    return (width, height), squeezed("".join(texts)), beyond


def assert_on_paper(page: Page, paper: str) -> None:
    """All that is read on the page, folds opened, is in its PDF, which has only black and greys, and nothing cut off.

    `page` is shown as in a window, and left as printed.
    """
    width, height = PAPERS[paper]
    pieces = page.evaluate(PIECES, PRESSED)
    assert len(pieces) >= 3
    folds = page.locator("details:not([open])").count()
    sides, text, beyond = printed(page, paper)
    assert sides == pytest.approx((width, height), abs=0.4)
    assert [piece for piece in pieces if squeezed(piece) not in text] == []
    assert beyond == []
    assert page.locator("details:not([open])").count() == folds, "folded again after printing"
    page.emulate_media(media="print", color_scheme="dark")
    page.set_viewport_size({"width": int((width - 2 * MARGIN_MM) * PX_PER_MM), "height": int(height * PX_PER_MM)})
    assert page.evaluate(LAID_OUT) == CLEAN


def assert_has_lines_to_write_on(page: Page) -> None:
    """A form as printed: a line wherever something can be written."""
    lines = page.evaluate(LINES)
    assert len(lines) >= 8
    assert all(width >= 15 * PX_PER_MM and line >= 1 for width, line in lines)


def assert_drawing_first(page: Page) -> None:
    """A part as printed: its drawing, its title block, its table, what was found, what to mind."""
    tops = [page.locator(one).bounding_box()["y"] for one in ("#drawing", "#facts", "#table", "#findings", "#cautions")]
    assert tops == sorted(tops)
    assert page.locator("#drawing svg").bounding_box()["height"] >= 100 * PX_PER_MM
