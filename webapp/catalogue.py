"""The catalogue: every template by family, with a drawing it makes of itself, and a search."""

from collections.abc import Iterator
from difflib import get_close_matches
from functools import cache
from itertools import groupby

from flask import Blueprint, render_template, request
from markupsafe import Markup

import parts
from parts.export import drawing_svg
from parts.template import Template
from parts.templates import family_title

bp = Blueprint("catalogue", __name__)

WIDTH_PX, HEIGHT_PX = 150, 104
LONGEST_SEARCH = 80


@bp.get("/")
def catalogue() -> str:
    """Show the templates whose name or words hold every word searched for."""
    sought = request.args.get("q", "").strip()[:LONGEST_SEARCH]
    found = list(search(sought))
    families = [(family, list(members)) for family, members in groupby(found, key=lambda t: t.family)]
    return render_template(
        "catalogue.html",
        families=families,
        title_of=family_title,
        sought=sought,
        picture=picture,
        count=len(found),
        words=suggestions(),
    )


def search(sought: str) -> Iterator[Template]:
    """Yield the templates that go by every word of a search, a slip of the pen allowed for."""
    wanted = sought.lower().split()
    for template in parts.templates().values():
        if all(_goes_by(template, word) for word in wanted):
            yield template


def suggestions() -> list[str]:
    """Return a shop's word for each template, to show what can be searched for."""
    return list(dict.fromkeys(t.words[0] for t in parts.templates().values() if t.words))


def _goes_by(template: Template, word: str) -> bool:
    text = " ".join((template.slug, template.title, template.summary, *template.words)).lower()
    return word in text or (len(word) > 3 and bool(get_close_matches(word, text.split(), n=1, cutoff=0.8)))


def picture(slug: str) -> Markup:
    """Return the small drawing of a template with its defaults; none where the shop's numbers rule them out."""
    try:
        return _picture(slug)
    except parts.Refused:
        return Markup()


@cache
def _picture(slug: str) -> Markup:
    """The picture at the scale of its family."""
    record = parts.draw(slug).record
    return Markup(drawing_svg.thumbnail(record, _scale(record.template.family)))  # noqa: S704 - no text in it


@cache
def _scale(family: str) -> float:
    """Px to a mm at which the largest of a family fits the picture."""
    sizes = [parts.draw(slug).measures for slug, template in parts.templates().items() if template.family == family]
    return min(min(WIDTH_PX / m.width_mm, HEIGHT_PX / m.height_mm) for m in sizes)
