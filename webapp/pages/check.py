"""The page that checks a drawing of someone's own: the file and its stock in, the drawing with its findings out.

Nothing is kept: the file comes with the form and goes back with the page (`webapp.forms.carried_file`). A form sent
from another site could therefore do nothing here that whoever sends it couldn't do at home: no state to change,
nobody's account to do it under, and the answer is shown to whoever sent it alone. That is why there is no token.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import cast

from flask import Blueprint, Response, make_response, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup

import parts
from parts import Checked, Problem, Refused, Unreadable, store
from parts.checking import DPI, FORMATS, LAYER, OUTLINE, STROKES_CUT, TOLERANCE, UNITS, picture, template
from parts.export import FORMATS as EVERY_FORMAT
from parts.finding import Finding
from parts.read import LARGEST_BYTES, Account, NothingToCut
from parts.record import Record
from parts.reopen import address_in
from parts.rules import RULES
from parts.spec import STOCK, Parameters, Spec, Value, default_of
from parts.tolerance import HEAL_MM, PEN_MM
from parts.units import Units, format_length, units_of
from webapp.forms import (
    JOB_LINE,
    LONGEST_VALUE,
    Before,
    FormRow,
    JobLine,
    Option,
    Typed,
    allow,
    carried_file,
    groups,
    role_rows,
    setting,
    title_of,
)
from webapp.pages.own_file import download, sent_values
from webapp.pages.window import window
from webapp.wording import Flag, facts, healed_up_to, kinds, verdict
from webapp.workers import CHECKS, apart, has_overrun

bp = Blueprint("check_page", __name__)

LARGEST_REQUEST = LARGEST_BYTES + carried_file.LARGEST_KEPT + 100_000
AS, TAKE, SAY, SAVED = "as", "take", "say", "saved"
"""Buttons of the form: which file is wanted, which remedy is taken, which units lengths are said in; and
in the address the saved drawing that is opened."""
SET_UP = "set-up"
ON_PAPER = {
    "pattern.pdf": "Pattern in true size",
    "drawing.dxf": "Dimensioned DXF",
    "drawing.svg": "Dimensioned SVG",
    "set-up.pdf": "Set-up sheet",
    "set-up.json": "Set-up as JSON",
}
"""What else a drawing is made into, by the value of its button: what it is, and the format."""
_NOT_VALUES = (AS, TAKE, SAY, LAYER, OUTLINE, JOB_LINE, carried_file.FILE, carried_file.KEPT, carried_file.KEPT_NAME)
_OF_DRAWING = (carried_file.FILE, TOLERANCE, DPI, STROKES_CUT)
_STROKES = {"": "by their width", "outline": "their outline", "middle": "their middle"}
_BARE = re.compile(r"[0-9]*\.?[0-9]+")
_ASKED = {"": "as the file says", "mm": "mm", "in": "inches"}


@dataclass(frozen=True)
class Request:
    """A sent form: the file, and the values as they were typed; `checked` where it could be read.

    `layers` and `outlines` are what was chosen of them; `account` is what the drawing holds, if it was read so far.
    """

    data: bytes
    name: str
    given: Mapping[str, str]
    checked: Checked | None = None
    problems: tuple[Problem, ...] = ()
    layers: tuple[str, ...] = ()
    outlines: tuple[str, ...] = ()
    account: Account | None = None


@bp.get("/check")
@apart(CHECKS, most=LARGEST_REQUEST, when=lambda: JOB_LINE in request.args or SAVED in request.args)
def form() -> ResponseReturnValue:
    """Show the form, to choose a drawing; or one that is kept in a job or under a name."""
    units = setting.units_here()
    try:
        kept = _kept()
    except Refused as refused:
        return _page(Request(b"", "", {}, problems=refused.problems), units), 422
    if kept is None:
        return _page(Request(b"", "", {}), units)
    asked = Request(b"", kept.part, dict(kept.values), layers=kept.layers, outlines=kept.outlines)
    asked = _answered(lambda: _checked_file(replace(asked, data=store.file(kept.drawing)), units), asked)
    return _page(asked, units), 422 if asked.problems else 200


def _kept() -> store.Kept | None:
    """The drawing that the address names; None where it names none.

    Raises:
        Refused: it is no drawing that is kept.
    """
    line = JobLine.read(request.args.get(JOB_LINE, ""))
    if line:
        found = store.job(line.job).content.line(line.line).kept
        if not found.drawing:
            raise Refused((Problem(JOB_LINE, str(line), "is no drawing: open it from its job."),))
        return found
    name = request.args.get(SAVED, "")
    if not name:
        return None
    saved = next((each.kept for each in store.saved_parts() if each.name == name and each.kept.drawing), None)
    if saved is None:
        raise Refused((Problem(SAVED, name[:LONGEST_VALUE], "isn't the name of a saved drawing."),))
    return saved


@bp.post("/check")
@apart(CHECKS, most=LARGEST_REQUEST)
def check() -> ResponseReturnValue:
    """Show what was found; or, by the button of a file, send the healed drawing."""
    _allow()
    if request.form.get(SAY) in ("mm", "in"):
        return _spoken_in(units_of(request.form[SAY]))
    said_in = _said_in()
    asked = _asked(said_in)
    wanted = request.form.get(AS, "")
    if asked.checked and (wanted in FORMATS or wanted in ON_PAPER):
        try:
            return _sent_as(asked.checked, wanted)
        except Refused as refused:
            asked = replace(asked, problems=refused.problems)
    return _page(asked, said_in or "mm"), 422 if asked.problems else 200


def _sent_as(checked: Checked, wanted: str) -> Response:
    """The file of a button: the healed drawing, or what else is made of it."""
    what, _, kind = wanted.rpartition(".")
    data = checked.set_up(kind) if what == SET_UP else checked.file(kind, what)
    return download(data, kind, checked.part.record, what or "healed", "drawing")


def _spoken_in(units: Units) -> Response:
    """The page with its lengths in other units, kept from now on."""
    asked = _asked(units)
    answer = make_response(_page(asked, units), 422 if asked.problems else 200)
    return setting.keep_units(answer, units)


def _said_in() -> Units | None:
    """The units that are worked in; None where nobody said so: then they are those of the drawing."""
    return setting.units_here() if setting.kept().values or setting.UNITS in request.args else None


@bp.post("/check.json")
@apart(CHECKS, most=LARGEST_REQUEST)
def check_json() -> Response:
    """Send all that was found, for programs."""
    asked = _asked()
    if asked.checked is None:
        raise Refused(asked.problems)
    return Response(asked.checked.to_json(), mimetype=EVERY_FORMAT["json"].mime_type)


def _allow() -> None:
    allow(LARGEST_REQUEST, f"a drawing may have {LARGEST_BYTES // 1_000_000} MB")


def _asked(said_in: Units | None = None) -> Request:
    _allow()
    given = {name: value.strip() for name, value in request.form.items() if name not in _NOT_VALUES and value.strip()}
    asked = Request(b"", "", given)
    try:
        data, name = carried_file.sent(request.files, request.form)
        asked = replace(asked, data=data, name=name)
        values = sent_values(_NOT_VALUES)
        values |= _taken(request.form.get(TAKE, ""))
        outlines = (*_chosen(OUTLINE), *_taken_outline(request.form.get(TAKE, "")))
        asked = replace(asked, given=values, layers=_chosen(LAYER), outlines=outlines)
    except Refused as refused:
        return replace(asked, problems=refused.problems)
    return _answered(lambda: _checked_file(asked, said_in), asked)


def _checked_file(asked: Request, said_in: Units | None) -> Request:
    checked = _checked(asked, asked.given, said_in)
    return replace(asked, checked=checked, account=checked.account)


def _answered(check: Callable[[], Request], asked: Request) -> Request:
    """What is checked, or what was asked with why it can't be."""
    try:
        return check()
    except NothingToCut as nothing:
        problem = Problem(carried_file.FILE, asked.name, str(nothing))
        return replace(asked, problems=(problem,), account=nothing.account)
    except Unreadable as error:
        return replace(asked, problems=(Problem(carried_file.FILE, asked.name, str(error)),))
    except Refused as refused:
        return replace(asked, problems=refused.problems)


