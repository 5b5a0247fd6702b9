"""The files: the address alone makes one, so it can be kept and shared."""

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict
from werkzeug.routing import BaseConverter

import parts
from parts.export import FORMATS, SET_UP_FORMATS
from parts.part import Part
from parts.templates import modules
from parts.templates import template as find
from parts.units import Units, length_in_name, number_in_name
from webapp.forms import COMPENSATE, TYPED_IN, for_table, own_font, shortest, values_of
from webapp.workers import CHECKS, SOLIDS, apart, has_overrun

bp = Blueprint("files", __name__)

SOLID, PICTURE = "step", "png"
"""What takes long to make, and the first much memory: by workers, or whoever types would wait for it."""


class EndingConverter(BaseConverter):
    """The ending of a file's address in any case: a shop's other programs may write `.DXF`."""

    regex = rf"(?i:{'|'.join(FORMATS)})"

    def to_python(self, value: str) -> str:
        """Return the ending as the formats are named."""
        return value.lower()


@bp.get("/parts/<slug>.<kind:kind>")
@apart(SOLIDS, most=0, when=lambda slug, kind: kind == SOLID and slug in modules())
@apart(CHECKS, most=0, when=lambda slug, kind: kind == PICTURE and slug in modules())
def download(slug: str, kind: str) -> ResponseReturnValue:
    """Send the part as a file; a part with a `stop` finding is sent too, the page warns beside it."""
    return _file(slug, kind, request.args)


@bp.post("/parts/<slug>.<kind:kind>")
@apart(CHECKS, most=own_font.LARGEST_REQUEST, when=lambda slug, kind: kind != SOLID)
@apart(SOLIDS, most=own_font.LARGEST_REQUEST, when=lambda slug, kind: kind == SOLID)
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
    part = for_table(parts.draw(slug, **values), chosen)
    if kind in (SOLID, PICTURE) and has_overrun():
        message = "takes more time or memory to make than there is; take the DXF or the SVG instead."
        raise parts.Refused((parts.Problem("format", kind, message),))
    answer = Response(part.file(kind), mimetype=FORMATS[kind].mime_type)
    answer.headers["Content-Disposition"] = f'attachment; filename="{file_name(part, kind)}"'
    answer.cache_control.no_cache = True  # ask again: the shop's own numbers may have changed
    answer.add_etag()
    answer.make_conditional(request)
    return answer


def file_name(part: Part, kind: str) -> str:
    """Return a name that says what is in the file: template, size, thickness; of a DXF its units too.

    R12 is in the name because it has no other place that every reader looks at for its units; the table that a part
    is compensated for, because on any other the part comes out wrong.
    """
    record, measures = part.record, part.measures
    units: Units = record.units
    width, height = number_in_name(measures.width_mm, units), number_in_name(measures.height_mm, units)
    name = f"{record.template.slug}_{width}x{height}_{length_in_name(record.job.cut.thickness_mm, units)}"
    if kind == "dxf":
        name += f"_R12_{units}" if record.dxf_version == "R12" else f"_{units}"
    if record.compensation is not None:
        name += f"_compensated-for-{record.compensation.slug}"
    return f"{name}.{kind}"


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
