"""Nothing typed is lost: steps back and forward, a reload, a refusal and the ways on from it, a server away."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.quiet import renewed


@pytest.fixture
def page(tabs, address):
    """A page of which only its scripts' own faults are heard: a server away is told by the browser."""
    with renewed(tabs[True], address, allowed="422|ERR_FAILED") as opened:
        yield opened


def test_back_and_forward_walk_through_what_was_typed(page, address):
    page.goto(f"{address}/parts/gusset-triangle")
    page.fill("#leg_a", "1-1/2 in")
    expect(page.locator("#facts")).to_contain_text("38.1 by 100 mm")
    page.wait_for_url("**leg_a=1-1/2%20in**")  # written once the drawing is shown
    page.press("#leg_a", "Tab")
    page.fill("#leg_b", "8")
    page.locator("#leg_b").press_sequentially("0")  # one step: the field isn't left, nor does it rest
    expect(page.locator("#facts")).to_contain_text("38.1 by 80 mm")
    page.press("#leg_b", "Tab")
    page.fill("#toe", "400")
    expect(page.locator("#refusal")).to_contain_text("must be at most 200 mm")
    walked = [
        (page.go_back, ("1-1/2 in", "80", "12"), "38.1 by 80 mm"),
        (page.go_back, ("1-1/2 in", "100", "12"), "38.1 by 100 mm"),
        (page.go_back, ("100", "100", "12"), "100 by 100 mm"),
        (page.go_forward, ("1-1/2 in", "100", "12"), "38.1 by 100 mm"),
        (page.go_forward, ("1-1/2 in", "80", "12"), "38.1 by 80 mm"),
        (page.go_forward, ("1-1/2 in", "80", "400"), "38.1 by 80 mm"),
    ]
    for step, (leg_a, leg_b, toe), size in walked:
        step()
        expect(page.locator("#leg_a")).to_have_value(leg_a)
        expect(page.locator("#leg_b")).to_have_value(leg_b)
        expect(page.locator("#toe")).to_have_value(toe)
        expect(page.locator("#facts")).to_contain_text(size)
    page.wait_for_url("**toe=400**")  # the browser itself knows then where it is
    page.reload()
    expect(page.locator("#toe")).to_have_value("400")


def test_a_refusal_leads_on_and_back(page, address):
    page.goto(f"{address}/parts/gusset-triangle?leg_b=150")
    page.fill("#toe", "129.4")
    expect(page.locator("#drawing")).to_have_class(re.compile(r"\bheld\b"))
    expect(page.locator("#refusal")).to_contain_text("The drawing shows the last that could be drawn.")
    expect(page.locator("#facts")).to_contain_text("100 by 150 mm")
    row = page.locator('.row[data-parameter="toe"]')
    way = row.locator(".ways").get_by_role("link", name="Blunt end of each leg: 84 mm")
    expect(row).to_have_class(re.compile(r"^row wrong( lit)? ?$"))
    way.click()
    expect(page.locator("#toe")).to_have_value("84 mm")
    expect(page.locator("#refusal")).to_be_empty()
    page.go_back()
    expect(page.locator("#toe")).to_have_value("129.4")
    held = []
    page.route(re.compile("typed_in.*toe=84"), lambda route: held.append(route))
    way.press("Enter")  # and held down: the next of it is the field's, which has the focus now
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_have_class("late")
    while held:
        held.pop().continue_()
    page.unroute_all()
    expect(page.locator("#refusal")).to_be_empty()
    expect(page.locator("#facts")).to_contain_text("100 by 150 mm")
    page.wait_for_url("**toe=84%20mm*")


def test_what_is_typed_while_the_server_is_away_is_kept_and_asked_for_again(page, address):
    page.goto(f"{address}/parts/gusset-triangle")
    away = re.compile(r"/parts/gusset-triangle\?typed_in")
    held = []
    page.route(away, lambda route: held.append(route))
    page.fill("#leg_a", "5 in")
    expect(page.locator("#main")).to_have_class("late")  # the drawing is marked as not yet that
    expect(page.locator("#told")).to_contain_text("Still being drawn")
    held.pop().continue_()
    expect(page.locator("#facts")).to_contain_text("127 by 100 mm")
    expect(page.locator("#main")).not_to_have_class("late")
    page.unroute(away)
    page.route(away, lambda route: route.abort())
    page.fill("#leg_a", "6 in")
    expect(page.locator("#away")).to_be_visible()
    expect(page.locator("#away")).to_contain_text("What you typed is kept")
    page.reload()
    expect(page.locator("#leg_a")).to_have_value("6 in")
    page.unroute(away)
    expect(page.locator("#facts")).to_contain_text("152.4 by 100 mm")
    expect(page.locator("#away")).to_be_hidden()
    page.wait_for_url("**leg_a=6%20in**")


def test_a_row_of_readings_and_its_letter_on_the_piece_light_up_together(page, address):
    page.goto(f"{address}/true")
    lit = page.locator("#measured .lit")
    page.focus('[name="measured.2"]')
    expect(lit).to_have_attribute("data-parameter", "C")
    page.locator('#measured [data-parameter="A"] text').click()
    expect(page.locator('[name="measured.0"]')).to_be_focused()
    expect(lit).to_have_attribute("data-parameter", "A")
    page.goto(f"{address}/true/bend")
    page.focus('[name="flat.1"]')
    expect(lit).to_have_attribute("data-parameter", "F2")


def test_what_takes_long_to_draw_is_sketched_first_and_a_sketch_that_is_refused_goes(page, address):
    page.goto(f"{address}/parts/outline-symbol?symbol=campfire")
    drawing, facts, said = page.locator("#drawing"), page.locator("#facts"), page.locator("#verdict")
    described = page.locator("#drawing desc")
    held = []

    def hold_the_true_one(route):
        if route.request.headers["platewright-live"] == "following":
            held.append(route)
        else:
            route.continue_()

    page.route(re.compile("typed_in"), hold_the_true_one)
    page.fill("#overall_width", "250")
    expect(drawing).to_have_class("drawing sketched")
    expect(said).to_contain_text("Being drawn")
    expect(facts).to_have_class("facts held")
    expect(page.locator("#files")).to_have_class("files held")
    expect(described).to_have_text("Symbol: being drawn.")
    expect(page.locator("#told")).to_contain_text("Still being drawn")
    box = drawing.locator("svg").get_attribute("data-scale")
    expect(page.locator("#main")).to_have_class("late")
    held.pop().continue_()
    expect(drawing).to_have_class("drawing")
    expect(facts).to_contain_text("250 by")
    expect(said).not_to_contain_text("Being drawn")
    assert abs(float(drawing.locator("svg").get_attribute("data-scale")) / float(box) - 1) < 0.01
    expect(page.locator("#main")).not_to_have_class("late")
    drawn = described.text_content()
    page.fill("#overall_height", "60")  # only drawing it tells that it doesn't go with the width
    expect(drawing).to_have_class("drawing sketched")
    while not held:
        page.wait_for_timeout(20)
    held.pop().continue_()
    expect(drawing).to_have_class("drawing held")
    expect(page.locator("#refusal")).to_contain_text("doesn't go with the width")
    expect(page.locator("#refusal")).to_contain_text("The drawing shows the last that could be drawn.")
    assert described.text_content() == drawn
    page.unroute_all()
    page.locator('.row[data-parameter="overall_height"] .ways a').first.click()
    expect(page.locator("#refusal")).to_be_empty()
    expect(drawing).to_have_class("drawing")
