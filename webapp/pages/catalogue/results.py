"""The results of a search as the list shows them: each with its link, filled in with the sizes that were said."""

from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import urlencode

from parts.catalogue import Found, fill
from parts.spec import Template

MOST_FILLED = 12
"""So many of the best are filled in: each is drawn to see whether it would be refused."""


@dataclass(frozen=True, slots=True)
class Row:
    """A template in the list: the address of its page, and what of the search is filled in there, or isn't."""

    template: Template
    address: str
    filled: str = ""
    left_out: str = ""


def row(template: Template) -> Row:
    """Return the row of a template as it comes."""
    return Row(template, f"/parts/{template.slug}")


def rows(found: Found) -> Iterator[Row]:
    """Yield the templates that were found, the best of them filled in."""
    for place, template in enumerate(found.templates):
        plain = row(template)
        if place >= MOST_FILLED:
            yield plain
            continue
        filled = fill(template, found.said)
        query = f"?{urlencode(filled.values)}" if filled.values else ""
        yield Row(template, plain.address + query, filled.sentence, ". ".join(filled.left_out))
