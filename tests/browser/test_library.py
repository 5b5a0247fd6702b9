"""The parts list and a part's presets, groups and dimensions in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.states import WINDOWED
from tests.depth import one_in

NAMES = "all => [...new Set(all.map(group => group.dataset.parameter))]"
LIT = re.compile(r"\blit\b")


def star(page, title, where="#list"):
    return page.locator(where).get_by_role("button", name=f"Favourite: {title}", exact=True)


def test_favourites_are_kept_by_keyboard_and_stand_on_top(page, address):
    page.goto(address)
    top = page.locator("#favourites")
    expect(top).to_be_hidden()
    star(page, "Leaf").focus()
    page.keyboard.press("Space")
    expect(star(page, "Leaf")).to_have_attribute("aria-pressed", "true")
    expect(star(page, "Leaf")).to_be_focused()
    star(page, "Triangular gusset").click()
    expect(top.locator(".name")).to_have_text(["Leaf", "Triangular gusset"])
    page.reload()
    expect(page.get_by_role("region", name="Favourites").locator(".name")).to_have_text(["Leaf", "Triangular gusset"])
    star(page, "Leaf", "#favourites").focus()
    page.keyboard.press("Enter")
    expect(top.locator(".name")).to_have_text(["Triangular gusset"])
    expect(star(page, "Triangular gusset", "#favourites")).to_be_focused()
    page.keyboard.press("Enter")
    expect(top).to_be_hidden()
    expect(star(page, "Triangular gusset")).to_be_focused()


def test_a_favourite_is_starred_on_its_page_and_found_by_a_search(page, address):
    page.goto(f"{address}/parts/plate-base")
    page.get_by_role("button", name="Favourite: Base plate").click()
    page.goto(address)
    top = page.locator("#favourites .name")
    expect(top).to_have_text(["Base plate"])
    page.fill("#q", "botanical")
    expect(page.locator("#list .name").first).to_have_text("Leaf")
    expect(top).to_have_count(0)
    expect(star(page, "Leaf")).to_be_visible()
    page.fill("#q", "")
    expect(top).to_have_text(["Base plate"])


def test_what_another_hand_left_in_the_storage_harms_nothing(page, address):
    page.goto(address)
    for kept in ("{", "7", '{"a": 1}', '[1, null, "no-such-part", "silhouette-leaf"]'):
        page.evaluate("kept => localStorage.setItem('platewright.favourites', kept)", kept)
        page.reload()
        expect(page.locator("#favourites .name")).to_have_text(["Leaf"] if "leaf" in kept else [])
    star(page, "Base plate").click()
    expect(page.locator("#favourites .name").last).to_have_text("Base plate")


def test_a_jump_brings_the_family_under_the_jumps(page, address):
    page.set_viewport_size({"width": 1280, "height": 400})
    page.goto(address)
    page.get_by_role("navigation", name="Families").get_by_role("link", name="Plates").click()
    heading = page.locator("#family-plate")
    expect(heading).to_be_in_viewport()
    bar = page.locator(".jump").bounding_box()
    assert heading.bounding_box()["y"] >= bar["y"] + bar["height"] - 1


@pytest.mark.parametrize("where", ["/", "/parts/plate-bumper"])
def test_a_phone_has_nothing_beyond_its_edge_and_room_for_a_finger(page, address, where):
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{address}{where}")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.evaluate("for (const fold of document.querySelectorAll('#more-presets')) fold.open = true")
    targets = page.locator(".star, .presets a, .jump a, .group > summary")
    heights = targets.evaluate_all("all => all.map((one) => one.getBoundingClientRect().height)")
    assert heights
    assert min(heights) >= 44


def test_a_preset_is_one_tap_and_keeps_the_working_units(page, address):
    page.goto(f"{address}/parts/gusset-triangle")
    page.select_option("#units", "in")
    preset = page.locator("#presets a").first
    expect(preset).to_have_attribute("href", re.compile("units=in"))
    preset.click()
    expect(page.locator('#presets a[aria-current="true"]')).to_have_count(1)
    assert page.input_value("#units") == "in"
    page.fill("#leg_a", "5")
    expect(page.locator('#presets a[aria-current="true"]')).to_have_count(0)
    page.go_back()
    expect(page.locator("#dimensions")).to_be_visible()


@pytest.mark.parametrize(
    ("slug", "query"),
    [("bracket-bent-angle", ""), ("silhouette-leaf", ""), ("plate-base", "?middle=60&bolt=by-diameter")],
)
def test_a_field_lights_its_dimension_and_the_dimension_its_field(page, address, slug, query):
    page.goto(f"{address}/parts/{slug}{query}")
    page.wait_for_function(WINDOWED)
    shown = page.locator("#drawing g[data-parameter]").evaluate_all(
        "all => [...new Set(all.map(g => g.dataset.parameter))]"
    )
    assert len(shown) >= 4
    for name in one_in(2, shown):
        drawn = page.locator(f'#drawing [data-parameter="{name}"]')
        page.focus(f"#{name}")
        expect(drawn.first).to_have_class(LIT)
        expect(drawn.first).to_be_visible()
        assert page.locator("#drawing g.lit").evaluate_all(
            "all => [...new Set(all.map(g => g.dataset.parameter))]"
        ) == [name]
        page.locator("h1").click()
        page.mouse.move(0, 0)  # the table scrolls: what comes to lie under the pointer would be lit
        if not drawn.first.is_visible():
            continue  # shown only while its field is in use
        drawn.first.locator("text").first.click()
        expect(page.locator(f"#{name}")).to_be_focused()
        expect(page.locator(f'.row[data-parameter="{name}"]')).to_have_class(LIT)


def test_a_folded_group_stays_so_until_something_in_it_is_wanted(page, address):
    page.goto(f"{address}/parts/plate-base")
    group = page.locator("details.group", has=page.locator("#inset_x"))
    group.locator("summary").click()
    expect(page.locator("#inset_x")).to_be_hidden()
    page.fill("#width", "240")
    expect(page.locator("main")).to_contain_text("240 by")
    page.select_option("#units", "in")
    expect(page.locator("main")).to_contain_text("9.449 by")
    expect(page.locator("#inset_x")).to_be_hidden()
    page.locator('#drawing [data-parameter="inset_x"] text').first.click()
    expect(page.locator("#inset_x")).to_be_focused()
    group.locator("summary").click()
    page.fill("#width", "1.6")  # no room for the insets
    expect(page.locator('.row[data-parameter="inset_x"] .message')).to_be_visible()
