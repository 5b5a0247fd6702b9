"""The page that checks a drawing of someone's own: the file and its stock in, the drawing with its findings out.

Nothing is kept: the file comes with the form and goes back with the page (`webapp.forms.carried_file`). A form sent
from another site could therefore do nothing here that whoever sends it couldn't do at home: no state to change,
nobody's account to do it under, and the answer is shown to whoever sent it alone. That is why there is no token.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath

from flask import Blueprint, Response, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup
from werkzeug.datastructures import MultiDict

import parts
from parts import Checked, Problem, Refused, Unreadable
from parts.checking import FORMATS, UNITS, picture, template
from parts.export import FORMATS as EVERY_FORMAT
from parts.finding import Finding
from parts.read import LARGEST_BYTES
from parts.rules import RULES
from parts.spec import STOCK, Parameters
from webapp.forms import LONGEST_VALUE, Before, FormRow, Option, Typed, allow, carried_file, groups, title_of, values_of
from webapp.wording import Flag, facts, kinds, verdict
from webapp.workers import CHECKS, apart, has_overrun

bp = Blueprint("check_page", __name__)

LARGEST_REQUEST = LARGEST_BYTES + carried_file.LARGEST_KEPT + 100_000
AS, TAKE = "as", "take"
"""Buttons of the form: which file is wanted, or which remedy is taken."""
_NOT_VALUES = (AS, TAKE, carried_file.FILE, carried_file.KEPT, carried_file.KEPT_NAME)
_ASKED = {"": "as the file says", "mm": "mm", "in": "inches"}


@dataclass(frozen=True)
class Request:
    """A sent form: the file, and the values as they were typed; `checked` where it could be read."""

    data: bytes
    name: str
    given: Mapping[str, str]
    checked: Checked | None = None
    problems: tuple[Problem, ...] = ()


@bp.get("/check")
def form() -> str:
    """Show the form, to choose a drawing."""
    return _page(Request(b"", "", {}))


@bp.post("/check")
@apart(CHECKS, most=LARGEST_REQUEST)
def check() -> ResponseReturnValue:
    """Show what was found; or, by the button of a file, send the healed drawing."""
    asked = _asked()
    kind = request.form.get(AS, "")
    if asked.checked and kind in FORMATS:
        try:
            return _file(asked.checked, kind)
        except Refused as refused:
            asked = replace(asked, problems=refused.problems)
    return _page(asked), 422 if asked.problems else 200


@bp.post("/check.json")
@apart(CHECKS, most=LARGEST_REQUEST)
def check_json() -> Response:
    """Send all that was found, for programs."""
    asked = _asked()
    if asked.checked is None:
        raise Refused(asked.problems)
    return Response(asked.checked.to_json(), mimetype=EVERY_FORMAT["json"].mime_type)


def _asked() -> Request:
    allow(LARGEST_REQUEST, f"a drawing may have {LARGEST_BYTES // 1_000_000} MB")
    given = {name: value.strip() for name, value in request.form.items() if name not in _NOT_VALUES and value.strip()}
    asked = Request(b"", "", given)
    try:
        data, name = carried_file.sent(request.files, request.form)
        asked = replace(asked, data=data, name=name)
        values = values_of(MultiDict((n, v) for n, v in request.form.items(multi=True) if n not in _NOT_VALUES and v))
        values |= _taken(request.form.get(TAKE, ""))
        asked = replace(asked, given=values)
        return replace(asked, checked=_checked(data, name, values))
    except Unreadable as error:
        return replace(asked, problems=(Problem(carried_file.FILE, asked.name, str(error)),))
    except Refused as refused:
        return replace(asked, problems=refused.problems)


def _checked(data: bytes, name: str, values: Mapping[str, str]) -> Checked:
    if has_overrun():
        raise Unreadable(f"{name} takes more time or memory to check than there is; leave only the outline in it.")
    return parts.check(data, name, **values)


def _taken(text: str) -> dict[str, str]:
    """The values of a remedy that was taken, `name=value` joined by `&`; only what a drawing of one's own has."""
    pairs = (pair.partition("=") for pair in text[:LONGEST_VALUE].split("&"))
    return {name: value for name, equals, value in pairs if equals and name in Parameters.specs()}


