"""Lettered parts in a browser: a font of one's own that stays there, bridges moved by mouse and keys."""

from parts.data import FOLDER

FONT = FOLDER / "fonts/oswald/oswald-latin-600-normal.woff"
TIE = ".pw-tie[data-tie='1.1.top']"


def until(page, seen, why):
    for _ in range(300):
        if page.evaluate(seen):
            return
        page.wait_for_timeout(100)
    raise AssertionError(why)


def middle(page):
    return page.evaluate(
        f"""(() => {{ const box = document.querySelector("{TIE} .pw-tie-line").getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2]; }})()"""
    )


def test_a_font_of_ones_own_and_bridges_moved_by_hand(browser, address):
    context = browser.new_context(viewport={"width": 1440, "height": 900}, accept_downloads=True)
    page = context.new_page()
    wrong = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(f"{address}/parts/sign-plate?text=R&process=waterjet&thickness=2")
    page.wait_for_selector(f"{TIE}[tabindex]", state="attached")

    looked_at, (x, y) = page.get_attribute("#drawing svg", "viewBox"), middle(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 5, y)
    page.mouse.move(x + 12, y)
    page.mouse.up()
    until(page, "location.search.includes('bridges=1.1.top')", "the address keeps where the bridge was dragged")
    until(page, f'Math.abs(Number(document.querySelector("{TIE}").dataset.offset)) > 0.05', "the drawing follows")
    assert abs(middle(page)[0] - x - 12) < 1.5
    assert page.get_attribute("#drawing svg", "viewBox") == looked_at, "the drawing itself stays"
    before = page.url
    page.focus(TIE)
    page.keyboard.press("ArrowLeft")
    until(page, f"location.href !== {before!r}", "an arrow key moves it too")
    until(page, "document.activeElement.dataset.tie === '1.1.top'", "it keeps the focus")
    page.click(".put-back")
    until(page, "!location.search.includes('bridges')", "they are put back")
    assert not page.is_visible(".put-back")

    page.set_input_files("#font_file", FONT)
    until(page, "location.search.includes('font=own-')", "the address names the font")
    until(page, "document.querySelector('#note-font').textContent.includes('Oswald SemiBold')", "the page says whose")
    page.reload()
    until(page, "document.querySelectorAll('#files a').length > 3", "it stays in this browser")
    with page.expect_download() as given:
        page.click("#files a >> nth=0")
    assert given.value.suggested_filename.startswith("sign-plate_")
    page.set_input_files("#font_file", __file__)
    until(page, "document.querySelector('#note-font_file').textContent.includes('is no font')", "what is none is told")
    other = browser.new_context().new_page()
    other.goto(page.url)
    assert "its file isn't here: choose it again" in other.text_content("#refusal")
    assert "No file until" in other.text_content("#files")
    other.context.close()
    context.close()
    assert wrong == []
