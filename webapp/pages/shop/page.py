"""The page of the shop's own numbers: the machine, then one process and one group of materials at a time."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any

from flask import Blueprint, Response, abort, redirect, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from parts import shop
from parts.cutting import PROCESSES
from parts.errors import DataError
from parts.shop import ANY, ShopData, as_table, parse
from parts.shop.editing import (
    LARGEST,
    Change,
    OtherEdition,
    ShopFile,
    changed,
    edited,
    read_file,
    save,
    set_in,
    text_of,
    written,
)
from parts.truing.bend import kept_bends
from parts.units import Units, units_of
from webapp.forms import allow, own_site, setting
from webapp.pages.shop.block import shown_block
from webapp.pages.shop.chart import QUANTITIES, Chart, ShownChart, show
from webapp.pages.shop.fields import (
    MACHINE,
    Field,
    TableBlock,
    change,
    limits_in,
    limits_of,
    materials_of,
    own_text,
    rules_of,
    setting_up_of,
    ways_of,
)
from webapp.wording import HOLDS, bend_said

bp = Blueprint("shop_page", __name__, url_prefix="/shop")

GROUPS = {
    "steel": "Steel",
    "stainless": "Stainless",
    "aluminium": "Aluminium",
    "copper": "Copper",
    "brass": "Brass",
    ANY: "Any other",
}


@dataclass(frozen=True, slots=True)
class View:
    """Which part of the numbers a page shows: the machine where `process` is empty."""

    process: str
    group: str
    units: Units

    @property
    def address(self) -> str:
        """The page's own address."""
        if not self.process:
            return f"/shop?units={self.units}"
        return f"/shop/{self.process}?group={self.group}&units={self.units}"

    def blocks(self, own: Mapping[str, Any]) -> tuple[TableBlock, ...]:
        """Return the tables of single numbers on the page, over a state of the shop's tree."""
        if self.process:
            process = self.process
            return (*limits_of(process), *rules_of(process), *ways_of(process), *setting_up_of(process, own))
        return (*MACHINE, *materials_of(own))

    def fields(self, own: Mapping[str, Any]) -> list[Field]:
        """Return every field of a single number."""
        return [field for block in self.blocks(own) for field in block.fields]

    def chart(self, own: Mapping[str, Any]) -> Chart | None:
        """Return the cut chart over a state of the shop's tree; the machine has none."""
        return Chart(own, self.process, self.group, self.units) if self.process else None

    def texts(self, own: Mapping[str, Any]) -> dict[str, str]:
        """Return what every field shows before anything is typed."""
        chart = self.chart(own)
        texts = {field.id: own_text(own, field, self.units) for field in self.fields(own)}
        return texts | (chart.texts() if chart else {})


@dataclass(frozen=True, slots=True)
class Sent:
    """A form as it was sent: what was typed, what the fields showed before, and of which edition of the file."""

    typed: Mapping[str, str]
    was: Mapping[str, str]
    stamp: str

    def changes(self, view: View, own: Mapping[str, Any]) -> list[Change]:
        """Return what was typed, as changes to the file."""
        typed, was = self.typed, self.was
        given = [field for field in view.fields(own) if field.id in typed and typed[field.id] != was.get(field.id, "")]
        chart = view.chart(own)
        columns = list(chart.changes(typed, was, typed.get("source", ""))) if chart else []
        back = typed.get("back", "")
        if back.endswith(".rows"):
            table = tuple(back.split(".")[:-1])
            columns = [*(one for one in columns if one.table != table), Change(table, "rows", None)]
        return [*(change(field, typed[field.id], view.units) for field in given), *columns]


@bp.before_request
def guard() -> None:
    """Let in only this machine's own page."""
    allow(2 * LARGEST, f"a file of a shop's own numbers may have {LARGEST // 1024} kB")
    if request.method == "POST":
        own_site.check_sender(own_site.NUMBERS)


@bp.after_request
def with_referrer(answer: Response) -> Response:
    """Let the browser say where a form comes from: without a referrer it sends an empty origin."""
    answer.headers["Referrer-Policy"] = "same-origin"
    return answer


@bp.get("")
@bp.get("/<process>")
def page(process: str = "") -> ResponseReturnValue:
    """Show the numbers as they are."""
    view, file = _view(process), read_file()
    return _page(view, file)


