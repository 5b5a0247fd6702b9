"""A job's kept layout: kept from what was found, shown as sheets, and changed by hand, each change a revision."""

import io
import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from http import HTTPStatus
from typing import TYPE_CHECKING

from flask import Response, abort, make_response, redirect, render_template, request, send_file, url_for
from markupsafe import Markup

from parts import Problem, Refused, store
from parts.jobs import Searched
from parts.store import Content, Job, KeptLayout, Lying
from parts.units import MM_PER_IN, Units, format_time
from webapp.forms import setting
from webapp.pages.gzipped import gzipped
from webapp.pages.jobs.blueprint import LARGEST, bp, may_change, number_in, there
from webapp.pages.jobs.sheets import MOST_SECONDS, Wanted, found_layout, searched_of, sizes_in
from webapp.workers import CHECKS, apart, has_overrun

if TYPE_CHECKING:
    from parts.laying import Making, Move, Shown

_TOO_MUCH = Problem("job", "", "takes more time or memory to draw than there is; take lines out, or split it.")
_MIMETYPES = {"dxf": "image/vnd.dxf", "pdf": "application/pdf", "json": "application/json", "zip": "application/zip"}


@dataclass(frozen=True, slots=True)
class _Kept:
    """A job with its kept layout drawn."""

    job: Job
    units: Units
    wanted: Wanted
    searched: Searched
    making: "Making"
    shown: "Shown"

    def with_layout(self, layout: KeptLayout) -> "Shown":
        """Return another layout of the same job, drawn."""
        from parts.laying import as_kept  # noqa: PLC0415 - what lays parts out is slow to load

        content = replace(self.searched.content, layout=layout)
        return as_kept(replace(self.searched, content=content), self.making)


def _kept(number: int) -> _Kept:
    """The job of a number with its kept layout; an address of one that has none leads nowhere."""
    from parts.laying import Making, as_kept  # noqa: PLC0415 - as above

    job, units = there(lambda: store.job(number)), setting.units_here()
    layout = job.content.layout
    if layout is None:
        abort(HTTPStatus.NOT_FOUND)
    wanted = Wanted(layout.sheet, layout.gap, layout.margin, layout.time, layout.even_so, layout.off_cuts)
    searched = searched_of(job.content, wanted, units)
    making = Making(searched)
    return _Kept(job, units, wanted, searched, making, as_kept(searched, making))


@bp.get("/<int:number>/layout")
@apart(CHECKS, most=LARGEST)
def layout(number: int) -> Response:
    """Show the layout that a job is kept with, and how a part on it is moved, turned and pinned."""
    if there(lambda: store.job(number)).content.layout is None:
        return _to(url_for(".sheets", number=number))
    if has_overrun():
        raise Refused((_TOO_MUCH,))
    return _page(_kept(number))


@bp.get("/<int:number>/layout/<name>")
@apart(CHECKS, most=LARGEST)
def layout_file(number: int, name: str) -> Response:
    """Send a file of the kept layout: the DXF of a sheet, the overview, JSON, or all in a ZIP."""
    from parts.laying import ZIPPED, zipped  # noqa: PLC0415 - as above
    from parts.orders import layout_files  # noqa: PLC0415

    if has_overrun():
        raise Refused((_TOO_MUCH,))
    files = layout_files(_kept(number).shown.nested)
    data = zipped(files) if name == ZIPPED else files.get(name)
    if data is None:
        abort(HTTPStatus.NOT_FOUND)
    kind = _MIMETYPES[name.rpartition(".")[2]]
    return send_file(io.BytesIO(data), kind, as_attachment=True, download_name=f"job-{number}-{name}")


