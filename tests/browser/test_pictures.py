"""The picture of the page in the documents can be made anew, beside a copy of the script."""

import runpy
import shutil
import sys
from contextlib import contextmanager
from types import SimpleNamespace

from tests.documents import ROOT

PNG = b"\x89PNG\r\n"


def test_the_picture_of_the_page_is_made(browser, tmp_path, monkeypatch):
    before = browser.contexts
    lent = SimpleNamespace(new_page=browser.new_page, close=lambda: browser.contexts[len(before)].close())

    @contextmanager
    def lending():
        """Stands for the start of a browser, which is here already."""
        yield SimpleNamespace(chromium=SimpleNamespace(launch=lambda **_: lent))

    monkeypatch.setattr(sys, "path", [*sys.path])
    monkeypatch.setattr("playwright.sync_api.sync_playwright", lending)
    (tmp_path / "docs").mkdir()
    script = shutil.copy(ROOT / "docs" / "pictures.py", tmp_path / "docs")
    runpy.run_path(script, run_name="__main__")
    made = (tmp_path / "docs" / "page.png").read_bytes()
    assert made.startswith(PNG)
    assert made[16:24] == (ROOT / "docs" / "page.png").read_bytes()[16:24], "as wide and high as it is shown"
