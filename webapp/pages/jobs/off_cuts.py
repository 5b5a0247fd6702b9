"""The off-cuts of the store: listed, put in by their size or a drawing, taken out."""

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from http import HTTPStatus

from flask import Response, make_response, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from parts import Problem, Refused, store
from parts.cutting import materials
from parts.read import LARGEST_BYTES
from parts.store import OffCut, Rings
from parts.units import Units, format_both, format_rough
from webapp.forms import setting
from webapp.pages.jobs.blueprint import FILES, bp, may_change, number_in
from webapp.workers import CHECKS, apart, has_overrun

_LARGEST = LARGEST_BYTES + 100_000
FILES["jobs.change_off_cuts"] = (_LARGEST, f"a drawing may have {LARGEST_BYTES // 1_000_000} MB")
_WIDTH_PX, _HEIGHT_PX = 132.0, 88.0


@dataclass(frozen=True, slots=True)
class _Row:
    """An off-cut as the list shows it."""

    kept: OffCut
    size: str
    thickness: str
    material: str
    sketch: Markup


@bp.get("/off-cuts")
def off_cuts() -> Response:
    """Show the off-cuts that are there."""
    return _page()


@bp.post("/off-cuts")
@apart(CHECKS, most=_LARGEST)
def change_off_cuts() -> ResponseReturnValue:
    """Put an off-cut in, or take one out."""
    try:
        if (number := number_in(request.form.get("take", ""))) is not None:
            store.take_off_cut(number)
        elif has_overrun():
            raise Refused((Problem("file", "", "takes more time or memory to read than there is; draw it simpler."),))
        else:
            store.keep_off_cut(_said())
    except Refused as refused:
        return _page(refused, request.form)
    return redirect(url_for(".off_cuts"), HTTPStatus.SEE_OTHER)


def _said() -> OffCut:
    from parts.laying import drawn_as, measured  # noqa: PLC0415 - what lays parts out is slow to load

    form, units = request.form, setting.units_here()
    stock = {name: form[name] for name in ("thickness", "material") if form.get(name, "").strip()}
    if "thickness" not in stock:
        raise Refused((Problem("thickness", "", "isn't given: say how thick it is, such as 6 or 1/4 in."),))
    handed = request.files.get("file")
    if handed is not None and handed.filename:
        with handed.stream:
            return drawn_as(handed.read(LARGEST_BYTES + 1), handed.filename, units, form.get("name", ""), **stock)
    return measured(form.get("size", ""), units, form.get("name", ""), **stock)


def _page(refused: Refused | None = None, typed: Mapping[str, str] | None = None) -> Response:
    units, known = setting.units_here(), {slug: each.title for slug, each in materials().items()}
    page = render_template(
        "off_cuts.html",
        rows=[_row(each, units, known) for each in store.off_cuts()],
        materials=known,
        units=units,
        typed=typed or {},
        longest=store.LONGEST_NAME,
        problems=refused.problems if refused else (),
        **may_change(),
    )
    return make_response(page, HTTPStatus.UNPROCESSABLE_ENTITY if refused else HTTPStatus.OK)


def _row(each: OffCut, units: Units, known: Mapping[str, str]) -> _Row:
    width, height = each.size
    size = f"{format_rough(width, units)} by {format_rough(height, units)}"
    title = known.get(each.material, each.material)
    return _Row(each, size, format_both(each.thickness_mm), title, _sketch(each.outline, width, height))


def _sketch(outline: Rings, width: float, height: float) -> Markup:
    """A small drawing, to scale for itself."""
    scale = min(_WIDTH_PX / width, _HEIGHT_PX / height)
    path = "".join(f"M{'L'.join(f'{x * scale:.1f} {(height - y) * scale:.1f}' for x, y in ring)}Z" for ring in outline)
    box = f"-1 -1 {width * scale + 2:.1f} {height * scale + 2:.1f}"
    return Markup(  # noqa: S704 - numbers alone
        f'<svg viewBox="{escape(box)}" width="{width * scale + 2:.0f}" height="{height * scale + 2:.0f}" '
        f'fill="none" stroke="currentColor" aria-hidden="true"><path d="{path}"/></svg>'
    )
