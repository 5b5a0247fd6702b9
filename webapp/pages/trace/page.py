"""The page that traces a picture or drawn shapes of someone's own: the file and what is asked of it in, a part out.

Nothing is kept, as on the page that checks a drawing: the file travels with the form, and there is no token for the
same reasons.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from flask import Blueprint, Response, make_response, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup

import parts
from parts import Problem, Refused, Traced, Unreadable
from parts.artwork.pictures import Picture, as_png, is_picture
from parts.checking import picture
from parts.spec import Parameters, Value, default_of
from parts.tracing import ENDINGS, FORMATS, LARGEST_BYTES, Tracing, picture_of, template
from parts.units import Units, units_of
from webapp.forms import Before, Typed, allow, carried_file, groups, setting, title_of
from webapp.pages.own_file import download, sent_values
from webapp.pages.trace.hanging import LOOKS, hanging
from webapp.pages.trace.overlay import overlay
from webapp.pages.trace.to_job import to_job
from webapp.pages.window import window
from webapp.wording import Flag, facts, kinds, verdict
from webapp.workers import CHECKS, apart, has_overrun

bp = Blueprint("trace_page", __name__)

LARGEST_REQUEST = LARGEST_BYTES + carried_file.LARGEST_KEPT + 100_000
AS, TAKE, SAY, HANG, JOB = "as", "take", "say", "hang", "job"
"""Buttons of the form: which file is wanted, which remedy is taken, which units lengths are said in, how the finished
piece is shown as it will hang; and what the first says where it shall go into a job."""
_NOT_VALUES = (AS, TAKE, SAY, HANG, carried_file.FILE, carried_file.KEPT, carried_file.KEPT_NAME)
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""As of every page, and a picture may come within the page itself."""


@dataclass(frozen=True)
class Request:
    """A sent form: the file, the values as they were typed, and what was traced where that could be."""

    data: bytes
    name: str
    given: Mapping[str, str]
    traced: Traced | None = None
    problems: tuple[Problem, ...] = ()


@bp.get("/trace")
def form() -> Response:
    """Show the form, to choose a picture."""
    return _answer(Request(b"", "", {}), setting.units_here())


@bp.post("/trace")
@apart(CHECKS, most=LARGEST_REQUEST)
def trace() -> ResponseReturnValue:
    """Show what was traced; or, by the button of a file, send it."""
    allow(LARGEST_REQUEST, f"a picture may have {LARGEST_BYTES // 1_000_000} MB")
    spoken = request.form.get(SAY, "")
    units = units_of(spoken) if spoken in ("mm", "in") else setting.units_here()
    asked = _asked(units)
    kind = request.form.get(AS, "")
    if asked.traced and kind in FORMATS:
        try:
            return download(asked.traced.file(kind), kind, asked.traced.part.record, "traced", "outline")
        except Refused as refused:
            asked = replace(asked, problems=refused.problems)
    if asked.traced and kind == JOB:
        return to_job(asked.traced, asked.name)
    answer = _answer(asked, units)
    return setting.keep_units(answer, units) if spoken else answer


def _asked(units: Units) -> Request:
    asked = Request(b"", "", {})
    try:
        data, name = carried_file.sent(request.files, request.form, "Choose a picture, an SVG or a DXF.")
        asked = replace(asked, data=data, name=name, given=dict(request.form.items()))
        values = sent_values(_NOT_VALUES)
        values |= _taken(request.form.get(TAKE, ""))
        values |= {"picture": look} if (look := request.form.get(HANG, "")) in LOOKS else {}
        asked = replace(asked, given=values)
        if has_overrun():
            raise Unreadable(f"{name} takes more time or memory to trace than there is; send a smaller or plainer one.")
        return replace(asked, traced=parts.trace(data, name, units, **values))
    except Unreadable as error:
        return replace(asked, problems=(Problem(carried_file.FILE, asked.name, str(error)),))
    except Refused as refused:
        return replace(asked, problems=refused.problems)


