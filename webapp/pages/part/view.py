"""The part in space: as facets for the page's own view, and as a still picture where that can't be shown."""

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

import parts
from parts.errors import GeometryError
from parts.export import form_of_solid
from parts.facets import VIEWS, described, isometric, meshed, told
from parts.templates import modules
from webapp.forms import COMPENSATE, PIECE, own_font, values_of
from webapp.pages.gzipped import gzipped
from webapp.workers import CHECKS, apart, has_overrun

bp = Blueprint("part_view", __name__)


@bp.get("/parts/<slug>/view.json", defaults={"kind": "json"})
@bp.get("/parts/<slug>/view.svg", defaults={"kind": "svg"})
@apart(CHECKS, most=0, when=lambda slug, kind: slug in modules())
def view(slug: str, kind: str) -> ResponseReturnValue:
    """Send the part in space, folded as its bends say."""
    return _sent(slug, kind, request.args)


@bp.post("/parts/<slug>/view.json", defaults={"kind": "json"})
@bp.post("/parts/<slug>/view.svg", defaults={"kind": "svg"})
@apart(CHECKS, most=own_font.LARGEST_REQUEST)
def view_in_own_font(slug: str, kind: str) -> ResponseReturnValue:
    """Send the part in space, in the font that is sent with the request and not kept."""
    if has_overrun():
        raise parts.Refused((parts.Problem(own_font.FONT, "", own_font.OVERRUN),))
    with own_font.lent(own_font.sent()) as args:
        answer = _sent(slug, kind, args)
    answer.cache_control.no_store = True
    return answer


def _sent(slug: str, kind: str, args: "MultiDict[str, str]") -> Response:
    values = values_of(args)
    values.pop(COMPENSATE, "")  # a solid is of the part as it shall be
    named = values.pop(PIECE, "")
    form = form_of_solid.taken_out(slug, values)
    part = parts.draw(slug, **values)
    part = form_of_solid.in_form(part.piece(named) if named else part, form)
    try:
        if has_overrun():
            raise GeometryError("it takes more time or memory than there is")
        answer = Response(_made(part, kind), mimetype=VIEWS[kind])
    except GeometryError as error:
        message = f"can't be shown in space: {error}."
        raise parts.Refused((parts.Problem("view", kind, message),)) from error
    answer.cache_control.no_cache = True  # ask again: the shop's own numbers may have changed
    answer.add_etag()
    return gzipped(answer, request.accept_encodings)


def _made(part: parts.Part, kind: str) -> str:
    if kind == "json":
        return told(part.record)
    mesh = meshed(part.record)
    return isometric(mesh, described(part.record, mesh))
