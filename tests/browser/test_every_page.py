"""Every page in each of its states, by keys, by ear, enlarged, in few colours and on paper.

One page of a browser walks them. An everyday run takes turns with schemes of colour, widths and papers, a deep run
tries all.
"""

import itertools
import re
from pathlib import Path

import pytest
import tinycss2
from playwright.sync_api import expect

from tests import depth
from tests.browser import access, paper
from tests.browser.quiet import renewed
from tests.browser.states import STATES, WINDOWED

ROOT = Path(__file__).parents[2]
CHOICE = re.compile(r":focus|:hover|:checked|\.lit|aria-current|aria-pressed|dropping|as-cut|slow")
DESK, ENLARGED, NARROW, PHONE = (1440, 900), (720, 450), (320, 640), (390, 844)
"""Widths and heights in px; 1.4.4 asks for a desk enlarged twice, 1.4.10 for 320 px."""
READY = """() => document.documentElement.classList.contains("live") && !document.querySelector(".mend .ask")"""
FAULT = "getComputedStyle(document.documentElement).getPropertyValue('--fault')"


@pytest.fixture
def page(tabs, address):
    """A page that keeps nothing of what was shown before, and moves nothing."""
    with renewed(tabs[True], address, allowed="40[349]|422") as opened:
        opened.emulate_media(reduced_motion="reduce")
        yield opened


ONLY_PRINTED = set() if depth.DEEP else {"numbers"}
ALIKE_ON_PAPER = {
    "catalogue", "conflict", "in-order", "layers", "no-history", "not-found", "true-disagrees", "true-refused"
}  # fmt: skip
NOT_PRINTED = set() if depth.DEEP else ALIKE_ON_PAPER
"""States that show nothing in the one way that no other state does: left to a deep run."""


def size(page, window):
    page.set_viewport_size({"width": window[0], "height": window[1]})


def bring(page, address, state, window):
    size(page, window)
    STATES[state](page, address)
    page.wait_for_function(READY)


def turn(state, of):
    """All of them in a deep run, else the one whose turn it is with this state."""
    return of if depth.DEEP else [of[sorted(STATES).index(state) % len(of)]]


@pytest.mark.parametrize("state", sorted(STATES))
def test_a_page_is_named_legible_no_wider_than_320_px_and_whole_on_paper(page, address, own_file, state):
    bring(page, address, state, DESK)
    if state not in ONLY_PRINTED:
        assert_for_everyone(page, state)
    size(page, DESK)
    page.wait_for_function(WINDOWED)
    for sheet in turn(state, sorted(paper.PAPERS)) if state not in NOT_PRINTED else ():
        page.emulate_media(media="null", color_scheme="dark")
        paper.assert_on_paper(page, sheet)
    if state in ("true", "bend"):
        paper.assert_has_lines_to_write_on(page)
    if state == "gusset":
        paper.assert_drawing_first(page)


def assert_for_everyone(page, state):
    access.assert_skips(page)
    for window, schemes in ((DESK, ("light", "dark")), (ENLARGED, ()), (NARROW, ("dark", "light"))):
        if window == ENLARGED and not depth.DEEP:
            continue
        size(page, window)
        access.assert_named_and_fitting(page, window[0])
        for scheme in turn(state, schemes) if schemes else ():
            access.assert_legible(page, scheme)
    assert page.evaluate(access.MOVING) == 0


WALKED = [("bent", PHONE, "Shift+Tab"), ("checked", NARROW, "Tab")]
FRAMED = ("gusset", "bent", "refused", "checked", "true")
ALL_WALKED = list(itertools.product(FRAMED, (PHONE, NARROW), ("Tab", "Shift+Tab")))


@pytest.mark.parametrize(("state", "window", "key"), depth.several(WALKED, ALL_WALKED))
def test_on_a_phone_the_focus_is_seen_whole_in_the_order_of_the_page(page, address, state, window, key):
    """2.4.3, 2.4.7, 2.4.11 and 2.4.12."""
    bring(page, address, state, window)
    fault = page.evaluate(FAULT).strip()
    stops = access.tabbed(page, key)
    assert len(stops) >= 15
    assert [stop["what"] for stop in stops if not stop["ringed"] or not stop["wholly"]] == []
    red, green, blue = (int(fault[i : i + 2], 16) for i in (1, 3, 5))
    assert f"rgb({red}, {green}, {blue})" not in {stop["colour"] for stop in stops}
    tops = [(stop["top"], stop["height"], stop["what"]) for stop in stops if stop["top"] is not None]
    assert [after for (y, _, _), after in itertools.pairwise(tops) if after[0] + after[1] < y] == []


def test_what_changes_is_told(page, address):
    """4.1.3: the verdict, what isn't drawn, what is offered, how many are found."""
    bring(page, address, "gusset", DESK)
    told = page.locator("#told")
    expect(told).to_have_attribute("role", "status")
    expect(told).to_contain_text("Offered: Holes too small to cut")
    page.fill("#toe", "400")
    expect(told).to_contain_text("Not drawn as typed")
    expect(page.get_by_role("status").filter(has_text="must be at most 200 mm")).to_be_visible()
    bring(page, address, "catalogue", DESK)
    page.fill("#q", "leaf")
    expect(told).to_contain_text("go")


def test_in_few_colours_what_is_chosen_is_outlined_and_all_is_seen(page, address):
    """1.4.1, 1.4.3 and 1.4.11, as CSS Color Adjustment's forced colours show it."""
    page.emulate_media(forced_colors="active")
    for state in ("in-order", "shop", "chart", "true", "catalogue"):
        bring(page, address, state, DESK)
        if state == "in-order":
            page.focus("#leg_a")
            expect(page.locator('.row[data-parameter="leg_a"]')).to_have_css("outline-style", "solid")
        if state == "shop":
            expect(page.locator('.choose [aria-current="page"]')).to_have_css("outline-style", "solid")
        assert page.evaluate(access.BLANK) == []


def test_what_is_folded_is_on_paper_without_scripts(plain, address):
    for where, folded in (
        ("/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6&small_holes=cut", "smallest hole"),
        ("/true", "Travel in X"),
        ("/shop/air-plasma?group=steel", "Thinner than this"),
    ):
        plain.goto(f"{address}{where}")
        fold = plain.locator("details:not([open])", has_text=folded).first
        expect(fold).to_be_visible()
        expect(fold.get_by_text(folded).first).to_be_hidden()
        assert paper.squeezed(folded) in paper.printed(plain, "A4")[1]


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
