"""A whole job by keys alone, from a first visit to the corrections of the table: nothing is pointed at.

Wherever the focus stops it is seen whole and ringed (WCAG 2.2, 2.4.7, 2.4.11, 2.4.12). An everyday run walks once; a
deep run on a desk and a phone, in mm and inches, with scripts and without, all eight together.
"""

import itertools
import re

import pytest
from playwright.sync_api import expect

from parts.truing.model import Errors, put
from tests import depth
from tests.browser.access import FOCUSED
from tests.browser.quiet import quiet_page

WINDOWS = {"desk": (1440, 900), "phone": (390, 844)}
SAID = {
    "in": {
        "language": "en-US", "bed": ("60", "60 in"), "sought": "4 x 6 gusset 3/16", "thickness": "3/16", "leg": "5",
        "size": "5 by 6 in", "toe": "9", "most": "7-3/4 in", "bolt": "5/16", "thicker": "1/2", "square": 12.0,
    },
    "mm": {
        "language": "de-DE", "bed": ("1500", "1500 mm"), "sought": "100 x 150 gusset 5 mm", "thickness": "5",
        "leg": "125", "size": "125 by 150 mm", "toe": "240", "most": "200 mm", "bolt": "M6", "thicker": "10",
        "square": 300.0,
    },
}  # fmt: skip
TABLE = Errors(0.002, -0.001, 0.003)
"""The errors of the invented Fernhollow table."""
ALL = list(itertools.product(WINDOWS, SAID, (True, False)))
WALKED = [("phone", "in", True)]
STOP = f"wanted => ({{ ...({FOCUSED})(), there: document.activeElement.matches(wanted) }})"
MOST = 90
"""Stops to the farthest that is gone to: the files, from the first field of a part."""


class Keys:
    """A keyboard on a page; each stop of the focus is looked at."""

    def __init__(self, page, scripts):
        self.page, self.scripts = page, scripts

    def to(self, wanted, key="Tab"):
        """Press Tab, or Shift+Tab, until what is wanted has the focus."""
        for _ in range(MOST):
            self.page.keyboard.press(key)
            stop = self.page.evaluate(STOP, wanted)
            assert stop["body"] or (stop["ringed"] and stop["wholly"]), stop["what"]
            if stop["there"]:
                return
        raise AssertionError(f"{wanted} isn't reached")

    def skip_to(self, where):
        """From the top of the page, by a link that skips what is before."""
        self.page.evaluate("document.activeElement.blur()")
        self.to(f'.skip[href="#{where}"]')
        self.press("Enter")

    def press(self, key):
        self.page.keyboard.press(key)

    def enter(self):
        """Enter where it leads to another page."""
        with self.page.expect_navigation():
            self.press("Enter")

    def put(self, wanted, text):
        """Type into a field that is gone to, whose text is chosen as it is reached."""
        self.to(wanted)
        self.page.keyboard.type(text)

    def done(self, by=None):
        """What was typed is drawn by itself, or where nothing follows the typing by Enter, or else by a button."""
        if self.scripts:
            return
        if by:  # Enter on a choice may open its list
            self.to(by)
        self.enter()


@pytest.mark.parametrize(("window", "units", "scripts"), depth.several(WALKED, ALL))
def test_a_whole_job(browser, address, own_file, window, units, scripts):
    width, height = WINDOWS[window]
    said = SAID[units]
    with quiet_page(
        browser, viewport={"width": width, "height": height}, locale=said["language"], java_script_enabled=scripts,
        permissions=["clipboard-read", "clipboard-write"], reduced_motion="reduce",
    ) as page:  # fmt: skip
        keys = Keys(page, scripts)
        find_a_part(page, address, keys, said)
        mend_what_is_refused(page, keys, said)
        mend_what_is_found(page, keys, said)
        if scripts:
            keep_it(page, keys, said, units)
        take_the_file(page, keys)
        true_the_table(page, keys, said)


def find_a_part(page, address, keys, said):
    """The question of the first visit, and a search with sizes."""
    page.goto(address)
    keys.to('[name="units"]')
    keys.to("#ask-process")
    page.keyboard.type("Fine")
    keys.put("#ask-bed", said["bed"][0])
    keys.to(".asking .first")
    keys.enter()
    keys.put("#q", said["sought"])
    keys.done()
    first = page.locator("#list .family a").first
    expect(first).to_contain_text("Triangular gusset")
    keys.to("#list .family a")
    keys.enter()
    expect(page.locator("#thickness")).to_have_value(said["thickness"])
    expect(page.locator("#process")).to_have_value("fine-plasma")
    expect(page.locator("#bed_x")).to_have_value(said["bed"][1])


