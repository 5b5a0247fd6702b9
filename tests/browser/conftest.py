"""The page served on a free port, and a browser to look at it with."""

import shutil
import threading

import pytest
from playwright.sync_api import sync_playwright
from werkzeug.serving import make_server

from webapp import create_app

pytest.register_assert_rewrite("tests.browser.access", "tests.browser.paper", "tests.browser.quiet")
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "chrome"))), None)


@pytest.fixture(scope="module")
def address():
    server = make_server("127.0.0.1", 0, create_app({"SEND_FILE_MAX_AGE_DEFAULT": 600}), threaded=True)
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
