"""A page of its own whose console stays quiet."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import Browser, Page


@contextmanager
def quiet_page(browser: Browser, **options: Any) -> Iterator[Page]:
    """Open a page of its own storage; its console must stay free of errors, that of a refusal apart.

    `options` are those of `Browser.new_context`.
    """
    context = browser.new_context(**options)
    opened = context.new_page()
    said: list[str] = []
    opened.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
    yield opened
    context.close()
    assert [text for text in said if "422" not in text] == []
