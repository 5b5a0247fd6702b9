"""The page that opens a file of Platewright's again: it leads to the part, or first shows what was edited since.

Nothing is kept, as on the page that checks a drawing; the file goes on from here to that page.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from urllib.parse import urlsplit

from flask import Blueprint, redirect, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from parts import Problem, Refused, UnknownTemplate, Unreadable
from parts.checking import picture
from parts.read import LARGEST_BYTES
from parts.reopen import Reopened, reopen
from parts.templates import template
from parts.units import with_unit
from webapp.forms import allow, carried_file, setting
from webapp.pages.window import window
from webapp.workers import CHECKS, apart, has_overrun

bp = Blueprint("opened_page", __name__)

LARGEST_REQUEST = LARGEST_BYTES + carried_file.LARGEST_KEPT + 100_000
_MOST_SHOWN, _LONGEST_SHOWN = 12, 2000
ADDRESS = "address"
_CHOOSE = (
    "Choose a file that Platewright wrote: a DXF, SVG, PDF, STEP, GLB, PNG or JSON; or give the address on a drawing."
)
_WHAT = {"added": "In the file alone", "missing": "Drawn by the values alone"}


@bp.get("/open")
def form() -> str:
    """Show the form, to choose a file."""
    return _page("")


@bp.post("/open")
@apart(CHECKS, most=LARGEST_REQUEST)
def opened() -> ResponseReturnValue:
    """Lead to the part that a file is of; where its outline was edited since, show how instead."""
    allow(LARGEST_REQUEST, f"a file may have {LARGEST_BYTES // 1_000_000} MB")
    name = ""
    try:
        if (address := request.form.get(ADDRESS, "").strip()) and not _has_file():
            return redirect(_part_at(address), 303)
        data, name = carried_file.sent(request.files, request.form, _CHOOSE)
        if has_overrun():
            raise Unreadable(f"{name} takes more time or memory to open than there is.")
        found = reopen(data, name)
    except Unreadable as error:
        return _page(name, (Problem(carried_file.FILE, name, str(error)),)), 422
    except Refused as refused:
        return _page(name, refused.problems), 422
    if not found.edited:
        return redirect(found.address, 303)
    return _page(name, found=found, kept=carried_file.packed(data))


def _has_file() -> bool:
    chosen = request.files.get(carried_file.FILE)
    return bool(chosen and chosen.filename)


def _part_at(address: str) -> str:
    """Return the address here of a part whose address was on a drawing.

    Raises:
        Refused: it is none of a part, or of a template that isn't here.
    """
    shown = address[:_LONGEST_SHOWN]
    try:
        split = urlsplit(address)
    except ValueError:
        split = urlsplit("")
    slug = split.path.rpartition("/parts/")[2].rpartition(".")[0] or split.path.rpartition("/parts/")[2]
    if "/parts/" not in split.path or not slug:
        raise Refused((Problem(ADDRESS, shown, "must be the address of a part: /parts/gusset-triangle?leg_a=100mm."),))
    try:
        template(slug)
    except UnknownTemplate as error:
        raise Refused((Problem(ADDRESS, shown, f"is of no template here. {error}"),)) from error
    return f"/parts/{slug}{'?' if split.query else ''}{split.query}"


def _page(name: str, problems: tuple[Problem, ...] = (), found: Reopened | None = None, kept: str = "") -> str:
    drawing = ""
    if found and found.compared:
        alone = ((each.segment,) for each in found.compared.differences if each.what == "added" and each.segment)
        drawing, _ = picture(replace(found.part.record, aside=tuple(alone)), window())
    return render_template(
        "open.html",
        name=name,
        address=request.form.get(ADDRESS, "")[:_LONGEST_SHOWN],
        problems=problems,
        found=found,
        title=found.part.record.template.title if found else "",
        kept=kept,
        thickness=_thickness(found) if found else "",
        drawing=Markup(drawing),  # noqa: S704 - its writer escapes text
        rows=list(_rows(found)) if found else [],
        units=found.part.record.units if found else setting.units_here(),
    )


def _thickness(found: Reopened) -> str:
    record = found.part.record
    return record.specs["thickness"].text(record.parameters["thickness"], record.units)


def _rows(found: Reopened) -> Iterator[tuple[str, str, str, str]]:
    """Yield the differences furthest off: what, layer, where, by how much."""
    record = found.part.record
    if found.compared is None:
        return
    for each in sorted(found.compared.differences, key=lambda each: -each.off_mm)[:_MOST_SHOWN]:
        at = with_unit(", ".join(record.number(v) for v in each.at), record.job.units)
        off = record.job.say(each.off_mm) if each.off_mm < math.inf else "nothing else on its layer"
        yield _WHAT[each.what], each.layer, at, off
