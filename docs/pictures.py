"""Makes the picture of the page for the README: `.venv/bin/python docs/pictures.py`, with Chromium installed."""

import shutil
import sys
import threading
from pathlib import Path

from playwright.sync_api import sync_playwright
from werkzeug.serving import make_server

sys.path.insert(0, str(Path(__file__).parent.parent))

from webapp import create_app

HERE = Path(__file__).parent
PART = "/parts/gusset-triangle?leg_a=150mm&leg_b=120mm&first_hole=50mm&holes_a=2&bolt=M8&lightening=30mm"


def main() -> None:
    """Serve the page on a free port, and keep a screenshot of one part."""
    server = make_server("127.0.0.1", 0, create_app())
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with sync_playwright() as browsers:
        browser = browsers.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1280, "height": 860})
        page.goto(f"http://127.0.0.1:{server.server_port}{PART}", wait_until="networkidle")
        page.screenshot(path=HERE / "page.png")
        browser.close()
    server.shutdown()


if __name__ == "__main__":
    main()
