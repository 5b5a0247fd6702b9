"""The files: the address alone makes one, so it can be kept and shared."""

from collections.abc import Callable, Mapping

from flask import Blueprint, Response, request

import parts
from parts.part import Part
from webapp.request import values_of

bp = Blueprint("files", __name__)

WRITERS: Mapping[str, tuple[str, Callable[[Part], str | bytes]]] = {
    "dxf": ("image/vnd.dxf", Part.to_dxf),
    "svg": ("image/svg+xml", Part.to_svg),
    "pdf": ("application/pdf", Part.to_pdf),
    "step": ("model/step", Part.to_step),
    "json": ("application/json", Part.to_json),
}


@bp.get("/parts/<slug>.<any(dxf, svg, pdf, step, json):kind>")
def download(slug: str, kind: str) -> Response:
    """Send the part as a file; a part with a `stop` finding is sent too, the page warns beside it."""
    part = parts.draw(slug, **values_of(request.args))
    mimetype, writer = WRITERS[kind]
    answer = Response(writer(part), mimetype=mimetype)
    answer.headers["Content-Disposition"] = f'attachment; filename="{file_name(part, kind)}"'
    return answer


def file_name(part: Part, kind: str) -> str:
    """Return a name that says what is in the file, its units too: an R12 drawing has no other place for them."""
    m, record = part.measures, part.record
    units = f"_{record.units}" + ("_R12" if record.dxf_version == "R12" else "") if kind == "dxf" else ""
    size = f"{m.width_mm:.0f}x{m.height_mm:.0f}x{record.job.cut.thickness_mm:g}mm"
    return f"{record.template.slug}_{size}{units}.{kind}"