@bp.post("/<int:number>/layout/keep")
def keep_layout(number: int) -> Response:
    """Keep the layout that a search has found with its job; sheets that were cut before stay."""
    job, units = there(lambda: store.job(number)), setting.units_here()
    rows, wanted = found_layout(job, units)
    if rows is None:
        raise Refused((Problem("layout", "", "isn't there any more: lay the job out again, then keep it."),))
    found = store.layout_of(json.loads(rows), "layout")

    def kept(job: Job) -> Content:
        cut = tuple(sheet for sheet in job.content.layout.sheets if sheet.is_cut) if job.content.layout else ()
        new = KeptLayout((*cut, *found.sheets), *_with_units(wanted, units), wanted.even_so, wanted.off_cuts)
        return replace(job.content, layout=new)

    store.change_and(number, job.revision.number, kept)
    return _to(url_for(".layout", number=number))


def _with_units(wanted: Wanted, units: Units) -> tuple[str, str, str, str]:
    """What was typed, with the unit that was meant, so that it means the same whatever units are worked in later."""

    def meant(text: str) -> str:
        size, colon, count = text.partition(":")
        has_unit = not size.strip() or any(sign.isalpha() and sign not in "xX" for sign in size) or {*size} & {*"\"'"}
        return text if has_unit else " ".join((size.strip(), units)) + colon + count

    sheets = ", ".join(map(meant, sizes_in(wanted.sheet)))
    return sheets, meant(wanted.gap), meant(wanted.margin), wanted.time


@bp.post("/<int:number>/layout")
@apart(CHECKS, most=LARGEST)
def change_layout(number: int) -> Response:
    """Move, turn, pin or unpin a part; unpin all; tell that a sheet is cut; keep the layout no more."""
    if has_overrun():
        raise Refused((_TOO_MUCH,))
    kept = _kept(number)
    try:
        return _ACTS.get(request.form.get("act", ""), _unknown)(kept)
    except Refused as refused:
        return _page(kept, refused)


def _unknown(kept: _Kept) -> Response:
    raise Refused((Problem("act", request.form.get("act", "")[:40], f"must be one of {', '.join(_ACTS)}."),))


def _change(kept: _Kept, layout: KeptLayout | None, at: tuple[int, int] = (0, 0)) -> Response:
    """Keep a changed layout; the way to it, and to a sheet and a part there."""
    store.change_and(kept.job.number, _number("seen"), lambda job: replace(job.content, layout=layout))
    return _to_part(kept, *at)


def _to_part(kept: _Kept, sheet: int = 0, part: int = 0) -> Response:
    anchor = f"sheet-{sheet}" if sheet else None
    return _to(url_for(".layout", number=kept.job.number, _anchor=anchor, sheet=sheet or None, part=part or None))


def _put(kept: _Kept) -> Response:
    from parts.laying import put  # noqa: PLC0415 - as above

    sheet, part = _number("sheet"), _number("part")
    layout, lying, _ = put(kept.shown, sheet, part, _move(kept, sheet, part))
    return _change(kept, layout, _where(kept, layout, lying))


def _move(kept: _Kept, sheet: int, part: int) -> "Move":
    from parts.laying import Move  # noqa: PLC0415 - as above
    from parts.orders import length_of  # noqa: PLC0415

    x0, y0, *_ = kept.shown.spot(sheet, part).placement.shape.bounds
    at = []
    for name, said, now in (("x", "from the left", x0), ("y", "from below", y0)):
        text = request.form.get(name, "").strip()
        is_as_it_was = text in ("", said_at(now, kept.units))
        at.append(now if is_as_it_was else length_of(said, text, kept.units))
    turn = request.form.get("turn", "").strip() or "0"
    try:
        turn_deg = float(turn)
    except ValueError:
        turn_deg = 999.0
    if not -360 <= turn_deg <= 360:  # which no number that isn't one is
        raise Refused((Problem("turn", turn[:40], "must be degrees to the left, -360 to 360."),))
    to_sheet = number_in(request.form.get("to_sheet", "")) or sheet
    return Move(to_sheet, (at[0], at[1]), turn_deg, request.form.get("makes_room") == "yes")


