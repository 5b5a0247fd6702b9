"""The lines of a job as what is laid out: items, each drawn once."""

from collections.abc import Mapping
from dataclasses import replace

from parts.checking import Checked
from parts.errors import Refused
from parts.jobs import Searched, made
from parts.orders import Item, Made, Ordered
from parts.store import KeptLayout, Line
from parts.tables import Fault


def ordered(searched: Searched) -> Ordered:
    """Return what is still to be laid out of a job: what was cut of it isn't."""
    cut = cut_of(searched.content.layout)
    left = [replace(line, quantity=line.quantity - cut.get(line.number, 0)) for line in searched.content.lines]
    return Ordered(tuple(_item(line) for line in left if line.quantity > 0), ())


def cut_of(layout: KeptLayout | None) -> Mapping[int, int]:
    """Return how many of each line were cut already."""
    counted: dict[int, int] = {}
    for sheet in layout.sheets if layout else ():
        for each in sheet.lying if sheet.is_cut else ():
            counted[each.line] = counted.get(each.line, 0) + 1
    return counted


def _item(line: Line) -> Item:
    """A line as an item of a table, its row the line's number."""
    name = line.name or line.kept.part
    return Item(line.number, line.kept.part, name, line.quantity, line.turns, line.mirror, {})


class Making:
    """Draws each line once."""

    def __init__(self, searched: Searched) -> None:
        self._lines = {line.number: line for line in searched.content.lines}
        self._files = searched.files
        self._drawn: dict[int, Made | tuple[Fault, ...]] = {}

    def __call__(self, item: Item) -> Made | tuple[Fault, ...]:
        """Return a line drawn, or why it can't be."""
        if item.row not in self._drawn:
            self._drawn[item.row] = self._made(item)
        return self._drawn[item.row]

    def _made(self, item: Item) -> Made | tuple[Fault, ...]:
        kept = self._lines[item.row].kept
        try:
            found = made(kept, self._files.get(kept.drawing, b""))
        except Refused as refused:
            return tuple(Fault(item.row, each.parameter, each.value, each.message) for each in refused.problems)
        return Made(found.part, found.file, found) if isinstance(found, Checked) else Made(found, found.file)