def mend_what_is_refused(page, keys, said):
    """A value too large is told of at its field, in sight of whoever types; a way on is taken."""
    keys.skip_to("table")
    keys.put("#leg_a", said["leg"])
    keys.done()
    expect(page.locator("#facts")).to_contain_text(said["size"])
    if not keys.scripts:
        keys.skip_to("table")
    keys.put("#toe", said["toe"])
    keys.done()
    row = page.locator('.row[data-parameter="toe"]')
    expect(row.locator(".message")).to_have_text(f"must be at most {said['most']}.")
    way = row.locator(".ways a").first
    expect(way).to_be_visible()
    if keys.scripts:
        assert page.evaluate(FOCUSED)["wholly"]
        expect(row.locator(".message")).to_be_in_viewport(ratio=1)
    keys.to(".row .ways a")
    if keys.scripts:
        keys.press("Enter")
        expect(page.locator("#toe")).to_be_focused()
    else:
        keys.enter()
    expect(page.locator("#refusal")).to_have_text("")
    expect(page.locator("#toe")).not_to_have_value(said["toe"])


def mend_what_is_found(page, keys, said):
    """A hole too small for its plate: the remedy is asked for and taken."""
    if not keys.scripts:
        keys.skip_to("table")
    keys.put("#holes_a", "1")
    keys.done()
    expect(page.locator("#bolt")).to_be_visible()
    if not keys.scripts:
        keys.skip_to("table")
    keys.put("#bolt", said["bolt"])
    keys.put("#thickness", said["thicker"])
    keys.put("#small_holes", "cut")
    keys.done(".send button")
    expect(page.locator("#findings li.stop")).to_have_count(1)
    if keys.scripts:
        assert page.evaluate(FOCUSED)["wholly"]
        expect(page.locator("#findings .remedy")).to_be_visible()
    keys.skip_to("findings-heading")
    if not keys.scripts:
        keys.to("#findings .ask")
        keys.enter()
        keys.skip_to("findings-heading")
    keys.to("#findings .remedy")
    if keys.scripts:
        keys.press("Enter")
        expect(page.locator("#findings-heading")).to_be_focused()
    else:
        keys.enter()
    expect(page.locator("#findings li.stop")).to_have_count(0)


def keep_it(page, keys, said, units):
    """Saved under a name, and its link copied."""
    keys.to("#acts summary")
    keys.press("Enter")
    keys.put("#save-name", "Bench foot")
    keys.press("Enter")
    expect(page.locator("#acts-said")).to_contain_text("as \u201cBench foot\u201d")
    keys.to('[data-act="link"]')
    keys.press("Space")
    expect(page.locator("#acts-said")).to_contain_text("copied")
    link = page.evaluate("navigator.clipboard.readText()")
    assert {f"leg_a={said['leg']}", f"units={units}", "small_holes=drill"} <= set(link.split("?")[1].split("&"))


def take_the_file(page, keys):
    """The cautions open by themselves at the first download, where there are scripts."""
    keys.skip_to("files")
    keys.to("#files a.first")
    with page.expect_download() as download:
        keys.press("Enter")
    assert re.fullmatch(r"gusset-triangle_.*\.dxf", download.value.suggested_filename)
    if keys.scripts:
        expect(page.locator("#cautions details:not([open])")).to_have_count(0)
        assert page.locator("#cautions details[open]").count() > 2


def true_the_table(page, keys, said):
    """The readings of the square, down their column where the arrows go; the corrections are the table's errors."""
    keys.to('a[href="/true"]', "Shift+Tab")
    keys.enter()
    side = said["square"]
    corner = put(TABLE, 0, 0)
    ends = [(side, 0), (0, side)]
    lengths = [sum((a - b) ** 2 for a, b in zip(put(TABLE, *end), corner, strict=True)) ** 0.5 for end in ends]
    (x, y), (u, v) = (put(TABLE, *end) for end in ends)
    lengths.append(((x - u) ** 2 + (y - v) ** 2) ** 0.5)
    keys.to('[name="measured.0"]')
    for i, length in enumerate(lengths):
        if i and keys.scripts:
            keys.press("ArrowDown")
        elif i:
            keys.to(f'[name="measured.{i}"]')
        expect(page.locator(f'[name="measured.{i}"]')).to_be_focused()
        page.keyboard.type(f"{length:.4f}")
    if keys.scripts:
        page.reload()
        expect(page.locator('[name="measured.2"]')).to_have_value(f"{lengths[2]:.4f}")
        keys.to('[name="measured.2"]')
    keys.enter()
    errors, each = page.locator(".errors"), 2.0 if said is SAID["mm"] else 0.192
    expect(errors).to_contain_text(f"+{each:.3f} mm in a metre" if each == 2.0 else f"+{each:.4f} in in 8 ft")
    expect(page.locator(".changes li").first).to_be_visible()
