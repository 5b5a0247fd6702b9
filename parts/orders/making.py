"""Making: an item of a table to its part, and why it can't be where it can't."""

from collections.abc import Callable
from dataclasses import dataclass

from parts.checking import Checked, check
from parts.errors import PartsError, Refused
from parts.orders.item import PIECE, Item
from parts.part import Part, draw
from parts.shop import usual
from parts.tables import Fault


@dataclass(frozen=True, slots=True)
class Made:
    """A part with what writes it as a file; `checked` where it is someone's own drawing."""

    part: Part
    file: Callable[[str], bytes]
    checked: Checked | None = None


def made(item: Item) -> Made | tuple[Fault, ...]:
    """Return an item drawn and checked, or why it can't be.

    Raises:
        DataError: the shop's own file is unusable.
    """
    try:
        if item.drawing is None:
            values = {**{name: text for name, text in usual().model_dump().items() if text}, **item.values}
            named = values.pop(PIECE, "")
            whole = draw(item.part, **values)
            part = whole.piece(named) if named else whole
            return Made(part, part.file)
        checked = check(item.drawing.read_bytes(), item.drawing.name, **item.values)
        if not checked.closed:
            return (
                Fault(item.row, "part", item.part, "has no outline that closes, so there is nothing to cut of it."),
            )
        return Made(checked.part, checked.file, checked)
    except Refused as refused:
        return tuple(Fault(item.row, p.parameter, p.value, p.message) for p in refused.problems)
    except PartsError as error:
        return (Fault(item.row, "part", item.part, str(error)),)
    except OSError as error:
        return (Fault(item.row, "part", item.part, f"can't be read: {error.strerror or error}."),)
