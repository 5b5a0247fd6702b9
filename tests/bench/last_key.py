"""From the last key to the new drawing, in Chromium, on every template, as a person types.

    python -m tests.bench.last_key SLUG ...
    python -m tests.bench.last_key --all

The server runs as a person starts it, in a process of its own. In each template one length after another is typed over,
a key each PAUSE_MS, by a value that can be drawn. Counted is from the last key's own time to the frame after the new
drawing is in the page; what is found of a rich part comes after it. A line is printed as each template is done:

first        of the first value, whose drawing nothing was kept for, ms
median, p95  of all values, ms
page         processor time of the page's main thread, server that of the server, ms for each value, all keys together
asked        requests, laid out and styled how often the page was, for each value

The clock counts on a calm machine alone; the processor's time and the counts tell two trees apart on any. At the end
stand all together, and which are over MEDIAN_MS or P95_MS.
"""

import signal
import sys
from pathlib import Path
from statistics import mean, median

from playwright.sync_api import sync_playwright

import parts
from parts.part import outlined
from parts.spec import Parameters
from parts.units import number_to_fill_in
from tests.browser.conftest import CHROMIUM
from tests.web.served import served

PAUSE_MS = 90
MEDIAN_MS, P95_MS = 80, 150
TYPED, FEW = 8, 3
"""How many values are typed in each template, and where all of them are measured."""
WATCH = """() => {
  window.took = [];
  let key = 0;
  document.addEventListener("keydown", (event) => { key = event.timeStamp; }, true);
  new MutationObserver(() => {
    const began = key;
    requestAnimationFrame(() => setTimeout(() => window.took.push([began, performance.now() - began])));
  }).observe(document.getElementById("drawing"), { childList: true });
}"""


def values(template, most=TYPED):
    """Up to so many names and texts that can be drawn, each typed after the one before, and change the drawing."""
    as_it_comes = outlined(template.slug)
    specs = [
        (spec, spec.default or as_it_comes.box[3] * (name == "overall_height"))
        for name, spec in template.parameters.specs().items()
        if spec.kind == "length" and name not in Parameters.model_fields
    ]
    given, found, drawn = {}, [], as_it_comes.boundary
    for factor in (1.02, 0.97, 1.05, 0.94):
        for spec, mm in specs:
            if not mm:
                continue
            text = number_to_fill_in(round(mm * factor, 1), "mm")
            try:
                now = outlined(template.slug, **{**given, spec.name: text})
            except parts.Refused:
                continue
            if now.boundary != drawn:
                drawn, given = now.boundary, {**given, spec.name: text}
                found.append((spec.name, text))
            if len(found) == most:
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


COUNTED = {"TaskDuration": 1000, "LayoutCount": 1, "RecalcStyleCount": 1}
"""What Chromium counts of a page, and how many of ours are one of its."""


def spent(session, server):
    """Milliseconds of the page's main thread and of the server, and how often the page was laid out and styled."""
    told = {each["name"]: each["value"] for each in session.send("Performance.getMetrics")["metrics"]}
    threads = Path(f"/proc/{server.process.pid}/task").glob("*/schedstat")  # of Linux; elsewhere it stays 0
    page, layouts, styles = (told[name] * times for name, times in COUNTED.items())
    return page, sum(int(each.read_text().split()[0]) for each in threads) / 1e6, layouts, styles


def measured(browser, template, server, most):
    """What the last keys took in one template, in ms, and what each value cost."""
    with browser.new_context(viewport={"width": 1440, "height": 900}) as context:
        page, asked = context.new_page(), []
        page.goto(f"http://127.0.0.1:{server.port}/parts/{template.slug}")
        page.wait_for_load_state("networkidle")
        page.evaluate(WATCH)
        session = context.new_cdp_session(page)
        session.send("Performance.enable", {"timeDomain": "threadTicks"})
        page.on("request", lambda request: asked.append(request.url))
        before = spent(session, server)
        took = [typed(page, name, text) for name, text in values(template, most)]
        costs = [after - once for once, after in zip(before, spent(session, server), strict=True)]
    drawn = [each for each in took if each is not None]
    return drawn, [each / max(1, len(took)) for each in (*costs, len(asked))]


def p95(figures):
    """The 95th percentile, by the nearest rank."""
    return sorted(figures)[min(len(figures) - 1, int(0.95 * len(figures)))]


def is_over(figures):
    """Whether a template takes longer than it may."""
    return bool(figures) and (median(figures) > MEDIAN_MS or p95(figures) > P95_MS)


def said(slug, figures, costs):
    """A line of the table."""
    page, server, layouts, styles, asked = costs
    return (
        f"{slug:<24} first {figures[0]:6.1f}  median {median(figures):6.1f}  p95 {p95(figures):6.1f}  of {len(figures)}"
        f"  page {page:5.0f}  server {server:6.0f}  asked {asked:4.1f}  laid out {layouts:4.1f}  styled {styles:4.1f}"
    )


def tell(text):
    """Print a line at once."""
    print(text, flush=True)  # noqa: T201


def main(slugs):
    """Measure these templates, or with `--all` every one, and print what they took."""
    chosen = [template for slug, template in parts.templates().items() if slugs == ["--all"] or slug in slugs]
    if not chosen:
        sys.exit(__doc__)
    for ended in (signal.SIGTERM, signal.SIGHUP):
        signal.signal(ended, lambda *_: sys.exit(1))  # the server ends with this
    rows = {}
    with served() as server, sync_playwright() as browsers:
        browser = browsers.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        for template in chosen:
            figures, costs = measured(browser, template, server, FEW if slugs == ["--all"] else TYPED)
            if figures:
                rows[template.slug] = figures, costs
                tell(said(template.slug, figures, costs))
            else:
                tell(f"{template.slug:<28} nothing was drawn anew")
        browser.close()
    tell(
        said(
            "all",
            [f for figures, _ in rows.values() for f in figures],
            [*map(mean, zip(*(c for _, c in rows.values()), strict=True))],
        )
    )
    over = sorted(slug for slug, (figures, _) in rows.items() if is_over(figures))
    tell(f"over {MEDIAN_MS} or {P95_MS} ms: {len(over)} of {len(chosen)}: {' '.join(over)}")


if __name__ == "__main__":
    main(sys.argv[1:])