def _file(checked: Checked, kind: str) -> Response:
    answer = Response(checked.file(kind), mimetype=EVERY_FORMAT[kind].mime_type)
    answer.headers["Content-Disposition"] = f'attachment; filename="{file_name(checked, kind)}"'
    answer.cache_control.no_store = True
    return answer


def file_name(checked: Checked, kind: str) -> str:
    """Return the drawing's own name, with what is in the file now: healed, and a DXF's units."""
    record = checked.part.record
    stem = re.sub(r"[^A-Za-z0-9._-]+", "-", PurePath(record.template.title).stem).strip("-.") or "drawing"
    units = ""
    if kind == "dxf":
        units = f"_R12_{record.units}" if record.dxf_version == "R12" else f"_{record.units}"
    return f"{stem}_healed{units}.{kind}"


def _page(asked: Request) -> str:
    checked, part = asked.checked, asked.checked.part if asked.checked else None
    of = template(asked.name)
    nothing_before = Before("", {}, {}, {})
    typed = Typed(
        asked.given,
        part.record.parameters if part else {},
        asked.problems,
        nothing_before,
        part.record.units if part else None,
    )
    rows = dict(_rows(typed))
    drawing, whole = picture(part.record) if part else ("", True)
    packed = carried_file.packed(asked.data) if asked.data and len(asked.data) <= LARGEST_BYTES else ""
    return render_template(
        "check.html",
        asked=asked,
        checked=checked,
        part=part,
        title=of.title if asked.name else "A drawing of your own",
        rows=rows,
        file_message=typed.message(carried_file.FILE),
        loose=[p for p in asked.problems if p.parameter != carried_file.FILE and p.parameter not in Parameters.specs()],
        kept=packed,
        drawing=Markup(drawing),  # noqa: S704 - its writer escapes text
        bare=not whole,
        facts=_facts(checked) if checked else [],
        count=len(part.findings) if part else 0,
        kinds=kinds(part) if part else [],
        takes=_takes,
        verdict=verdict(part, refused=bool(asked.problems)),
        checks=", ".join(str(rule.RULE).replace("-", " ") for rule in RULES),
        formats=FORMATS if checked and checked.closed else (),
        largest=f"{LARGEST_BYTES // 1_000_000} MB",
    )


def _facts(checked: Checked) -> list[tuple[str, str]]:
    """What people want at a glance; of a drawing without an outline only its stock."""
    found = facts(checked.part)
    stock = ("Thickness", "Material", "Process", "Kerf", "Feed")
    return found if checked.closed else [fact for fact in found if fact[0] in stock]


def _rows(typed: Typed) -> Iterator[tuple[str, list[FormRow]]]:
    """The rows of what every part has. A length says its unit, since the drawing's own aren't known beforehand."""
    specs = Parameters.specs()
    for group, rows in groups(template(""), typed):
        made = []
        for row in rows:
            spec = specs[row.name]
            if row.name == UNITS:
                made.append(_units_row(row, typed))
            elif row.name != "notes":
                shown = typed.given.get(row.name) or ("" if row.message else spec.text(spec.default, "mm"))
                made.append(replace(row, text=row.text if row.options else _spaced(shown), unit=""))
        yield ("Stock and process" if group == STOCK else group), made


def _spaced(text: str) -> str:
    """`6 mm` for 6mm; what a person typed stays."""
    return re.sub(r"^([\d.]+)(mm|in)$", r"\1 \2", text)


def _units_row(row: FormRow, typed: Typed) -> FormRow:
    given = typed.given.get(UNITS, "")
    options = tuple(Option(value, title, value == given) for value, title in _ASKED.items())
    return replace(row, label="Units of the drawing", hint="Needed where the file doesn't say.", options=options)


def _takes(flag: Flag) -> tuple[str, str] | None:
    """The value and the words of the button that takes a finding's remedy, where it can be taken here."""
    finding: Finding = flag.finding
    specs = Parameters.specs()
    if not finding.changes or any(name not in specs for name, _ in finding.changes):
        return None
    words = ", ".join(f"{specs[name].label}: {title_of(specs[name], value)}" for name, value in finding.changes)
    return "&".join(f"{name}={value}" for name, value in finding.changes), words
