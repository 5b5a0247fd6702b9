"""A file of someone's own on a page: the values sent beside it, and the file that is handed back."""

import re
from collections.abc import Collection
from pathlib import PurePath

from flask import Response, request
from werkzeug.datastructures import MultiDict

from parts.export import FORMATS
from parts.record import Record
from webapp.forms import values_of


def sent_values(others: Collection[str]) -> dict[str, str]:
    """Return the values of the form that was sent, without what was left empty and `others`, which aren't values."""
    return values_of(MultiDict((n, v) for n, v in request.form.items(multi=True) if n not in others and v))


def download(data: bytes, kind: str, record: Record, done: str, otherwise: str) -> Response:
    """Return the answer that hands over a file of one of `FORMATS`, which nobody keeps.

    Its name is that of the file it comes of, or `otherwise`, with what was `done` to it, and a DXF's units.
    """
    stem = re.sub(r"[^A-Za-z0-9._-]+", "-", PurePath(record.template.title).stem).strip("-.") or otherwise
    suffix = ""
    if kind == "dxf":
        suffix = f"_R12_{record.units}" if record.dxf_version == "R12" else f"_{record.units}"
    answer = Response(data, mimetype=FORMATS[kind].mime_type)
    answer.headers["Content-Disposition"] = f'attachment; filename="{stem}_{done}{suffix}.{kind}"'
    answer.cache_control.no_store = True
    return answer
