"""The catalogue: every template by family, with a drawing it makes of itself, and a search."""

from functools import cache
from itertools import groupby

from flask import Blueprint, render_template, request
from markupsafe import Markup

import parts
from parts.export import drawing_svg
from parts.template import Template

bp = Blueprint("catalogue", __name__)


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
    """Return the small drawing of a template with its defaults."""
    return Markup(drawing_svg.thumbnail(parts.draw(slug).record))  # noqa: S704 - the text is escaped by its writer
