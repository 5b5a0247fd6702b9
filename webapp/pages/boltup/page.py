"""The page that says whether two parts bolt up: how they are said in, the chance and what would make it safe out.

What is said in words stands in the address. Files are sent with the form and go back with the page, as on the page
that checks a drawing; nothing is kept.
"""

from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from urllib.parse import urlencode

from flask import Blueprint, Response, render_template, request
from flask.typing import ResponseReturnValue

from parts import Problem, Refused, UnknownTemplate, Unreadable
from parts.boltup import EXAMPLES
from parts.cutting import PROCESSES, materials
from parts.errors import DataError
from parts.mating import BESIDE, NAMES, BoltUp, Side, assumptions, bolt_up, cautions, lines, percent
from parts.read import LARGEST_BYTES
from parts.units import format_fine, format_length
from webapp.forms import allow, carried_file, setting, values_of
from webapp.pages.boltup.picture import picture
from webapp.workers import CHECKS, apart

bp = Blueprint("boltup_page", __name__)

LARGEST_REQUEST = 2 * LARGEST_BYTES + 2 * carried_file.LARGEST_KEPT + 200_000
_LARGEST_TABLE = 100_000
_SIDES = ("a", "b")
FIRST = {
    "bolt": "Bolt", "hole": "Holes of a pattern", "lie": "How they lie", "fixed": "Bolts stand in B",
    "flip": "B lies face down",
}  # fmt: skip
STOCK = {"thickness": "Thickness of a file", "material": "Material of a file", "process": "Process of a file"}
FINER = {
    "position_a": "Places of A \u00b1", "size_a": "Diameters of A \u00b1", "class_a": "ISO 9013 class of A",
    "position_b": "Places of B \u00b1", "size_b": "Diameters of B \u00b1", "class_b": "ISO 9013 class of B",
    "wanted": "Safe at", "trials": "Trials", "seed": "Seed",
}  # fmt: skip
"""The fields of the form and what they are called: those that matter first, those of files, the rest."""


@dataclass(frozen=True)
class Sent:
    """What was sent: the values, each side, and the text of the table's readings."""

    values: Mapping[str, str]
    sides: Mapping[str, Side]
    table: str = ""


@bp.get("/boltup")
def page() -> ResponseReturnValue:
    """Show the form, and the answer where the address says two parts."""
    sent = Sent(values_of(request.args), {name: Side(request.args.get(name, "")) for name in _SIDES})
    if not any(side.text.strip() for side in sent.sides.values()):
        return _page(sent)
    return _answered(sent)


@bp.post("/boltup")
@apart(CHECKS, most=LARGEST_REQUEST)
def of_files() -> ResponseReturnValue:
    """Show the answer of parts that are sent as files, or of a table whose readings are."""
    allow(LARGEST_REQUEST, f"two drawings may have {LARGEST_BYTES // 1_000_000} MB each")
    try:
        sent = _sent()
    except Refused as refused:
        return _page(Sent(request.form.to_dict(), {}), problems=refused.problems), 422
    if carried_file.KEPT in request.form and not sent.sides["b"].text:  # a checked drawing comes before the other part
        return _page(sent)
    return _answered(sent)


@bp.get("/boltup.json")
def for_programs() -> Response:
    """Send the same as JSON."""
    values = values_of(request.args)
    a, b = (Side(values.pop(name, "")) for name in _SIDES)
    return Response(bolt_up(a, b, values).to_json(), mimetype="application/json")


def _sent() -> Sent:
    table = request.form.get("table", "")
    if len(table) > _LARGEST_TABLE:
        raise Refused((Problem("table", "", f"has more than {_LARGEST_TABLE // 1000} kB."),))
    sides = {}
    for name in _SIDES:
        text, data = _file(name)
        sides[name] = Side(text, data, table.strip())
    return Sent(request.form.to_dict(), sides, table)


