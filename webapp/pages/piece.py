"""The drawing of a measured piece with its letters, to stand beside the rows that it is measured by."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl

from markupsafe import Markup

from parts import Refused, draw


@dataclass(frozen=True, slots=True)
class Piece:
    """The drawing, and by the letter of each row the letter on the drawing that it is measured at."""

    drawing: Markup
    letters: Mapping[str, str]


def piece_of(query: str) -> Piece | None:
    """Return the piece of a measuring sheet; None where it can't be drawn, or isn't one that is measured.

    Args:
        query: of the sheet's address, as `template=square-test&holes_x=4`.
    """
    values = dict(parse_qsl(query))
    try:
        sheet = draw(values.pop("template", ""), **values).measuring_sheet()
    except (Refused, LookupError):  # what a file says may be anything
        return None
    return Piece(Markup(sheet.to_svg()), sheet.letters)  # noqa: S704 - its writer escapes text
