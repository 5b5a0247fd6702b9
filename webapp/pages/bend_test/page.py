"""The page of a test bend: strips as measured in, the brake's own K and deduction out, and kept where that is asked.

What writes the shop's own file must come from this very page, as `webapp.forms.own_site` says; and what is written is
what was shown: where the readings were changed since, the page shows it anew.
"""

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from http import HTTPStatus
from urllib.parse import urlencode

from flask import Blueprint, Response, make_response, redirect, render_template, request
from flask.typing import ResponseReturnValue

from parts import Problem, Refused, shop
from parts.errors import DataError
from parts.shop import parse
from parts.shop.editing import OtherEdition, edited, read_file, save
from parts.truing import usual_u
from parts.truing.bend import BendReport, keep_as, kept_bends, true_bend, without_bend
from parts.units import format_angle, format_length, units_of
from webapp.forms import allow, own_site, setting, values_of
from webapp.pages.bend_test.form import COLUMNS, FINER, LABELS, LEGS_SAID, LENGTHS, BendForm, blank, of_file, sent
from webapp.pages.piece import piece_of
from webapp.wording import HOLDS, bend_said, kept_said, results, what_was_bent

bp = Blueprint("bend_test", __name__, url_prefix="/true/bend")

LARGEST = 500_000
_KEEPS = ("bend_test.keep", "bend_test.forget")


@dataclass(frozen=True)
class Says:
    """What the page says besides the form: the answer, what would be kept, or what is wrong."""

    report: BendReport | None = None
    keeps: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    anew: bool = False


@bp.before_request
def guard() -> None:
    """Let in forms of a size that strips may have, and of those that write this machine's own alone."""
    allow(LARGEST, f"a form or a file of a test bend may have {LARGEST // 1000} kB")
    if request.method == "POST" and request.endpoint in _KEEPS:
        own_site.check_sender(own_site.NUMBERS)


@bp.after_request
def with_referrer(answer: Response) -> Response:
    """Let the browser say where a form comes from; and keep no copy of what hangs on the shop's own file."""
    answer.headers["Referrer-Policy"] = "same-origin"
    answer.headers["Cache-Control"] = "no-store"
    return answer


@bp.get("")
def page() -> ResponseReturnValue:
    """Show the form for the strips that the address draws, as they come unless it says otherwise."""
    if query := setting.spoken("gauge-test-bend"):
        return redirect(f"/true/bend?{query}")
    values = values_of(request.args)
    values.pop("template", "")
    drawing = f"/parts/gauge-test-bend{'?' if values else ''}{urlencode(values)}"
    try:
        return _page(blank(values, drawing, today()), Says())
    except Refused as refused:
        return _page(blank({}, "/parts/gauge-test-bend", today()), Says(problems=refused.problems))


@bp.post("")
def answer() -> ResponseReturnValue:
    """Do what the pressed button asks for, and show the form as it was typed."""
    form, pressed = sent(request.form), request.form.get("do", "")
    if pressed == "more":
        return _page(form.longer(), Says())
    if pressed in ("mm", "in"):
        units = units_of(pressed)
        return setting.keep_units(make_response(_page(form.in_units(units), Says())), units)
    if pressed == "file":
        return _of_file(form)
    if pressed == "toml":
        made = Response(form.toml, mimetype="application/toml")
        made.headers["Content-Disposition"] = 'attachment; filename="test-bend.toml"'
        return made
    return _page(form, solved(form))


@bp.post("/keep")
def keep() -> ResponseReturnValue:
    """Write what was shown into the shop's own file, or show anew what would be written."""
    form = sent(request.form)
    says = solved(form)
    if says.problems or says.report is None:
        return _page(form, says)
    try:
        file = read_file()
        kept, change = keep_as(says.report, parse(file.text, file.path), today())
        if "\n".join(says.keeps) != _lines(request.form.get("shown", "")):
            return _page(form, Says(says.report, says.keeps, anew=True))
        save(edited(file.text, [change]), file.stamp)
    except Refused as refused:
        return _page(form, Says(says.report, (), refused.problems))
    except DataError as error:
        return _page(form, Says(says.report, says.keeps, (Problem("", "", str(error)),)))
    return redirect(f"/shop?units={form.units}&bend={kept.material}#test-bends", HTTPStatus.SEE_OTHER)


