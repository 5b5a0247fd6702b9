"""The form in a real browser: change a dimension, see it, take a remedy, download, read the file back."""

import io
import re
import shutil
import threading

import ezdxf
import pytest
from playwright.sync_api import expect, sync_playwright
from werkzeug.serving import make_server

from webapp import create_app

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "chrome"))), None)


@pytest.fixture(scope="module")
def address():
    server = make_server("127.0.0.1", 0, create_app(), threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as browsers:
        started = browsers.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield started
        started.close()


@pytest.fixture
def page(browser):
    """A page whose console must stay free of errors, a refused address apart."""
    opened = browser.new_page(viewport={"width": 1280, "height": 900})
    said = []
    opened.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
    yield opened
    opened.close()
    assert [text for text in said if "422" not in text] == []


def test_the_drawing_follows_and_the_file_is_the_one_asked_for(page, address):
    page.goto(f"{address}/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6")
    page.fill("#leg_a", "8 in")
    expect(page.locator("main")).to_contain_text("203.2 mm \u00d7 150 mm")
    assert "leg_a=8%20in" in page.url
    finding = page.locator(".findings li.stop")
    expect(finding).to_contain_text("6.6 mm in 6 mm plate")
    page.locator(".findings .remedy").click()
    expect(page.locator(".findings")).to_contain_text("Checked and in order")
    with page.expect_download() as download:
        page.click(".files a.first")
    drawing = ezdxf.read(io.StringIO(download.value.path().read_text(encoding="utf-8")))
    outside = drawing.modelspace().query('LWPOLYLINE[layer=="OUTSIDE"]')[0]
    assert max(x for x, y in outside.get_points("xy")) == pytest.approx(203.2, abs=1e-9)
    assert len(drawing.modelspace().query('POINT[layer=="DRILL"]')) == 1


def test_a_wrong_value_is_named_at_its_field_and_kept(page, address):
    page.goto(f"{address}/parts/gusset-triangle")
    page.fill("#toe", "4,5")
    expect(page.locator('.row[data-parameter="toe"] .message')).to_be_visible()
    assert page.input_value("#toe") == "4,5"


def test_phone_width_has_nothing_beyond_its_edge(page, address):
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{address}/parts/plate-bumper")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_touching_a_field_lights_its_dimension(page, address):
    page.goto(f"{address}/parts/bracket-flat-l")
    page.focus("#leg_a")
    expect(page.locator('#drawing [data-parameter="leg_a"]')).to_have_class(re.compile(r"\blit\b"))


def test_without_scripts_the_form_is_sent_and_the_remedy_is_a_link(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6")
    page.fill("#leg_a", "8 in")
    page.get_by_role("button", name="Draw it").click()
    expect(page.locator("main")).to_contain_text("203.2 mm \u00d7 150 mm")
    page.get_by_role("link", name="What would mend it?").click()
    page.locator(".remedy").click()
    expect(page.locator(".findings")).to_contain_text("Checked and in order")
    page.locator(".row.changed .undo").click()
    expect(page.locator(".findings li.stop")).to_contain_text("6.6 mm in 6 mm plate")
    context.close()


def test_a_remedy_is_taken_and_put_back(page, address):
    page.goto(f"{address}/parts/plate-bumper?lamp_spacing=1100&thickness=8&plate_holes=off&small_holes=drill")
    page.fill("#lamp_up", "198")
    remedy = page.get_by_role("link", name="Lamp centres up: 198 → 197 mm")
    expect(page.locator(".findings li.stop")).to_have_count(2)
    remedy.click()
    row = page.locator('.row[data-parameter="lamp_up"]')
    expect(row).to_have_class(re.compile(r"\bchanged\b"))
    expect(row).to_contain_text("was 198 mm")
    expect(row).to_be_in_viewport()
    assert page.input_value("#lamp_up") == "197"
    expect(page.locator(".findings li.stop")).to_have_count(0)
    page.fill("#height", "255")
    expect(page.locator("main")).to_contain_text("1800 mm \u00d7 255 mm")
    expect(row).to_contain_text("was 198 mm")
    row.get_by_role("link").click()
    expect(row).not_to_have_class(re.compile(r"\bchanged\b"))
    assert page.input_value("#lamp_up") == "198"
    assert "was=" not in page.url


def test_a_flag_opens_the_fold_its_finding_is_in(page, address):
    page.goto(f"{address}/parts/silhouette-leaf?process=oxy-fuel&small_holes=drill")
    expect(page.locator('li[data-finding="9"]')).not_to_be_visible()
    page.locator('#drawing [data-finding="9"] text').click()
    expect(page.locator('li[data-finding="9"]')).to_be_visible()
