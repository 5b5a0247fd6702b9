"""The catalogue: every template by family, with a drawing it makes of itself, and a search."""

from functools import cache
from itertools import groupby

from flask import Blueprint, render_template, request
from markupsafe import Markup

import parts
from parts.export import drawing_svg
from parts.template import Template

bp = Blueprint("catalogue", __name__)

WIDTH_PX, HEIGHT_PX = 110, 80


@bp.get("/")
def catalogue() -> str:
    """Show the templates whose name or words hold every word searched for."""
    sought = request.args.get("q", "").strip()[:80]
    found = [template for template in parts.templates().values() if _matches(template, sought)]
    families = [(family, list(members)) for family, members in groupby(found, key=lambda t: t.family)]
    return render_template("catalogue.html", families=families, sought=sought, picture=picture)


def _matches(template: Template, sought: str) -> bool:
    text = " ".join((template.slug, template.title, template.summary, *template.words)).lower()
    return all(word in text for word in sought.lower().split())


@cache
def picture(slug: str) -> Markup:
    """Return the small drawing of a template with its defaults, at the scale of its family."""
    record = parts.draw(slug).record
    return Markup(drawing_svg.thumbnail(record, _scale(record.template.family)))  # noqa: S704 - no text in it


@cache
def _scale(family: str) -> float:
    """Px to a mm at which the largest of a family fits the picture."""
    sizes = [parts.draw(slug).measures for slug, template in parts.templates().items() if template.family == family]
    return min(min(WIDTH_PX / m.width_mm, HEIGHT_PX / m.height_mm) for m in sizes)
