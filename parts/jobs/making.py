"""Making: a part as it is kept, to what is drawn and checked of it."""

from parts.checking import LAYER, OUTLINE, Checked, check
from parts.errors import PartsError, Problem, Refused
from parts.part import Part, draw
from parts.store import Kept
from parts.units import Units

TITLE = "drawing"
"""What a problem of a drawing's file is told of."""


def made(kept: Kept, data: bytes = b"", units: Units | None = None) -> Part | Checked:
    """Return a part drawn and checked.

    Args:
        kept: the part.
        data: of the drawing.
        units: of the sentences about a drawing; those of its own unless given.

    Raises:
        Refused: it can't be drawn as it is kept, with why.
        DataError: the shop's own file is unusable.
    """
    values = dict(kept.values)
    try:
        if not kept.drawing:
            return draw(kept.part, **values)
        chosen = {f"{LAYER}s": kept.layers, f"{OUTLINE}s": kept.outlines}
        checked = check(data, kept.part, units, **chosen, **values)
    except Refused:
        raise
    except PartsError as error:
        raise Refused((Problem(TITLE if kept.drawing else "part", kept.part, str(error)),)) from error
    if not checked.closed:
        message = "has no outline that closes, so there is nothing to cut of it."
        raise Refused((Problem(TITLE, kept.part, message),))
    return checked


def part_of(found: Part | Checked) -> Part:
    """Return the part that was drawn, or that a drawing was checked as."""
    return found.part if isinstance(found, Checked) else found
