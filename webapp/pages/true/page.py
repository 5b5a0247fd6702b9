"""The page of measurements: readings of a cut test piece in, the table's errors and what to change out.

The page keeps nothing by itself: what was typed comes with the form and goes back with the answer, so a form sent
from another site could do nothing here. What writes is another address, `webapp.history_page`.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import TYPE_CHECKING, Any, cast
from urllib.parse import urlencode

from flask import Blueprint, Response, jsonify, make_response, redirect, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from parts import Problem, Refused, draw
from parts.errors import DataError
from parts.truing import METALS, Report, content, from_tables, parsed, report, unmeasured, usual_u
from parts.truing.bend import bend_content, is_bend, true_bend
from parts.units import format_length, units_of
from webapp.forms import allow, setting, values_of
from webapp.pages.piece import piece_of
from webapp.pages.true.answer import of_rows, over_a_sheet, shown, tape
from webapp.pages.true.fields import FIELDS, KINDS, MACHINE, PIECE, TEST_PIECE, piece_name, pieces
from webapp.pages.true.form import ReadingsForm, problems_by_field, sent
from webapp.pages.true.form_of import blank, of_file, places_of

if TYPE_CHECKING:
    from parts.export import BendSheet, MeasuringSheet

bp = Blueprint("true_page", __name__)

LARGEST = 2_000_000
"""Bytes of a form or a file of measurements; 500 readings take a tenth of it."""
LIMIT = f"a form or a file of measurements may have {LARGEST // 1_000_000} MB"
TEST_BEND = "gauge-test-bend"
DO = "do"
"""The button that was pressed."""


@dataclass(frozen=True)
class Says:
    """What the page says besides the form: the answer, or what is wrong."""

    report: Report | None = None
    problems: tuple[Problem, ...] = ()
    tape: tuple[str, ...] = ()

    @property
    def status(self) -> int:
        """The status of the page."""
        return HTTPStatus.UNPROCESSABLE_ENTITY if self.problems else HTTPStatus.OK


@bp.before_request
def bound() -> None:
    """Let in forms of as many fields as there may be readings."""
    allow(LARGEST, LIMIT)


@bp.after_request
def with_referrer(answer: Response) -> Response:
    """Let the browser say where a form comes from: what keeps measurements asks for that."""
    answer.headers["Referrer-Policy"] = "same-origin"
    return answer


@bp.get("/true")
def page() -> ResponseReturnValue:
    """Show the form with the rows of a test piece to be measured; the test square unless another is named."""
    if request.args.get("template") == TEST_BEND:
        return redirect(f"/true/bend?{request.query_string.decode('ascii', 'ignore')}")
    if query := setting.spoken(request.args.get("template", TEST_PIECE)):
        return redirect(f"/true?{query}")
    try:
        return shown_page(asked_form(), Says())
    except Refused as refused:
        units = units_of(request.args.get("units"))
        return shown_page(blank(places_of(TEST_PIECE, {"units": units}), units), Says(problems=refused.problems))


@bp.get("/true/sheet")
def sheet() -> ResponseReturnValue:
    """Show the measuring sheet of a test piece, to print or to measure by."""
    if query := setting.spoken(request.args.get("template", TEST_PIECE)):
        return redirect(f"/true/sheet?{query}")
    made = _sheet()
    asked = request.query_string.decode("ascii", "ignore")
    drawing = Markup(made.to_svg())  # noqa: S704 - its writer escapes text
    is_bent = request.args.get("template") == TEST_BEND
    return render_template(
        "measuring.html", sheet=made, rows=made.rows, drawing=drawing, asked=asked, notes=made.notes, is_bent=is_bent
    )


@bp.get("/true/sheet.pdf")
def sheet_to_print() -> Response:
    """Send the measuring sheet of a test piece as a PDF."""
    return _download(_sheet().to_pdf(), "application/pdf", "measuring-sheet.pdf")


@bp.get("/true/sheet.toml")
def sheet_to_fill_in() -> Response:
    """Send the measuring sheet of a test piece as a file of measurements, its readings empty."""
    return _download(_sheet().to_toml(), "application/toml", "measurements.toml")


def _download(data: str | bytes, mime_type: str, name: str) -> Response:
    """A file to save, made anew each time: the shop's own numbers may have changed."""
    made = Response(data, mimetype=mime_type)
    made.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    made.cache_control.no_cache = True
    return made


@bp.post("/true")
def answer() -> ResponseReturnValue:
    """Do what the pressed button asks for, and show the form as it was typed."""
    form, pressed = sent(request.form), request.form.get(DO, "")
    if pressed == "more":
        return shown_page(form.longer(), Says())
    if pressed in ("mm", "in"):
        units = units_of(pressed)
        return setting.keep_units(make_response(shown_page(form.in_units(units), Says())), units)
    if pressed == "piece":
        return _with_piece(form)
    if pressed in ("file", "also"):
        return _of_file(form, also=pressed == "also")
    if pressed == "tape":
        return _tape(form)
    if pressed == "toml":
        return download(form)
    return shown_page(form, solved(form))