def _chosen(field: str) -> tuple[str, ...]:
    """What was chosen of layers or outlines; of a page's own file alone, not of another that takes its place."""
    chosen, carries = request.files.get(carried_file.FILE), request.form.get(carried_file.KEPT)
    if chosen and chosen.filename and carries:
        return ()
    return tuple(text for text in request.form.getlist(field) if text.strip())


def _checked(asked: Request, values: Mapping[str, str], said_in: Units | None) -> Checked:
    if has_overrun():
        raise Unreadable(
            f"{asked.name} takes more time or memory to check than there is; leave only the outline in it."
        )
    return parts.check(asked.data, asked.name, said_in, layers=asked.layers, outlines=asked.outlines, **values)


def _taken(text: str) -> dict[str, str]:
    """The values of a remedy that was taken, `name=value` joined by `&`; only what a drawing of one's own has."""
    pairs = (pair.partition("=") for pair in text[:LONGEST_VALUE].split("&"))
    return {name: value for name, equals, value in pairs if equals and name in (*Parameters.specs(), TOLERANCE)}


def _taken_outline(text: str) -> tuple[str, ...]:
    """What a remedy that was taken says of an outline, `outline=BOX=aside`."""
    name, _, said = text[:LONGEST_VALUE].partition("=")
    return (said,) if name == OUTLINE and said else ()