@bp.post("")
@bp.post("/<process>")
def send(process: str = "") -> ResponseReturnValue:
    """Save what was typed, or say beside each field why not."""
    view, file, sent = _view(process), read_file(), _sent()
    own = parse(file.text, file.path)
    changes = sent.changes(view, own)
    if sent.stamp != file.stamp and changes:
        return _conflict(view, file, sent, changes)
    found = shop.checked(changed(own, changes))
    if not isinstance(found, ShopData) and changes:
        return _page(view, file, sent, found), HTTPStatus.UNPROCESSABLE_ENTITY
    try:
        if changes:
            save(edited(file.text, changes), sent.stamp)
    except OtherEdition:
        return _conflict(view, read_file(), sent, changes)
    return redirect(f"{view.address}&saved={'1' if changes else '0'}", HTTPStatus.SEE_OTHER)


@bp.get("/file.toml")
def download() -> Response:
    """Send the file as it is."""
    file = read_file()
    if not file.is_there:
        abort(HTTPStatus.NOT_FOUND)
    answer = Response(file.text, mimetype="application/toml")
    answer.headers["Content-Disposition"] = 'attachment; filename="shop.toml"'
    answer.headers["Cache-Control"] = "no-store"
    return answer


@bp.post("/file")
def upload() -> ResponseReturnValue:
    """Put a file in the place of the shop's own, once it loads."""
    view, file = _view(""), read_file()
    handed = request.files.get("file")
    if handed is None or not handed.filename:
        return _page(view, file, loose=["Choose a file first."]), HTTPStatus.UNPROCESSABLE_ENTITY
    name = handed.filename[:80]
    try:
        text = text_of(handed.read(), name)
        found = shop.checked(parse(text, name))
        if not isinstance(found, ShopData):
            slips = [f"{name}: {slip.sentence}." for slip in found]
            return _page(view, file, loose=slips), HTTPStatus.UNPROCESSABLE_ENTITY
        save(text, request.form.get("stamp", ""))
    except OtherEdition as other:
        return _page(view, read_file(), loose=[f"{other} Upload it again to replace it."]), HTTPStatus.CONFLICT
    except DataError as error:
        return _page(view, file, loose=[str(error)]), HTTPStatus.UNPROCESSABLE_ENTITY
    return redirect("/shop?saved=1", HTTPStatus.SEE_OTHER)


def _view(process: str) -> View:
    if process and process not in PROCESSES:
        abort(HTTPStatus.NOT_FOUND)
    group = request.args.get("group", "steel")
    return View(
        process, group if group in GROUPS else "steel", units_of(request.args.get("units") or setting.kept().units)
    )


def _sent() -> Sent:
    """Read the form; a button of one field that goes back to the built-in number empties that field."""
    typed = {name: value.strip() for name, value in request.form.items()}
    try:
        was = {str(name): str(text) for name, text in json.loads(typed.pop("was", "{}")).items()}
    except (ValueError, AttributeError):
        abort(HTTPStatus.BAD_REQUEST)
    if typed.get("back", "") in typed:
        typed[typed["back"]] = ""
    return Sent(typed, was, typed.pop("stamp", ""))


def _page(
    view: View, file: ShopFile, sent: Sent | None = None, slips: Sequence[shop.Slip] = (), loose: Iterable[str] = ()
) -> str:
    """The page over the file as it is, with what was typed and what is wrong with it."""
    loose = list(loose)
    try:
        own = parse(file.text, file.path)
    except DataError as error:
        return _shown(view, file, None, loose=[*loose, str(error)])
    found = shop.checked(own)
    if not slips and not isinstance(found, ShopData):
        slips = found
    messages, others = _placed(view, own, sent, slips)
    return _shown(view, file, own, sent, messages, [*loose, *others])


