"""The files: the address alone makes one, so it can be kept and shared."""

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict
from werkzeug.routing import BaseConverter

import parts
from parts.errors import GeometryError
from parts.export import FORMATS, SET_UP_FORMATS, SOLID, form_of_solid, shows, title_block
from parts.packing import file_name, packed
from parts.templates import modules
from parts.templates import template as find
from webapp.forms import COMPENSATE, PIECE, TYPED_IN, for_table, own_font, shortest, values_of
from webapp.workers import CHECKS, SOLIDS, apart, has_overrun

bp = Blueprint("files", __name__)

PICTURE = "png"
"""What takes long to make, as solids do, which take much memory too: by workers, or whoever types would wait for it."""


class EndingConverter(BaseConverter):
    """The ending of a file's address in any case: a shop's other programs may write `.DXF`."""

    regex = rf"(?i:{'|'.join(FORMATS)})"

    def to_python(self, value: str) -> str:
        """Return the ending as the formats are named."""
        return value.lower()


@bp.get("/parts/<slug>.<kind:kind>")
@apart(SOLIDS, most=0, when=lambda slug, kind: kind in SOLID and slug in modules())
@apart(CHECKS, most=0, when=lambda slug, kind: kind == PICTURE and slug in modules())
def download(slug: str, kind: str) -> ResponseReturnValue:
    """Send the part as a file; a part with a `stop` finding is sent too, the page warns beside it."""
    return _file(slug, kind, request.args)


@bp.post("/parts/<slug>.<kind:kind>")
@apart(CHECKS, most=own_font.LARGEST_REQUEST, when=lambda slug, kind: kind not in SOLID)
@apart(SOLIDS, most=own_font.LARGEST_REQUEST, when=lambda slug, kind: kind in SOLID)
def download_in_own_font(slug: str, kind: str) -> ResponseReturnValue:
    """Send the part as a file, in the font that is sent with the request and not kept."""
    if has_overrun():
        raise parts.Refused((parts.Problem(own_font.FONT, "", own_font.OVERRUN),))
    with own_font.lent(own_font.sent()) as args:
        answer = _file(slug, kind, _without_form(args))
    answer.cache_control.no_store = True
    return answer


def _without_form(args: "MultiDict[str, str]") -> "MultiDict[str, str]":
    """What a form sends as the address that says it: a part's page sends its fields with it."""
    slug = str((request.view_args or {})["slug"])
    return MultiDict(shortest(find(slug), args)) if TYPED_IN in args else args


def _file(slug: str, kind: str, args: "MultiDict[str, str]") -> Response:
    values = values_of(args)
    chosen = values.pop(COMPENSATE, "")
    named = values.pop(PIECE, "")
    form = form_of_solid.taken_out(slug, values) if form_of_solid.FORM in values else ""
    shown = shows.shown_by(slug, values) if shows.SHOWS in values else ""
    said = title_block.taken_out(slug, values) if title_block.SAID.keys() & values.keys() else {}
    part = parts.draw(slug, **values).showing(shown).titled(said)
    part = for_table(part.piece(named) if named else part, chosen)
    part = form_of_solid.in_form(part, form) if form else part
    if kind in (*SOLID, PICTURE) and has_overrun():
        message = "takes more time or memory to make than there is; take the DXF or the SVG instead."
        raise parts.Refused((parts.Problem("format", kind, message),))
    try:
        written = part.file(kind)
    except GeometryError as error:
        raise parts.Refused((parts.Problem("format", kind, str(error)),)) from error
    answer = Response(written, mimetype=FORMATS[kind].mime_type)
    answer.headers["Content-Disposition"] = f'attachment; filename="{file_name(part, kind)}"'
    answer.cache_control.no_cache = True  # ask again: the shop's own numbers may have changed
    answer.add_etag()
    answer.make_conditional(request)
    return answer


@bp.get("/parts/<slug>/pack.zip")
@apart(SOLIDS, most=0, when=lambda slug: slug in modules())
def pack(slug: str) -> ResponseReturnValue:
    """Send everything that goes with the part; where solids and picture take too much, the pack says so instead."""
    values = values_of(request.args)
    chosen = values.pop(COMPENSATE, "")
    part = for_table(parts.draw(slug, **values), chosen)
    left_out = (*SOLID, PICTURE) if has_overrun() else ()
    answer = Response(packed(part, left_out=left_out), mimetype="application/zip")
    answer.headers["Content-Disposition"] = f'attachment; filename="{file_name(part, "zip")}"'
    answer.cache_control.no_cache = True
    return answer


@bp.get("/parts/<slug>/setup.pdf", defaults={"kind": "pdf"})
@bp.get("/parts/<slug>/setup.json", defaults={"kind": "json"})
def set_up(slug: str, kind: str) -> ResponseReturnValue:
    """Send the set-up sheet of the part, for whoever stands at the table."""
    values = values_of(request.args)
    chosen = values.pop(COMPENSATE, "")
    part = for_table(parts.draw(slug, **values), chosen)
    answer = Response(part.set_up(kind), mimetype=SET_UP_FORMATS[kind])
    name = file_name(part, kind).removesuffix(f".{kind}")
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}_set-up.{kind}"'
    answer.cache_control.no_cache = True
    answer.add_etag()
    answer.make_conditional(request)
    return answer