@bp.post("/true.json")
def for_programs() -> Response:
    """Send what the readings of a body, TOML or JSON, say of the table, or strips of the brake."""
    tables = _body(request.get_data())
    if is_bend(tables):
        asked = request.args.get("units")
        return jsonify(bend_content(true_bend(tables, units_of(asked) if asked else None)))
    table, readings = from_tables(tables)
    units = units_of(request.args.get("units") or tables.get("units"))
    return jsonify(content(report(table, readings, units, unmeasured(tables))))


def solved(form: ReadingsForm) -> Says:
    """Return what the form's readings say, or what is wrong with them."""
    try:
        return Says(report(*form.read(), form.units))
    except Refused as refused:
        if not form.measured:
            return Says(problems=(Problem("", "", "Type in what you measured: one reading at least."),))
        return Says(problems=refused.problems)


def _sheet() -> "MeasuringSheet | BendSheet":
    values = values_of(request.args)
    return draw(values.pop("template", TEST_PIECE), **values).measuring_sheet()


def asked_form() -> ReadingsForm:
    """Return the form for the piece that the address names, in its units and with the address of its drawing.

    Raises:
        Refused: if the piece can't be drawn as it is named.
    """
    values = values_of(request.args)
    slug = values.pop("template", TEST_PIECE)
    drawing = f"/parts/{slug}{'?' if values else ''}{urlencode(values)}"
    return blank(places_of(slug, values), units_of(values.get("units")), drawing=drawing)


def download(form: ReadingsForm) -> Response:
    """Send what was typed as a file, in order or not."""
    made = Response(form.toml, mimetype="application/toml")
    made.headers["Content-Disposition"] = 'attachment; filename="measurements.toml"'
    made.headers["Cache-Control"] = "no-store"
    return made


def shown_page(form: ReadingsForm, says: Says, status: int | None = None) -> ResponseReturnValue:
    """The page with the form as typed."""
    beside, loose = problems_by_field(form, says.problems)
    found = says.report
    page = render_template(
        "true.html",
        form=form,
        machine=MACHINE,
        kinds=KINDS,
        fields=FIELDS,
        about_piece=PIECE,
        metals=METALS,
        instruments={slug: format_length(u, form.units) for slug, u in usual_u().items()},
        pieces=pieces(),
        piece=piece_of(form.sheet),
        beside=beside,
        loose=loose,
        report=found,
        errors=shown(found) if found else [],
        rows=of_rows(found, form.measured) if found else {},
        before=over_a_sheet(found.before, form.units) if found else (),
        after=over_a_sheet(found.after, form.units) if found else (),
        tape=says.tape,
        asked=bool(found and not found.disagreements and any(each.asked for each in found.corrections)),
        wrong_machine=any(name.startswith("machine.") for name in beside),
        wrong_piece=any(name.startswith("piece.") for name in beside),
    )
    return page, status or says.status


def _with_piece(form: ReadingsForm) -> ResponseReturnValue:
    """The form with the rows of another test piece, as it is drawn by default, to overtype where it was drawn so."""
    slug = request.form.get("piece", "")
    try:
        if slug not in pieces():
            raise Refused((Problem("piece", slug[:80], f"isn't a test piece; there are {', '.join(pieces())}."),))
        return shown_page(
            form.joined(blank(places_of(slug, {"units": form.units}), form.units, piece_name(slug))), Says()
        )
    except Refused as refused:
        return shown_page(form, Says(problems=refused.problems))


def _of_file(form: ReadingsForm, *, also: bool) -> ResponseReturnValue:
    """The form filled in from a file, or with its rows as well."""
    handed = request.files.get("file")
    if handed is None or not handed.filename:
        return shown_page(form, Says(problems=(Problem("", "", "Choose a file of measurements first."),)))
    try:
        filled = of_file(handed.read().decode("utf-8-sig"), form.units if also else None)
        if also:
            filled = form.joined(filled)
    except UnicodeDecodeError:
        return shown_page(form, Says(problems=(Problem("", "", f"{handed.filename[:80]} is no text in UTF-8."),)))
    except Refused as refused:
        return shown_page(form, Says(problems=refused.problems))
    is_sheet = filled.listed and not filled.measured
    return shown_page(filled, Says() if is_sheet else solved(filled))


def _tape(form: ReadingsForm) -> ResponseReturnValue:
    try:
        return shown_page(form, Says(tape=tape(form.tape, form.units)))
    except Refused as refused:
        return shown_page(form, Says(problems=refused.problems))


def _body(data: bytes) -> Mapping[str, Any]:
    """The tables of a body.

    Raises:
        Refused: it is neither TOML nor JSON.
    """
    try:
        text = data.decode("utf-8-sig")
        if not text.lstrip().startswith("{"):
            return parsed(text)
        return cast(Mapping[str, Any], json.loads(text))
    except UnicodeDecodeError as error:
        raise Refused((Problem("body", "", "must be text in UTF-8."),)) from error
    except DataError as error:
        raise Refused((Problem("body", "", str(error)),)) from error
    except (ValueError, RecursionError) as error:
        raise Refused((Problem("body", "", f"can't be read as JSON: {str(error) or 'nested too deep'}."),)) from error
