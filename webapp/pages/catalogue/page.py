"""The catalogue: every template by family, with a drawing it makes of itself, or what a search found, best first."""

from itertools import groupby

from flask import Blueprint, Response, make_response, render_template, request

import parts
from parts.catalogue import LONGEST_SEARCH, find
from parts.templates import broken, family_title
from webapp.forms import setting
from webapp.pages.catalogue.results import row, rows
from webapp.pages.catalogue.thumbnails import keep_all, thumbnail
from webapp.pages.gzipped import gzipped
from webapp.wording import found_in_words

bp = Blueprint("catalogue", __name__)
EXAMPLES = ("4 x 6 gusset 3/16", "2x2 cap", "nema 23", "DN50 flange", "drip tray")
"""Searches that show what can be typed."""

OF_A_PICTURE = frozenset(
    ("trace", "tracing", "logo", "logos", "picture", "pictures", "photo", "photos", "image", "images", "png", "jpg")
)
"""Words of a search that ask for no template, but for a picture of one's own to be traced."""


@bp.get("/")
def catalogue() -> Response:
    """Show every template, or those that go by what is searched for."""
    sought = " ".join(request.args.get("q", "")[:LONGEST_SEARCH].split())
    found = find(sought)
    every, shop = parts.templates(), setting.kept()
    families = [
        (family, family_title(family), [row(template, shop) for template in members])
        for family, members in groupby(every.values(), key=lambda t: t.family)
    ]
    page = render_template(
        "catalogue.html",
        families=[] if sought else families,
        results=[*rows(found, shop)] if sought else [],
        told=found_in_words(found, sought, len(every)) if sought else f"{len(every)} parts",
        sought=sought,
        is_of_a_picture=not OF_A_PICTURE.isdisjoint(sought.lower().split()),
        longest=LONGEST_SEARCH,
        picture=thumbnail,
        examples=EXAMPLES,
        broken=[*broken().values()],
    )
    if not sought:
        keep_all()
    return gzipped(make_response(page), request.accept_encodings)