def _file(name: str) -> tuple[str, bytes]:
    """A side's text, and its file: the one chosen, else the one carried, unless words were typed since.

    A is the drawing of the page that checks one, where that sends it.
    """
    chosen, text = request.files.get(f"{name}_file"), request.form.get(name, "").strip()
    if chosen and chosen.filename:
        with closing(chosen):
            return chosen.filename.replace("\\", "/").rsplit("/", 1)[-1][-120:], chosen.read(LARGEST_BYTES + 1)
    if name == "a" and carried_file.KEPT in request.form:
        checked, called = carried_file.sent({}, request.form)
        return called, checked
    kept = request.form.get(f"{name}_kept", "")
    if kept and text == request.form.get(f"{name}_name", ""):
        data = carried_file.unpacked(kept, LARGEST_BYTES)
        if data is None:
            raise Refused((Problem(name, text, "isn't held by this page any more: choose the file again."),))
        return text, data
    return text, b""


def _answered(sent: Sent) -> ResponseReturnValue:
    values = {name: text.strip() for name, text in sent.values.items() if name in (*NAMES, *BESIDE) and text.strip()}
    values.setdefault("units", setting.units_here())
    try:
        return _page(sent, bolt_up(sent.sides["a"], sent.sides["b"], values))
    except (Refused, UnknownTemplate) as refused:
        return _page(sent, problems=refused.problems), 422
    except (Unreadable, DataError) as error:
        of = "table" if isinstance(error, DataError) else "file"
        return _page(sent, problems=(Problem(of, "", str(error)),)), 422


def _page(sent: Sent, found: BoltUp | None = None, problems: tuple[Problem, ...] = ()) -> str:
    units = found.asked.units if found else setting.units_here()
    return render_template(
        "boltup.html",
        values=sent.values,
        sides={name: sent.sides.get(name) or Side(sent.values.get(name, "")) for name in _SIDES},
        kept={name: carried_file.packed(side.data) if side.data else "" for name, side in sent.sides.items()},
        table=sent.table,
        found=found,
        lines=list(lines(found)) if found else [],
        assumptions=list(assumptions(found)) if found else [],
        cautions=list(cautions(found)) if found else [],
        rows=_rows(found) if found else [],
        chance=percent(found.answer.chance) if found else "",
        drawing=picture(found) if found else "",
        beside={problem.parameter: problem.message for problem in problems},
        loose=[p for p in problems if p.parameter not in (*_SIDES, *FIRST, *STOCK, *FINER)],
        first=FIRST,
        stock=STOCK,
        finer=FINER,
        choices=_choices(),
        says=NAMES,
        examples=EXAMPLES,
        units=units,
        link=_link(sent),
    )


def _link(sent: Sent) -> str:
    """The address that asks the same, where all of it was said in words."""
    said = {name: text.strip() for name, text in sent.values.items() if name in (*_SIDES, *NAMES, *BESIDE)}
    return "/boltup?" + urlencode({name: text for name, text in said.items() if text})


def _choices() -> Mapping[str, Mapping[str, str]]:
    """What there is to choose of fields that aren't typed."""
    yes = {"": "no", "yes": "yes"}
    return {
        "lie": {"": "moved until the bolts go in", "drawn": "held as drawn"},
        "fixed": yes,
        "flip": yes,
        "class_a": {"": "the usual of its process", "1": "1", "2": "2"},
        "class_b": {"": "the usual of its process", "1": "1", "2": "2"},
        "process": {"": "air plasma", **{slug: title for slug, title in PROCESSES.items() if slug != "air-plasma"}},
        "material": {"": "mild steel", **{k: m.title for k, m in materials().items() if k != "mild-steel"}},
    }


def _rows(of: BoltUp) -> list[tuple[str, ...]]:
    """A row a bolt: number, holes, widths, room, how far off by chance, the chance without it."""
    units, rows = of.asked.units, []
    for k, pair in enumerate(of.joint.pairs):
        off = (sum(each.position[k] ** 2 for each in of.accuracies)) ** 0.5
        widths = [format_length(width, units) for width in (pair.a.width, pair.b.width)]
        spread = format_fine(off, units)
        rows.append((str(k + 1), pair.a.name, pair.own.name, *widths, spread, percent(of.answer.without[k])))
    return rows
