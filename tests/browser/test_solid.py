"""The part in space on its page: folded by the slider, turned by keys; where that can't be shown, a still picture."""

import re

import pytest
from playwright.sync_api import expect

PAN = "/parts/box-pan"
NO_WEBGL = "HTMLCanvasElement.prototype.getContext = () => null"


def sizes(page):
    """Of the part as it stands, mm."""
    canvas = page.locator("#solid-view[data-size]")
    canvas.wait_for(state="attached")
    return sorted(float(v) for v in canvas.get_attribute("data-size").split())


def test_a_pan_is_folded_bend_by_bend_and_turned_by_keys(page, address):
    page.emulate_media(reduced_motion="reduce")
    page.goto(f"{address}{PAN}")
    page.locator("label[for=show-solid]").click()
    assert sizes(page) == pytest.approx([50, 200, 300], abs=2e-3)
    expect(page.locator("#drawing")).not_to_be_visible()
    page.locator("#solid-next").click()
    expect(page.locator("#solid-step")).to_have_text("Flat")
    assert sizes(page) == pytest.approx([1.5, 294.272, 394.272], abs=2e-3)
    page.locator("#solid-next").click()
    expect(page.locator("#solid-step")).to_have_text("Step 1 of 4: bend 1, up 90°")
    assert sorted(page.locator("#solid-labels span").all_inner_texts()) == ["1", "2", "3", "4"]
    before = page.locator("#solid-labels span").first.get_attribute("style")
    page.locator("#solid-view").press("ArrowLeft")
    expect(page.locator("#solid-labels span").first).not_to_have_attribute("style", before)
    page.locator("#solid-view").press("0")
    expect(page.locator("#solid-labels span").first).to_have_attribute("style", before)


def test_without_webgl_or_scripts_there_is_a_still_picture(page, plain, address):
    page.goto(f"{address}{PAN}")
    page.evaluate(NO_WEBGL)
    page.locator("label[for=show-solid]").click()
    expect(page.locator("#solid-still")).to_be_visible()
    expect(page.locator("#solid-still")).to_have_attribute("alt", re.compile("^Folded pan, 1.5 mm thick"))
    plain.goto(f"{address}{PAN}")
    plain.locator("label[for=show-solid]").click()
    expect(plain.locator("#solid-at img")).to_be_visible()