def _page(asked: Request, units: Units) -> str:
    checked, part = asked.checked, asked.checked.part if asked.checked else None
    of = template(asked.name)
    nothing_before = Before("", {}, {}, {})
    typed = Typed(
        asked.given,
        part.record.parameters if part else dict(_chosen_words(asked.given)),
        asked.problems,
        nothing_before,
        part.record.units if part else None,
    )
    rows = dict(_rows(typed, units))
    wrong = {problem.parameter for problem in asked.problems}
    choices = [() if field in wrong else texts for field, texts in ((LAYER, asked.layers), (OUTLINE, asked.outlines))]
    drawing, whole = picture(_with_left_out(checked), window()) if checked else ("", True)
    packed = carried_file.packed(asked.data) if asked.data and len(asked.data) <= LARGEST_BYTES else ""
    return render_template(
        "check.html",
        asked=asked,
        units=part.record.job.units if part else units,
        checked=checked,
        part=part,
        title=of.title if asked.name else "A drawing of your own",
        rows=rows,
        file_message=typed.message(carried_file.FILE),
        loose=[p for p in asked.problems if p.parameter not in (*_OF_DRAWING, *Parameters.specs())],
        healing=_tolerance_row(typed, units),
        of_svg=_svg_rows(typed, units),
        healed_up_to=healed_up_to(checked.tolerance_mm, checked.part.record.job) if checked else "",
        kept=packed,
        roles=role_rows(asked.account, part.record.job.units if part else "mm", *choices),
        drawing=Markup(drawing),  # noqa: S704 - its writer escapes text
        bare=not whole,
        facts=_facts(checked) if checked else [],
        count=len(part.record.rows) if part else 0,
        kinds=kinds(part, checked.place) if checked and part else [],
        takes=_takes,
        either_unit=_either_unit() if typed.message(UNITS) else [],
        verdict=verdict(part, refused=bool(asked.problems)),
        checks=", ".join(str(rule.RULE).replace("-", " ") for rule in RULES),
        formats=FORMATS if checked and checked.closed else (),
        on_paper=ON_PAPER if checked and checked.closed else {},
        largest=f"{LARGEST_BYTES // 1_000_000} MB",
        ours=_ours(asked) if packed else "",
        job_line=JobLine.read(request.values.get(JOB_LINE, "")),
    )


def _ours(asked: Request) -> str:
    """The title of the part that the file is of, where Platewright wrote it and it opens again; else nothing."""
    try:
        return address_in(asked.data, asked.name)[0]
    except parts.PartsError:
        return ""


def _with_left_out(checked: Checked) -> Record:
    """The record with what is left out, to be shown beside what is cut."""
    return replace(checked.part.record, aside=checked.account.aside)


def _facts(checked: Checked) -> list[tuple[str, str]]:
    """What people want at a glance; of a drawing without an outline only its stock."""
    found = facts(checked.part)
    stock = ("Thickness", "Material", "Process", "Kerf", "Feed")
    return found if checked.closed else [fact for fact in found if fact[0] in stock]


