"""Every page of Platewright in the states it can be in, brought about by what it is sent, by name."""

from collections.abc import Callable

from playwright.sync_api import Page, expect

from parts import store
from parts.store import Content, Kept, Line
from parts.truing.model import Errors, put
from tests import depth
from tests.bends_read import form as bend_form
from tests.files.foreign import circle, dxf, line

GAP = line(0, 0, 100, 0) + line(100, 0, 100, 60) + line(100.03, 60, 0, 60) + line(0, 60, 0, 0)
OWN = dxf(GAP + circle(20, 20, 2) + circle(60, 20, 3))
"""A plate of a drawing of one's own: a gap to be healed, and two holes too small for its thickness."""
LAYERED = dxf(GAP.replace("\n8\n0\n", "\n8\nBORDER\n") + circle(50, 30, 10) + circle(20, 20, 8, "DIM"))

WINDOWED = """() => {
  const svg = document.querySelector("#drawing svg[data-window]");
  if (!svg || !document.getElementById("dimensions")) return true;
  const area = document.getElementById("drawing");
  const { paddingLeft, paddingTop } = getComputedStyle(area);
  const room = [area.clientWidth - 2 * parseFloat(paddingLeft), area.clientHeight - 2 * parseFloat(paddingTop)];
  return svg.dataset.window.split(" ").every((px, i) => Math.abs(px - room[i]) < 7);
}"""
"""Whether the drawing is laid out for the window that it has; it is made anew a moment after that changes."""

SENT = """async ([where, action, changes, before]) => {
  const other = new DOMParser().parseFromString(await (await fetch(where)).text(), "text/html");
  const form = document.importNode(other.querySelector("main form[method=post]"), true);
  const send = (fields) => {
    for (const [name, value] of Object.entries(fields)) {
      const field = form.elements[name] ?? form.appendChild(document.createElement("input"));
      field.name = name;
      field.value = value;
    }
  };
  if (before) {
    send(before);
    await fetch(action, { method: "POST", body: new URLSearchParams(new FormData(form)) });
  }
  send(changes);
  form.action = action;
  form.hidden = true;
  document.body.append(form);
  form.submit();
}"""


def _send(page: Page, address: str, form: str, where: str, fields: dict[str, str], before: dict | None = None) -> None:
    """Fill in the form of one address and send it to another; `before`: what was sent of it from another page."""
    if not page.url.startswith(address):
        page.goto(f"{address}/nothing-of-the-kind")
    with page.expect_navigation():
        page.evaluate(SENT, [form, where, fields, before])


def _checks(data: bytes) -> Callable[[Page, str], None]:
    def bring(page: Page, address: str) -> None:
        page.goto(f"{address}/check")
        with page.expect_navigation():
            page.set_input_files("#file", {"name": "plate.dxf", "mimeType": "image/vnd.dxf", "buffer": data})
        expect(page.locator("#verdict")).to_be_attached()

    return bring


def _read(off: Errors, spoilt: str = "") -> dict[str, str]:
    """The square's readings as the errors make them; `spoilt` stands in place of the first."""
    ends = [((25, 25), (325, 25)), ((25, 25), (25, 325)), ((325, 25), (25, 325)), ((0, 0), (350, 0))]
    fields = {}
    for i, (start, end) in enumerate(ends):
        (x0, y0), (x1, y1) = put(off, *start), put(off, *end)
        fields |= {f"measured.{i}": f"{((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5:.3f}", f"u.{i}": "0.005"}
    return fields | ({"measured.0": spoilt} if spoilt else {})


def _readings(off: Errors, spoilt: str = "") -> Callable[[Page, str], None]:
    return lambda page, address: _send(page, address, "/true", "/true", _read(off, spoilt) | {"do": "solve"})


def _at(where: str) -> Callable[[Page, str], None]:
    return lambda page, address: (page.goto(f"{address}{where}"), None)[1]


def _bent(page: Page, address: str) -> None:
    _send(page, address, "/true/bend", "/true/bend", bend_form())


def _kept(page: Page, address: str) -> None:
    """A history with an entry: the readings are kept under a name."""
    kept = {"machine.name": "Fernhollow table", "do": "keep"}
    _send(page, address, "/true", "/true/keep", _read(Errors(0.002, -0.001, 0.003)) | kept)


def _conflict(page: Page, address: str) -> None:
    """Another page has written the shop's file since this one was opened."""
    _send(page, address, "/shop", "/shop", {"bed.x_mm": "2345"}, before={"bed.x_mm": "1234"})
    expect(page.get_by_role("heading", name="changed meanwhile")).to_be_visible()


def _job(where: str = "") -> Callable[[Page, str], None]:
    """A job of a part that a finding stops, one in order and one that can't be drawn; the server is this process."""

    def bring(page: Page, address: str) -> None:
        small = Kept("gusset-triangle", (("holes_a", "1"), ("hole", "5mm")))
        lines = (
            Line(1, small, 12, "brace"),
            Line(2, Kept("plate-ring"), 2),
            Line(3, Kept("plate-ring", (("od", "1"),))),
        )
        job = store.begin(Content("Gate for the garden", "Fernhollow 12 (invented)", lines))
        page.goto(f"{address}/jobs/{job.number}{where}")

    return bring


STATES: dict[str, Callable[[Page, str], None]] = {
    "catalogue": _at("/"),
    "search": _at("/?q=4 x 6 gusset 3/16"),
    "gusset": _at("/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6&small_holes=cut"),
    "in-order": _at("/parts/gusset-triangle"),
    "refused": _at("/parts/gusset-triangle?toe=400"),
    "bent": _at("/parts/bracket-bent-hat?thickness=16ga&top=50&side=25&foot=25&mark=15&bolt=M6&process=laser"),
    "silhouette": _at("/parts/silhouette-leaf"),
    "tray": _at("/parts/box-tray?thickness=12&tab=24&tab_every=200"),
    "remedies": _at("/parts/plate-bumper/remedies?lamp_spacing=1100&thickness=8&plate_holes=off&lamp_up=198"),
    "check": _at("/check"),
    "checked": _checks(OWN),
    "layers": _checks(LAYERED),
    "true": _at("/true"),
    "trued": _readings(Errors(0.002, -0.001, 0.003)),
    "true-refused": _readings(Errors(0, 0, 0), "30o"),
    "true-disagrees": _readings(Errors(0.002, -0.001, 0.003), "305.123"),
    "bend": _at("/true/bend"),
    "bend-answered": _bent,
    "sheet": _at("/true/sheet"),
    "bend-sheet": _at("/true/sheet?template=gauge-test-bend"),
    "history": _kept,
    "job": _job(),
    "no-history": _at("/true/history?machine=nobody"),
    "shop": _at("/shop"),
    "chart": _at("/shop/air-plasma?group=steel"),
    "conflict": _conflict,
    "numbers": _at("/numbers?process=laser&rule=pierce-room"),
    "not-found": _at("/parts/nothing-of-the-kind"),
}
if depth.DEEP:  # which have nothing on them that other pages haven't
    STATES |= {
        "job-add": _at("/jobs/add/gusset-triangle?holes_a=1&hole=5mm"),
        "job-compared": _job("/compare"),
        "job-sheets": _job("/sheets"),
        "jobs": _at("/jobs"),
        "table": _at("/table"),
    }
