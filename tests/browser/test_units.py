"""A first visit of an inch shop, with scripts and without: asked once, and every page speaks it from then on."""

import re

import pytest
from playwright.sync_api import expect

from tests import depth
from tests.browser.quiet import quiet_page

SWITCH = {"in": "Inches", "mm": "Millimetres"}


def speaks(page, units):
    expect(page.locator(f'.units-of button[title="{SWITCH[units]}"]')).to_have_attribute("aria-pressed", "true")


def switch(page, units):
    page.locator(f'.units-of button[title="{SWITCH[units]}"]').click()
    speaks(page, units)


def answer(page):
    """What the shop works with: inches, which the browser's language suggests, and a process and a bed of its own."""
    expect(page.get_by_label("inches")).to_be_checked()
    page.get_by_label("Process").select_option("fine-plasma")
    page.get_by_label("Bed, travel in X").fill("60")
    page.get_by_role("button", name="Work with these").click()
    expect(page.get_by_text("What do you work with?")).to_have_count(0)


def assert_enter_leaves_the_units(page):
    """It presses the first button of a form, which is none of the units."""
    page.locator("#leg_a").fill("5")
    page.locator("#leg_a").press("Enter")
    expect(page.locator("#facts")).to_contain_text("5 by 4 in")
    page.wait_for_load_state("networkidle")
    speaks(page, "in")
    page.locator("#leg_a").fill("4")


@pytest.mark.parametrize("scripts", depth.several([True], [True, False]))
def test_a_first_visit_in_inches(browser, address, scripts):
    with quiet_page(
        browser, locale="en-US", java_script_enabled=scripts, viewport={"width": 1440, "height": 900}
    ) as page:
        visit(page, address)


def visit(page, address):
    page.goto(address)
    answer(page)
    speaks(page, "in")

    page.get_by_role("link", name="Triangular gusset").first.click()
    speaks(page, "in")
    expect(page.locator("#leg_a")).to_have_value("4")
    expect(page.locator("#bed_x")).to_have_value("60 in")
    expect(page.locator("#process")).to_have_value("fine-plasma")
    expect(page.locator("#facts")).to_contain_text("4 by 4 in")
    expect(page.locator("#note-leg_a")).to_contain_text("1 in to 59 in")
    assert not re.search(r"\b3\.937\b|\b0\.394\b", page.locator("main").inner_text())
    assert "units=in" in page.locator("#files a").first.get_attribute("href")

    assert_enter_leaves_the_units(page)
    page.locator("#toe").fill("10 mm")
    page.locator("#leg_b").fill("6")
    switch(page, "mm")
    expect(page.locator("#toe")).to_have_value(re.compile("10( mm)?$"))
    expect(page.locator("#leg_b")).to_have_value("6 in")
    expect(page.locator("#leg_a")).to_have_value("4 in")
    expect(page.locator("#facts")).to_contain_text("101.6 by 152.4 mm")
    page.reload()
    expect(page.locator("#leg_b")).to_have_value("6 in")
    page.goto(f"{address}/parts/gusset-triangle")
    expect(page.locator("#leg_a")).to_have_value("100")
    switch(page, "in")
    expect(page.locator("#leg_a")).to_have_value("100 mm")
    page.get_by_role("link", name="Back to the defaults").click()
    expect(page.locator("#leg_a")).to_have_value("4")

    page.goto(f"{address}/check")
    expect(page.locator("#thickness")).to_have_value("1/4 in")
    page.goto(f"{address}/true")
    expect(page.locator('[name="nominal.0"]')).to_have_value("12")
    page.locator('[name="measured.0"]').fill("12.004")
    switch(page, "mm")
    expect(page.locator('[name="measured.0"]')).to_have_value("12.004 in")
    switch(page, "in")
    page.goto(f"{address}/shop")
    speaks(page, "in")
    expect(page.locator('[id="bed.x_mm"]')).to_have_attribute("placeholder", "52")
    expect(page.get_by_label("inches")).to_be_checked()
    expect(page.get_by_label("Bed, travel in X")).to_have_value("60 in")
    page.goto(f"{address}/?q=gusset+5+x+7")
    page.locator('#list a[href*="gusset-triangle"]').first.click()
    expect(page.locator("#leg_b")).to_have_value("7")
