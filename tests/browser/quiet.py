"""A page as if it were new, whose console stays quiet."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from typing import Any

from playwright.sync_api import Browser, ConsoleMessage, Error, Page

WINDOW = {"width": 1280, "height": 900}
LONGEST_MS = 120_000
"""Whatever is waited for comes, however busy the machine is."""
EMPTY = "() => { localStorage.clear(); sessionStorage.clear(); }"


@contextmanager
def renewed(page: Page, address: str, allowed: str = "403|422") -> Iterator[Page]:
    """Let a page keep nothing of what it showed before, and hear what it says: no error, refusals apart.

    `allowed` is a pattern of the statuses and other troubles that are wanted.
    """
    page.unroute_all()
    page.goto(f"{address}/healthz")  # it has no scripts that would keep something as it is left
    page.evaluate(EMPTY)
    page.context.clear_cookies()
    page.context.clear_permissions()
    page.emulate_media(media="null", color_scheme="light", forced_colors="none", reduced_motion="no-preference")
    page.set_viewport_size(WINDOW)
    page.mouse.move(0, 0)
    said: list[str] = []
    console = partial(_hear, said)
    fault = partial(_note, said)
    page.on("console", console)
    page.on("pageerror", fault)
    yield page
    page.remove_listener("console", console)
    page.remove_listener("pageerror", fault)
    assert [text for text in said if not re.search(allowed, text)] == []


def _hear(said: list[str], message: ConsoleMessage) -> None:
    if message.type == "error":
        said.append(message.text)


def _note(said: list[str], error: Error) -> None:
    said.append(str(error))


@contextmanager
def quiet_page(browser: Browser, **options: Any) -> Iterator[Page]:
    """Open a page of its own storage; its console must stay free of errors, that of a refusal apart.

    `options` are those of `Browser.new_context`.
    """
    context = browser.new_context(**options)
    context.set_default_timeout(LONGEST_MS)
    opened = context.new_page()
    said: list[str] = []
    opened.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
    yield opened
    context.close()
    assert [text for text in said if "422" not in text] == []
