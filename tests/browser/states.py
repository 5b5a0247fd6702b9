"""Every page of Platewright in the states it can be in, brought about as a person would, by name."""

from collections.abc import Callable

from playwright.sync_api import Page, expect

from parts.truing.model import Errors, put
from tests.bends_read import form as bend_form
from tests.files.foreign import circle, dxf, line

GAP = line(0, 0, 100, 0) + line(100, 0, 100, 60) + line(100.03, 60, 0, 60) + line(0, 60, 0, 0)
OWN = dxf(GAP + circle(20, 20, 2) + circle(60, 20, 3))
"""A plate of a drawing of one's own: a gap to be healed, and two holes too small for its thickness."""
LAYERED = dxf(GAP.replace("\n8\n0\n", "\n8\nBORDER\n") + circle(50, 30, 10) + circle(20, 20, 8, "DIM"))
MANY = dxf(GAP + "".join(circle(8 + 9 * i, 10 + 9 * j, 1 + i / 20) for i in range(9) for j in range(4)))

SUBMIT = """([action, fields]) => {
  const form = document.createElement("form");
  form.method = "post";
  form.action = action;
  for (const [name, value] of fields) {
    const field = document.createElement("input");
    field.type = "hidden";
    field.name = name;
    field.value = value;
    form.append(field);
  }
  document.body.append(form);
  form.submit();
}"""


def _send(page: Page, address: str, where: str, fields: dict[str, str]) -> None:
    page.goto(f"{address}{where}")
    with page.expect_navigation():
        page.evaluate(SUBMIT, [where, list(fields.items())])


def _checks(data: bytes) -> Callable[[Page, str], None]:
    def bring(page: Page, address: str) -> None:
        page.goto(f"{address}/check")
        page.wait_for_load_state("networkidle")  # the module that sends what is chosen is there
        with page.expect_navigation():
            page.set_input_files("#file", {"name": "plate.dxf", "mimeType": "image/vnd.dxf", "buffer": data})
        expect(page.locator("#verdict")).to_be_attached()

    return bring


def _readings(off: Errors, spoilt: str = "") -> Callable[[Page, str], None]:
    """The square's readings as the errors make them; `spoilt` stands in place of the first."""

    def bring(page: Page, address: str) -> None:
        page.goto(f"{address}/true")
        ends = [((25, 25), (325, 25)), ((25, 25), (25, 325)), ((325, 25), (25, 325)), ((0, 0), (350, 0))]
        for i, (start, end) in enumerate(ends):
            (x0, y0), (x1, y1) = put(off, *start), put(off, *end)
            page.fill(f'[name="measured.{i}"]', f"{((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5:.3f}")
            page.fill(f'[name="u.{i}"]', "0.005")
        if spoilt:
            page.fill('[name="measured.0"]', spoilt)
        with page.expect_navigation():
            page.click("button.first")

    return bring


def _at(where: str) -> Callable[[Page, str], None]:
    return lambda page, address: (page.goto(f"{address}{where}"), None)[1]


def _bent(page: Page, address: str) -> None:
    _send(page, address, "/true/bend", bend_form())


def _kept(page: Page, address: str) -> None:
    """A history with an entry: the readings are kept under a name."""
    _readings(Errors(0.002, -0.001, 0.003))(page, address)
    if not page.locator('[name="machine.name"]').is_visible():
        page.click(".about-machine summary")
    page.fill('[name="machine.name"]', "Fernhollow table")
    with page.expect_navigation():
        page.click('button[value="keep"]')


def _conflict(page: Page, address: str) -> None:
    """Another page has written the shop's file since this one was opened."""
    page.goto(f"{address}/shop")
    other = page.context.new_page()
    for shown, x in ((other, "1234"), (page, "2345")):
        if shown is other:
            other.goto(f"{address}/shop")
        shown.fill('[name="bed.x_mm"]', x)
        with shown.expect_navigation():
            shown.get_by_role("button", name="Save").last.click()
    other.close()


STATES: dict[str, Callable[[Page, str], None]] = {
    "catalogue": _at("/"),
    "search": _at("/?q=gusset"),
    "gusset": _at("/parts/gusset-triangle?leg_b=150&holes_a=1&bolt=M6"),
    "in-order": _at("/parts/gusset-triangle"),
    "refused": _at("/parts/gusset-triangle?toe=400"),
    "bent": _at("/parts/bracket-bent-hat?thickness=16ga&top=50&side=25&foot=25&mark=15&bolt=M6&process=laser"),
    "silhouette": _at("/parts/silhouette-leaf"),
    "tray": _at("/parts/box-tray?thickness=12&tab=24&tab_every=200"),
    "remedies": _at("/parts/plate-bumper/remedies?lamp_spacing=1100&thickness=8&plate_holes=off&lamp_up=198"),
    "check": _at("/check"),
    "checked": _checks(OWN),
    "many": _checks(MANY),
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
    "no-history": _at("/true/history?machine=nobody"),
    "shop": _at("/shop"),
    "chart": _at("/shop/air-plasma?group=steel"),
    "chart-in-inches": _at("/shop/laser?units=in"),
    "conflict": _conflict,
    "numbers": _at("/numbers?process=laser"),
    "not-found": _at("/parts/nothing-of-the-kind"),
}
