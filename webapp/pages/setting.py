"""The answer to what a shop works with, and the switch of units in the head of every page: kept in the browser.

Whoever switches comes back to the page that was there, with the same part on it: its lengths stay as they were typed.
"""

import re
from collections.abc import Mapping
from http import HTTPStatus
from urllib.parse import parse_qsl, urlencode, urlsplit

from flask import Blueprint, Response, make_response, redirect, render_template, request

from parts import Problem, Refused
from parts.part import address
from parts.templates import modules
from parts.templates import template as find
from parts.units import Units, units_of
from webapp.forms import TYPED_IN, allow, in_units, own_site, setting, shortest

bp = Blueprint("setting", __name__)

LARGEST = 100_000
NOW, ONLY = "now", "only"
"""The button of a switch, and the one that answers nothing."""
_PART = re.compile(r"/parts/([a-z0-9-]+)(?:/remedies)?")
_SPEAKING = re.compile(
    r"/jobs/[0-9]+(?:/sheets)?|/shop(?:/[a-z-]+)?|/true(?:/bend|/sheet|/history)?|/numbers|/check|/trace"
)
"""Pages that say their units in their address."""
_LONGEST = 8000


@bp.post("/setting")
def change() -> Response:
    """Keep what was answered, or the units that were switched to, and lead back.

    Raises:
        NotFromHere: another site's page sent it.
    """
    own_site.check_page()
    allow(LARGEST, f"what a page's form says may have {LARGEST // 1000} kB")
    back = _own_address(request.args.get("back", ""))
    if NOW in request.form:
        units = units_of(request.form[NOW])
        return setting.keep_units(_to(_in_units(back, request.form, units)), units)
    if ONLY in request.form:
        return setting.keep(_to(back), setting.Setting({**setting.kept().values, **_inches()}, is_asked=True))
    try:
        if not request.form.get(setting.UNITS, "").strip():
            raise Refused((Problem(setting.UNITS, "", "Choose inches or millimetres."),))
        answered = setting.read(request.form)
    except Refused as refused:
        return _asked_again(refused, back)
    return setting.keep(_to(_without_units(back)), answered)


def _asked_again(refused: Refused, back: str) -> Response:
    """The question with what was typed in it, and why that can't be."""
    asking = setting.Asking({name: text[:_LONGEST] for name, text in request.form.items()})
    page = render_template("asking_again.html", problems=refused.problems, asking=asking, here=back)
    return make_response(page, HTTPStatus.UNPROCESSABLE_ENTITY)


def _inches() -> dict[str, str]:
    """The inches that whoever only wants to be shown had chosen; millimetres are what holds anyway."""
    return {setting.UNITS: "in"} if units_of(request.form.get(setting.UNITS)) == "in" else {}


def _to(where: str) -> Response:
    answer = redirect(where, HTTPStatus.SEE_OTHER)
    assert isinstance(answer, Response)  # noqa: S101 - flask's own redirect is one
    return answer


def _own_address(text: str) -> str:
    """An address of this site; the list of parts where it is none."""
    at = urlsplit(text[:_LONGEST])
    ours = not at.scheme and not at.netloc and at.path.startswith("/") and "\\" not in text
    return text[:_LONGEST] if ours else "/"


def _in_units(back: str, form: Mapping[str, str], now: Units) -> str:
    """The same page in other units, with what its form had typed in it."""
    at = urlsplit(back)
    query = dict(parse_qsl(at.query, keep_blank_values=True))
    part = _PART.fullmatch(at.path)
    if part and part[1] in modules():
        template = find(part[1])
        values = {name: text for name, text in form.items() if name != NOW}
        said = shortest(template, {**values, "units": now}) if TYPED_IN in form else in_units(template, query, now)
        return address(template.slug, {"units": now, **said})
    if not _SPEAKING.fullmatch(at.path):
        return back
    slug = query.pop("template", "")
    if slug in modules():
        query = {"template": slug, **in_units(find(slug), query, now)}
    return f"{at.path}?{urlencode({**query, 'units': now})}"


def _without_units(back: str) -> str:
    """The page, in whatever units were just chosen."""
    at = urlsplit(back)
    query = [(name, text) for name, text in parse_qsl(at.query, keep_blank_values=True) if name != "units"]
    return f"{at.path}{'?' if query else ''}{urlencode(query)}"
