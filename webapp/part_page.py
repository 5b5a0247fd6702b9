"""The page of a part: the form filled in, the drawing, the findings, the facts, the downloads."""

from urllib.parse import urlencode

from flask import Blueprint, render_template, request
from markupsafe import Markup

import parts
from parts.export import drawing_svg
from parts.finding import Finding
from parts.part import Part
from parts.templates import template as find
from parts.units import format_both, format_length
from webapp.form import groups
from webapp.request import values_of

bp = Blueprint("part_page", __name__)

FORMATS = ("dxf", "svg", "pdf", "step", "json")


@bp.get("/parts/<slug>")
def page(slug: str) -> tuple[str, int]:
    """Show the part; where its values are refused, say so at the fields and keep what was typed."""
    template = find(slug)
    typed = {name: given for name, given in request.args.items() if name in template.parameters.specs()}
    problems: tuple[parts.Problem, ...] = ()
    try:
        part = parts.draw(slug, **values_of(request.args))
    except parts.Refused as refused:
        problems = refused.problems
        part = _nearest(slug, typed, problems)
    known = template.parameters.specs()
    return render_template(
        "part.html",
        template=template,
        part=part,
        groups=groups(template, typed, problems),
        problems=problems,
        loose=[problem for problem in problems if problem.parameter not in known],
        drawing=Markup(drawing_svg.write(part.record)),  # noqa: S704 - its writer escapes text
        facts=facts(part),
        findings=[(n, f, remedy_address(slug, typed, f)) for n, f in enumerate(part.findings, 1)],
        downloads=[(kind, _download(part, slug, kind)) for kind in FORMATS],
        stops=sum(finding.severity == "stop" for finding in part.findings),
    ), 422 if problems else 200


def _nearest(slug: str, typed: dict[str, str], problems: tuple[parts.Problem, ...]) -> Part:
    """The part without the values at fault; with none of them, where that can't be drawn either."""
    wrong = {problem.parameter for problem in problems}
    try:
        return parts.draw(slug, **{name: value for name, value in typed.items() if name not in wrong})
    except parts.Refused:
        return parts.draw(slug)


def facts(part: Part) -> list[tuple[str, str]]:
    """Return what people want at a glance, each with its name."""
    m, job = part.measures, part.record.job

    def say(mm: float) -> str:
        return format_length(round(mm, 1), part.record.units)

    return [
        ("Size", f"{say(m.width_mm)} by {say(m.height_mm)}"),
        ("Stock", f"{format_both(job.cut.thickness_mm)} {part.record.material_title.lower()}"),
        ("Mass", f"{m.mass_kg:.2f} kg ({m.mass_kg / 0.45359237:.2f} lb)"),
        ("Cut length", say(m.cut_length_mm)),
        ("Pierces", str(m.pierces)),
        ("Cutting time", f"{m.cut_time_s:.0f} s at {job.cut.feed_mm_s:.0f} mm/s"),
        ("Kerf", say(job.cut.kerf_mm)),
    ]


def remedy_address(slug: str, typed: dict[str, str], finding: Finding) -> str:
    """Return the address of the part with a finding's remedy taken; empty where it has none."""
    if not finding.changes:
        return ""
    return f"/parts/{slug}?{urlencode({**typed, **dict(finding.changes)})}"


def _download(part: Part, slug: str, kind: str) -> str:
    return part.record.address.replace(f"/parts/{slug}", f"/parts/{slug}.{kind}", 1)
