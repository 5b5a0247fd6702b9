"""From the last key to the new drawing, in Chromium, on every template, as a person types.

    python -m tests.bench.typing SLUG ...
    python -m tests.bench.typing --all

The server runs as a person starts it, in a process of its own. In each template one length after another is typed over,
a key each PAUSE_MS, by a value that can be drawn. Counted is from the key's own time to the frame after the new drawing
is in the page; what is found of a rich part comes after it. Printed are median and 95th percentile in ms by template,
the slowest first, then of all, and which are over MEDIAN_MS or P95_MS.
"""

import subprocess
import sys
import time
from contextlib import closing
from http.client import HTTPConnection
from statistics import median

from playwright.sync_api import sync_playwright

import parts
from parts.part import outlined
from parts.spec import Parameters
from parts.units import number_to_fill_in
from tests.browser.conftest import CHROMIUM

PORT = 8796
PAUSE_MS = 90
MEDIAN_MS, P95_MS = 80, 150
TYPED = 10
"""How many values are typed in each template."""
WATCH = """() => {
  window.took = [];
  let key = 0;
  document.addEventListener("keydown", (event) => { key = event.timeStamp; }, true);
  new MutationObserver(() => {
    const began = key;
    requestAnimationFrame(() => setTimeout(() => window.took.push([began, performance.now() - began])));
  }).observe(document.getElementById("drawing"), { childList: true });
}"""


def values(template):
    """Up to TYPED names and texts that can be drawn, each typed after the one before, and change the drawing."""
    specs = [
        spec for name, spec in template.parameters.specs().items()
        if spec.kind == "length" and name not in Parameters.model_fields and spec.default
    ]  # fmt: skip
    given, found, drawn = {}, [], outlined(template.slug).boundary
    for factor in (1.02, 0.97, 1.05, 0.94):
        for spec in specs:
            text = number_to_fill_in(round(spec.default * factor, 1), "mm")
            try:
                now = outlined(template.slug, **{**given, spec.name: text})
            except parts.Refused:
                continue
            if now.boundary != drawn:
                drawn, given = now.boundary, {**given, spec.name: text}
                found.append((spec.name, text))
            if len(found) == TYPED:
                return found
    return found


def typed(page, name, text):
    """Type a value over the one there, and return what the last key took, in ms; None where nothing was drawn anew."""
    page.evaluate("window.took.length = 0")
    page.focus(f"#{name}")
    page.keyboard.press("Control+a")
    page.keyboard.type(text, delay=PAUSE_MS)
    for _ in range(100):
        page.wait_for_timeout(30)
        took = page.evaluate("window.took")
        if took and not page.evaluate("document.getElementById('files').classList.contains('held')"):
            page.wait_for_timeout(400)  # what would mend it is asked for, and is no part of this
            began = page.evaluate("window.took.at(-1)[0]")  # a rich part is drawn at once, and again with its findings
            return next(ms for key, ms in page.evaluate("window.took") if key == began)
    return None


def measured(browser, template):
    """What the last keys took in one template, in ms."""
    page = browser.new_page(viewport={"width": 1440, "height": 900})
    page.goto(f"http://127.0.0.1:{PORT}/parts/{template.slug}")
    page.wait_for_load_state("networkidle")
    page.evaluate(WATCH)
    took = [typed(page, name, text) for name, text in values(template)]
    page.close()
    return [each for each in took if each is not None]


def p95(figures):
    """The 95th percentile, by the nearest rank."""
    return sorted(figures)[min(len(figures) - 1, int(0.95 * len(figures)))]


def is_over(figures):
    """Whether a template takes longer than it may."""
    return bool(figures) and (median(figures) > MEDIAN_MS or p95(figures) > P95_MS)


def wait_for_server():
    """Return once the server answers."""
    for _ in range(100):
        with closing(HTTPConnection("127.0.0.1", PORT)) as connection:
            try:
                connection.request("GET", "/healthz")
                return
            except OSError:
                time.sleep(0.1)


def main(slugs):
    """Measure these templates, or with `--all` every one, and print what they took."""
    chosen = [template for slug, template in parts.templates().items() if slugs == ["--all"] or slug in slugs]
    if not chosen:
        sys.exit(__doc__)
    command = [sys.executable, "-m", "webapp", "serve", "--no-browser", "--port", str(PORT)]
    with subprocess.Popen(command) as server:
        try:
            wait_for_server()
            with sync_playwright() as browsers:
                browser = browsers.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
                took = {template.slug: measured(browser, template) for template in chosen}
                browser.close()
        finally:
            server.terminate()
    for slug, figures in sorted(took.items(), key=lambda row: -median(row[1] or [0])):
        if figures:
            print(f"{slug:<28} median {median(figures):6.1f}  p95 {p95(figures):6.1f}  of {len(figures)}")  # noqa: T201
    every = [figure for figures in took.values() for figure in figures]
    print(f"{'all':<28} median {median(every):6.1f}  p95 {p95(every):6.1f}  of {len(every)}")  # noqa: T201
    over = sorted(slug for slug, figures in took.items() if is_over(figures))
    print(f"over {MEDIAN_MS} or {P95_MS} ms: {len(over)} of {len(took)}: {' '.join(over)}")  # noqa: T201


if __name__ == "__main__":
    main(sys.argv[1:])