def _taken(text: str) -> dict[str, str]:
    """The values of a remedy that was taken, `name=value` joined by `&`; only what a traced part has."""
    pairs = (pair.partition("=") for pair in text[:1000].split("&"))
    return {name: value for name, equals, value in pairs if equals and name in Tracing.specs()}


def _answer(asked: Request, units: Units) -> Response:
    status = 422 if asked.problems else 200
    answer = make_response(_page(asked, units), status)
    answer.headers["Content-Security-Policy"] = _POLICY
    return answer


def _page(asked: Request, units: Units) -> str:
    traced, part = asked.traced, asked.traced.part if asked.traced else None
    typed = _typed(asked, units)
    drawing, whole = picture(part.record, window()) if part else ("", True)
    seen = traced.picture if traced else _seen(asked)
    return render_template(
        "trace.html",
        asked=asked,
        units=units,
        traced=traced,
        part=part,
        title=template(asked.name).title if asked.name else "A picture of your own",
        rows=[(name, rows) for name, rows in groups(template(""), typed)],
        file_message=typed.message(carried_file.FILE),
        loose=[p for p in asked.problems if p.parameter not in (carried_file.FILE, *Tracing.specs())],
        kept=_kept(asked, traced.taken.photo if traced and traced.taken else seen),
        drawing=Markup(drawing),  # noqa: S704 - its writer escapes text
        bare=not whole,
        over=overlay(seen, traced) if seen else "",
        looks=LOOKS,
        hanging=hanging(traced) if traced and request.form.get(HANG) in LOOKS and not has_overrun() else "",
        facts=facts(part) if part else [],
        count=len(part.record.rows) if part else 0,
        kinds=kinds(part) if part else [],
        takes=_takes,
        verdict=verdict(part, refused=bool(asked.problems)),
        formats=FORMATS if traced else (),
        endings=", ".join(f".{each}" for each in ENDINGS),
        largest=f"{LARGEST_BYTES // 1_000_000} MB",
    )


def _kept(asked: Request, seen: Picture | None) -> str:
    """What goes with the page: the file, or where that is too large for it the picture in grey, which traces alike."""
    if not asked.data or len(asked.data) > LARGEST_BYTES:
        return ""
    return carried_file.packed(asked.data) or (carried_file.packed(as_png(seen, longest_px=0)) if seen else "")


def _seen(asked: Request) -> Picture | None:
    """The picture that was sent, where it can be opened, though nothing was traced."""
    if has_overrun() or not is_picture(asked.data):
        return None
    return picture_of(asked.data, asked.name)


def _typed(asked: Request, units: Units) -> Typed:
    given = {
        **{name: text for name, text in setting.kept().values.items() if name in Parameters.specs()},
        **asked.given,
    }
    given["units"] = given.get("units") or units
    values: Mapping[str, Value] = asked.traced.part.record.parameters if asked.traced else {}
    return Typed(given, values or _defaults(given), asked.problems, Before("", {}, {}, {}))


def _defaults(given: Mapping[str, str]) -> dict[str, Value]:
    """What a form shows before anything is traced: the choices as they were sent, else the defaults."""
    specs = Tracing.specs()
    found: dict[str, Value] = {name: default_of(spec, units_of(given.get("units"))) for name, spec in specs.items()}
    return {**found, **{n: given[n] for n, spec in specs.items() if spec.choices and given.get(n) in spec.choices}}


def _takes(flag: Flag) -> list[tuple[str, str]]:
    """The value and the words of the button that takes a finding's remedy, where it can be taken here."""
    specs, changes = Tracing.specs(), flag.finding.changes
    if not changes or any(name not in specs for name, _ in changes):
        return []
    words = ", ".join(f"{specs[name].label}: {title_of(specs[name], value)}" for name, value in changes)
    return [("&".join(f"{name}={value}" for name, value in changes), words)]
