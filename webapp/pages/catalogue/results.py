"""The results of a search as the list shows them: each with its link, filled in with the sizes that were said."""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.catalogue import Found, fill
from parts.part import address
from parts.spec import Template
from webapp.forms import setting

MOST_FILLED = 12
"""So many of the best are filled in: each is drawn to see whether it would be refused."""


@dataclass(frozen=True, slots=True)
class Row:
    """A template in the list: the address of its page, and what of the search is filled in there, or isn't."""

    template: Template
    address: str
    filled: str = ""
    left_out: str = ""


def row(template: Template, shop: setting.Setting) -> Row:
    """Return the row of a template as it comes in a shop."""
    return Row(template, shop.address(template.slug))


def rows(found: Found, shop: setting.Setting) -> Iterator[Row]:
    """Yield the templates that were found, the best of them filled in."""
    for place, template in enumerate(found.templates):
        plain = row(template, shop)
        if place >= MOST_FILLED:
            yield plain
            continue
        filled = fill(template, found.said, shop.units, found.named.get(template.slug))
        to = address(template.slug, {**shop.said, **filled.values}) if filled.values else plain.address
        yield Row(template, to, filled.sentence, ". ".join(filled.left_out))