@bp.post("/forget")
def forget() -> ResponseReturnValue:
    """Take a test bend out of the shop's own file, where it still is the file that was looked at."""
    file, given = read_file(), request.form
    number = given.get("number", "")
    if given.get("stamp", "") != file.stamp:
        raise OtherEdition(f"{file.path} has been changed since the page was opened; look at it again.")
    change = without_bend(
        parse(file.text, file.path), given.get("material", ""), int(number) if number.isdecimal() else 0
    )
    save(edited(file.text, [change]), file.stamp)
    return redirect(f"/shop?units={units_of(given.get('units'))}&saved=1#test-bends", HTTPStatus.SEE_OTHER)


def solved(form: BendForm) -> Says:
    """Return what the strips say and what would be kept of it, or what is wrong with them."""
    if not form.is_measured:
        return Says(problems=(Problem("", "", "Type in what you measured: the flat and both legs of one strip."),))
    try:
        report = true_bend(form.tables, form.units)
    except Refused as refused:
        return Says(problems=refused.problems)
    if not report.keepable:
        return Says(report)
    try:
        file = read_file()
        kept, _ = keep_as(report, parse(file.text, file.path), today())
    except (Refused, DataError) as error:
        return Says(report, problems=getattr(error, "problems", (Problem("", "", str(error)),)))
    return Says(report, tuple(kept_said(kept, form.units)))


def today() -> str:
    """Return the date of a test that tells none."""
    return datetime.now(tz=UTC).astimezone().date().isoformat()


def _lines(text: str) -> str:
    return text.replace("\r\n", "\n")


def _of_file(form: BendForm) -> ResponseReturnValue:
    handed = request.files.get("file")
    if handed is None or not handed.filename:
        return _page(form, Says(problems=(Problem("", "", "Choose a file of a test bend first."),)))
    try:
        filled = of_file(handed.read().decode("utf-8-sig"))
    except UnicodeDecodeError:
        return _page(form, Says(problems=(Problem("", "", f"{handed.filename[:80]} is no text in UTF-8."),)))
    except Refused as refused:
        return _page(form, Says(problems=refused.problems))
    return _page(filled, solved(filled) if filled.is_measured else Says())


def _page(form: BendForm, says: Says) -> ResponseReturnValue:
    beside: dict[str, str] = {}
    loose: list[str] = []
    for problem in says.problems:
        value = "" if problem.value in problem.message else f"{problem.value} "
        if name := form.field_of(problem):
            beside.setdefault(name, f"{value}{problem.message}")
        else:
            words = f"{problem.parameter} {value}{problem.message}" if problem.value else problem.message
            loose.append(words[:1].upper() + words[1:])
    report = says.report
    shown = render_template(
        "bend_test.html",
        form=form,
        labels=LABELS,
        finer=FINER,
        columns=COLUMNS,
        piece=piece_of(form.sheet),
        lengths=LENGTHS,
        legs=LEGS_SAID,
        materials={slug: of.title for slug, of in shop.load(shop.edition()).materials.items()},
        instruments={slug: format_length(u, form.units) for slug, u in usual_u().items()},
        beside=beside,
        loose=loose,
        report=report,
        what=what_was_bent(report) if report else "",
        turned=format_angle(math.degrees(report.test.angle), 4) if report else "",
        results=results(report) if report else (),
        keeps=says.keeps,
        anew=says.anew,
        holds=HOLDS,
        kept=_kept(form),
        may_change=own_site.may_change(),
        read_only=own_site.read_only(own_site.NUMBERS),
    )
    return shown, HTTPStatus.UNPROCESSABLE_ENTITY if says.problems else HTTPStatus.OK


def _kept(form: BendForm) -> tuple[str, ...]:
    """What test bends the shop has, a sentence each; none while its file can't be read, which every page tells."""
    try:
        file = read_file()
        own = parse(file.text, file.path)
    except DataError:
        return ()
    return tuple(bend_said(each.material, each.bend, form.units) for each in kept_bends(own))
