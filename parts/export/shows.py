"""What a file shows, `shows=` beside a part's values: what is cut, its dimensioned drawing, or a pattern in true size.

Each format says in the table of formats what it can show besides what it shows unless asked (`Format.others`). A
template that has a parameter of this name keeps it.
"""

from collections.abc import Mapping

from parts.errors import Problem, Refused, did_you_mean
from parts.export.formats import FORMATS
from parts.templates import template

SHOWS = "shows"
DRAWING, PATTERN = "drawing", "pattern"
WORDS: Mapping[str, str] = {
    DRAWING: "the dimensioned drawing",
    PATTERN: "a pattern in true size, over as many sheets as it takes",
}
"""What a file may show besides what is cut, in words."""


def shown_by(slug: str, values: dict[str, str]) -> str:
    """Take out of values what a file shall show, and return it; "" where it isn't said.

    Raises:
        Refused: no format shows that.
        UnknownTemplate: there is no such template.
    """
    if SHOWS not in values or SHOWS in template(slug).parameters.specs():
        return ""
    return known(values.pop(SHOWS))


def known(text: str) -> str:
    """Return what a file shall show, of those that there are.

    Raises:
        Refused: no format shows that.
    """
    word = text.strip().lower()
    if word and word not in WORDS:
        choices = f"must be {' or '.join(WORDS)}{did_you_mean(word, WORDS)}"
        raise Refused((Problem(SHOWS, text, choices),))
    return word


def named(kind: str, shows: str) -> str:
    """Return what the name of a file says of what it shows: `_drawing`; nothing of what it shows unless asked."""
    return f"_{shows}" if shows in FORMATS[kind].others else ""
