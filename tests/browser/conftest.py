"""The page served on a free port, a browser to look at it with, and a tab of it for each test, as if it were new.

Browser, server and tabs are shared by all tests: what a tab has fetched it needn't fetch again, which is more than half
of what a page of its own costs.
"""

import shutil

import pytest
from playwright.sync_api import expect, sync_playwright

from tests.web.served import here

pytest.register_assert_rewrite("tests.browser.access", "tests.browser.paper", "tests.browser.quiet")

from tests.browser.quiet import LONGEST_MS, renewed  # noqa: E402 - which says what differs

expect.set_options(timeout=LONGEST_MS)
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "chrome"))), None)

LIGHT = [
    "--no-sandbox",
    "--disable-gpu",
    "--process-per-site",
    "--disable-site-isolation-trials",
    "--enable-unsafe-swiftshader",
]
"""As root, on a machine without a screen or a graphics card, and all in few processes: every page is our own."""


@pytest.fixture(scope="session")
def address():
    with here(SEND_FILE_MAX_AGE_DEFAULT=600) as at:
        yield at


@pytest.fixture(scope="session")
def browser():
    with sync_playwright() as browsers:
        started = browsers.chromium.launch(executable_path=CHROMIUM, args=LIGHT)
        yield started
        started.close()


@pytest.fixture(scope="session")
def tabs(browser):
    """The tab with scripts and that without, by whether they run."""
    contexts = {scripts: browser.new_context(java_script_enabled=scripts) for scripts in (True, False)}
    for context in contexts.values():
        context.set_default_timeout(LONGEST_MS)
    yield {scripts: context.new_page() for scripts, context in contexts.items()}
    for context in contexts.values():
        context.close()


@pytest.fixture
def page(tabs, address):
    """A page that keeps nothing of what was shown before; its console must stay free of errors, refusals apart."""
    with renewed(tabs[True], address) as opened:
        yield opened


@pytest.fixture
def plain(tabs, address):
    """The same without scripts."""
    with renewed(tabs[False], address) as opened:
        yield opened