def _rows(typed: Typed, units: Units) -> Iterator[tuple[str, list[FormRow]]]:
    """The rows of what every part has. A length says its unit, since the drawing's own aren't known beforehand."""
    specs = Parameters.specs()
    said = replace(typed, given={**typed.given, UNITS: units}, bare=typed.reading.units)
    for group, rows in groups(template(""), said):
        made = []
        for row in rows:
            spec = specs[row.name]
            if row.name == UNITS:
                made.append(_units_row(row, typed))
            elif row.name != "notes":
                shown = typed.given.get(row.name) or ("" if row.message else _begun(spec, units))
                if row.name in typed.values and _BARE.fullmatch(shown):  # it stays so long, whatever the units become
                    shown = spec.text(typed.values[row.name], cast(Units, typed.values[UNITS]))
                made.append(replace(row, text=row.text if row.options else _spaced(shown), unit=""))
        yield ("Stock and process" if group == STOCK else group), made


def _chosen_words(given: Mapping[str, str]) -> Iterator[tuple[str, Value]]:
    """The choices before anything is read: as they were sent, else what the shop works with."""
    for name, spec in Parameters.specs().items():
        word = given.get(name) or setting.kept().values.get(name, "")
        if name != UNITS and word in spec.choices:
            yield name, word


def _begun(spec: Spec, units: Units) -> str:
    """What a row shows before anything is typed: what the shop works with, else the default, with its unit."""
    return setting.kept().values.get(spec.name) or spec.text(default_of(spec, units), units)


def _tolerance_row(typed: Typed, units: Units) -> FormRow:
    hint = f"The most that is healed. Blank: {format_length(HEAL_MM, units)}, never more than a third of the kerf."
    text, message = typed.given.get(TOLERANCE, ""), typed.message(TOLERANCE)
    return FormRow(TOLERANCE, "", "Heal up to", text, "", hint, "text", "", message, (), "", None)


def _svg_rows(typed: Typed, units: Units) -> Iterator[FormRow]:
    """The rows of what only an SVG leaves open: its pixels, and what is cut of its strokes."""
    pixels, strokes = typed.given.get(DPI, ""), typed.given.get(STROKES_CUT, "")
    hint = "Of an SVG sized in pixels. Blank: 96."
    yield FormRow(DPI, "", "Pixels to the inch", pixels, "", hint, "text", "", typed.message(DPI), (), "", None)
    options = tuple(Option(value, title, value == strokes) for value, title in _STROKES.items())
    pen = format_length(PEN_MM, units)
    hint = f"Of an SVG's lines that fill nothing: up to {pen} wide their middle, wider ones their outline."
    wrong = typed.message(STROKES_CUT)
    yield FormRow(STROKES_CUT, "", "Cut of strokes", strokes, "", hint, "", "", wrong, options, "", None)


def _spaced(text: str) -> str:
    """`6 mm` for 6mm; what a person typed stays."""
    return re.sub(r"^([\d./-]+)(mm|in)$", r"\1 \2", text)


def _units_row(row: FormRow, typed: Typed) -> FormRow:
    given = typed.given.get(UNITS, "")
    options = tuple(Option(value, title, value == given) for value, title in _ASKED.items())
    return replace(row, label="Units of the drawing", hint="Needed where the file doesn't say.", options=options)


def _takes(flag: Flag) -> list[tuple[str, str]]:
    """The value and the words of each button that takes a finding's remedy, where it can be taken here.

    Of a doubt about units there is one for either.
    """
    finding: Finding = flag.finding
    if [name for name, _ in finding.changes] == [OUTLINE]:
        box = finding.changes[0][1].removesuffix("=aside")
        return [(f"{OUTLINE}={box}=aside", "Leave it out"), (f"{OUTLINE}={box}=cut", "It is of the part")]
    specs = Parameters.specs()
    if not finding.changes:
        return []
    if [name for name, _ in finding.changes] == [UNITS]:
        return _either_unit()
    if [name for name, _ in finding.changes] == [TOLERANCE]:
        ((_, text),) = finding.changes
        return [(f"{TOLERANCE}={text}", f"Heal up to {_spaced(text)}")]
    if any(name not in specs for name, _ in finding.changes):
        return []
    words = ", ".join(f"{specs[name].label}: {title_of(specs[name], value)}" for name, value in finding.changes)
    return [("&".join(f"{name}={value}" for name, value in finding.changes), words)]


def _either_unit() -> list[tuple[str, str]]:
    return [(f"{UNITS}={units}", f"It is in {words}") for units, words in _ASKED.items() if units]