def _shown(
    view: View,
    file: ShopFile,
    own: Mapping[str, Any] | None,
    sent: Sent | None = None,
    messages: Mapping[str, str] | None = None,
    loose: Sequence[str] = (),
) -> str:
    texts = view.texts(own) if own is not None else {}
    typed = texts | {name: text for name, text in (sent.typed.items() if sent else ()) if name != "back"}
    chart = view.chart(own) if own is not None else None
    cells: ShownChart | None = show(chart, typed, messages or {}) if chart else None
    return render_template(
        "shop.html",
        view=view,
        file=file,
        own=own,
        set_here=list(set_in(dict(own or {}))),
        test_bends=list(_test_bends(own or {}, view.units)) if not view.process else [],
        holds=HOLDS,
        kept_now=request.args.get("bend", "")[:60],
        blocks=[shown_block(block, view.units, typed, texts, messages or {}) for block in view.blocks(own or {})],
        chart=cells,
        was=json.dumps(sent.was if sent else texts),
        source=typed.get("source", ""),
        loose=loose,
        saved=request.args.get("saved"),
        groups=GROUPS,
        processes=[(slug, title, _count(own or {}, slug)) for slug, title in PROCESSES.items()],
        may_change=own_site.may_change(),
        read_only=own_site.read_only(own_site.NUMBERS),
        failed=bool(messages or loose),
    )


def _test_bends(own: Mapping[str, Any], units: Units) -> Iterator[tuple[str, int, str]]:
    """Each test bend's material, its number among that material's, and what it says."""
    counts: dict[str, int] = {}
    for each in kept_bends(own):
        counts[each.material] = counts.get(each.material, 0) + 1
        yield each.material, counts[each.material], bend_said(each.material, each.bend, units)


def _placed(
    view: View, own: Mapping[str, Any], sent: Sent | None, slips: Iterable[shop.Slip]
) -> tuple[dict[str, str], list[str]]:
    """Put each slip beside its field; those of another page's fields are told at the top."""
    fields = {field.id for field in view.fields(own)}
    chart, beside, others = view.chart(own), dict[str, str](), list[str]()
    texts = sent.typed if sent else view.texts(own)
    for slip in slips:
        name = ".".join(map(str, slip.entry))
        place = name if name in fields else _place(chart, slip.entry, texts) if chart else ""
        if place:
            beside.setdefault(place, _slip_said(slip, texts.get(place, ""), view.units))
        else:
            others.append(f"{slip.sentence}.")
    return beside, others


def _slip_said(slip: shop.Slip, typed: str, units: Units) -> str:
    """The sentence of the file on a field; in inches, which the file has other units for, on what was typed."""
    accepted = slip.sentence.partition("; ")[2]
    is_of_file = units == "mm" or not accepted or not typed
    return f"{slip.sentence}." if is_of_file else f"{typed}: {limits_in(accepted, units)}."


def _place(chart: Chart, entry: tuple[int | str, ...], texts: Mapping[str, str]) -> str:
    """The field of the chart that an entry of the file is in, its column, or nothing."""
    for quantity in QUANTITIES:
        path = chart.path(quantity)
        if entry[: len(path)] != path:
            continue
        cells = chart.sorted_cells(quantity, texts)
        at = entry[len(path) + 1] if len(entry) > len(path) + 1 else None
        if not isinstance(at, int) or at >= len(cells):
            return quantity.name
        return f"{cells[at][0]}.{'thickness' if entry[-1] == 'thickness_mm' else quantity.name}"
    return ""


def _conflict(view: View, file: ShopFile, sent: Sent, changes: Sequence[Change]) -> ResponseReturnValue:
    """Show what the file has now beside what was typed, and let the person choose."""
    own = parse(file.text, file.path)
    both = []
    for one in changes:
        now = written(own, one.table, one.name)
        both.append((".".join(one.entry), _lines(now[1] if now else None), _lines(one.value)))
    kept = {**sent.typed, "was": json.dumps(sent.was), "stamp": file.stamp}
    page = render_template("shop_conflict.html", view=view, file=file, both=both, kept=kept)
    return page, HTTPStatus.CONFLICT


def _lines(value: object) -> Markup:
    """An entry of the file, a row a line."""
    if value is None:
        return Markup("the built-in number")
    rows = value if isinstance(value, list) else [value]
    texts = [", ".join(f"{k} {v}" for k, v in row.items()) if isinstance(row, dict) else str(row) for row in rows]
    return Markup("<br>").join(texts)


def _count(own: Mapping[str, Any], process: str) -> int:
    return len(list(set_in(as_table(as_table(own.get("processes")).get(process)))))