def _pin(kept: _Kept, *, is_pinned: bool) -> Response:
    from parts.laying import pin  # noqa: PLC0415 - as above

    layout, lying = pin(kept.shown, _number("sheet"), _number("part"), is_pinned=is_pinned)
    return _change(kept, layout, _where(kept, layout, lying))


def _where(kept: _Kept, layout: KeptLayout, lying: Lying) -> tuple[int, int]:
    return kept.with_layout(layout).numbers_of(lying)


def _unpin_all(kept: _Kept) -> Response:
    return _change(kept, kept.shown.layout.unpinned())


def _forget(kept: _Kept) -> Response:
    store.change_and(kept.job.number, _number("seen"), lambda job: replace(job.content, layout=None))
    return _to(url_for(".page", number=kept.job.number))


def _cut(kept: _Kept) -> Response:
    from parts.laying import left_of_sheet  # noqa: PLC0415 - as above

    number = _number("sheet")
    at, sort, laid = kept.shown.sheet(number)
    left = left_of_sheet(sort, laid, "") if request.form.get("keeps_left") == "yes" else None
    store.cut_sheet(kept.job.number, _number("seen"), at, left)
    return _to_part(kept)


_ACTS: dict[str, Callable[[_Kept], Response]] = {
    "put": _put,
    "pin": lambda kept: _pin(kept, is_pinned=True),
    "unpin": lambda kept: _pin(kept, is_pinned=False),
    "unpin-all": _unpin_all,
    "cut": _cut,
    "forget": _forget,
}


def _number(name: str) -> int:
    return number_in(request.form.get(name, "").strip()) or 0


def _to(address: str) -> Response:
    answer = redirect(address, HTTPStatus.SEE_OTHER)
    assert isinstance(answer, Response)  # noqa: S101 - flask's own redirect is one
    return answer


def said_at(mm: float, units: Units) -> str:
    """Return a place on a sheet as its field has it: to a hundredth of a mm, or a thousandth of an inch."""
    text = f"{mm:.2f}" if units == "mm" else f"{mm / MM_PER_IN:.3f}"
    return text.rstrip("0").rstrip(".") or "0"


def _page(kept: _Kept, refused: Refused | None = None) -> Response:
    from parts.laying import shown  # noqa: PLC0415 - as above

    drawn = shown(kept.shown.nested)
    given = request.form if refused else request.args
    chosen = number_in(given.get("sheet", "")) or 0, number_in(given.get("part", "")) or 0
    spot = kept.shown.spots.get(chosen)
    place = {name: request.form.get(name, "") for name in ("x", "y", "turn")} if refused and spot else {}
    if spot and not place:
        x0, y0, *_ = spot.placement.shape.bounds
        place = {"x": said_at(x0, kept.units), "y": said_at(y0, kept.units), "turn": "0"}
    page = render_template(
        "job_layout.html",
        job=kept.job,
        wanted=kept.wanted,
        units=kept.units,
        problems=refused.problems if refused else (),
        sheets=[{**each, "svg": Markup(each["svg"])} for each in drawn["sheets"]],  # noqa: S704 - escaped
        unplaced=drawn["unplaced"],
        faults=drawn["faults"],
        notes=drawn["notes"],
        chosen=chosen if spot else (0, 0),
        place=place,
        is_pinned=bool(spot and spot.placement.is_pinned),
        to_sheet=number_in(request.form.get("to_sheet", "")) or chosen[0],
        makes_room=request.form.get("makes_room") == "yes",
        pinned=kept.shown.layout.pinned,
        cut=sum(sheet.is_cut for sheet in kept.shown.layout.sheets),
        on_rack=len(store.off_cuts()),
        longest=format_time(MOST_SECONDS),
        **may_change(),
    )
    answer = make_response(page, HTTPStatus.UNPROCESSABLE_ENTITY if refused else HTTPStatus.OK)
    return gzipped(answer, request.accept_encodings)
