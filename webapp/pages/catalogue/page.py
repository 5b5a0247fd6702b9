"""The catalogue: every template by family, with a drawing it makes of itself, and a search."""

from itertools import groupby

from flask import Blueprint, render_template, request

import parts
from parts.templates import broken, family_title
from webapp.pages.catalogue.search import LONGEST_SEARCH, search, suggestions
from webapp.pages.catalogue.thumbnails import thumbnail

bp = Blueprint("catalogue", __name__)


@bp.get("/")
def catalogue() -> str:
    """Show the templates that go by what is searched for."""
    sought = request.args.get("q", "").strip()[:LONGEST_SEARCH]
    found = search(sought)
    families = [
        (family, family_title(family), list(members))
        for family, members in groupby(found.templates, key=lambda t: t.family)
    ]
    return render_template(
        "catalogue.html",
        families=families,
        sought=sought,
        picture=thumbnail,
        count=len(found.templates),
        unmet=found.unmet,
        every=len(parts.templates()),
        words=suggestions(),
        broken=[*broken().values()],
    )
