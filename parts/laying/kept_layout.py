"""A job's kept layout: drawn as it was kept, and changed by hand, a part at a time.

Sheets are told by their numbers, a part by its number on its sheet, as both are shown.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from parts.errors import Problem, Refused
from parts.jobs import Searched
from parts.laying.drawing_lines import Making, ordered
from parts.laying.keeping import stock_of_kept
from parts.orders import Made, Nested, Sort, problem_of, sorted_by_stock, unplaced
from parts.sheets import Laid, Layout, Piece, Placement, Unplaced, cutting_order, faults
from parts.store import KeptLayout, KeptSheet, Lying
from parts.tables import Fault

NOT_YET = "isn't laid out yet: lay the job out again"


@dataclass(frozen=True, slots=True)
class Spot:
    """A part where it lies: its sort, its sheet with all on it, its placement, and its place in the kept layout."""

    sort: Sort
    laid: Laid
    placement: Placement
    sheet: int
    index: int


@dataclass(frozen=True, slots=True)
class Shown:
    """A kept layout as it is drawn; `spots` by the number of the sheet and of the part there.

    `of_sheet` has for the number of a sheet its place in the kept layout.
    """

    layout: KeptLayout
    nested: Nested
    spots: Mapping[tuple[int, int], Spot]
    of_sheet: Mapping[int, int]

    def spot(self, sheet: int, part: int) -> Spot:
        """Return where a part lies.

        Raises:
            Refused: there is none of these numbers.
        """
        found = self.spots.get((sheet, part))
        if found is None:
            message = f"isn't a part on sheet {sheet}; its numbers stand on the drawing."
            raise Refused((Problem("part", str(part), message),))
        return found

    def numbers_of(self, lying: Lying) -> tuple[int, int]:
        """Return the numbers of sheet and part of what lies so; zeros where nothing does."""
        found = (of for of, spot in self.spots.items() if self.layout.sheets[spot.sheet].lying[spot.index] == lying)
        return next(found, (0, 0))

    def sheet(self, number: int) -> tuple[int, Sort, Laid]:
        """Return a sheet: its place in the kept layout, its sort, and what lies on it.

        Raises:
            Refused: there is none of this number.
        """
        for at, (sort, laid) in enumerate(self.nested.sheets, start=1):
            if at == number:
                return self.of_sheet[at], sort, laid
        raise Refused((Problem("sheet", str(number), "isn't a sheet of this layout."),))


def as_kept(searched: Searched, making: Making | None = None) -> Shown:
    """Return the layout that a job is kept with, drawn; `notes` of it say what doesn't hold any more.

    Sheets that were cut aren't shown: what is on them is done. `making` has drawn the job's lines before.

    Raises:
        DataError: the shop's own file is unusable.
    """
    layout = searched.content.layout or KeptLayout(())
    drawing = _Drawing(searched, making or Making(searched))
    laid: dict[int, list[tuple[int, Laid, list[int]]]] = {at: [] for at in range(len(drawing.sorts))}
    for number, sheet in enumerate(layout.sheets):
        if not sheet.is_cut:
            for at, placed, indices in drawing.sheets_of(sheet):
                laid[at].append((number, placed, indices))
    return drawing.shown(layout, laid)


class _Drawing:
    """The lines of a job drawn, and which of them lie on one sheet together."""

    def __init__(self, searched: Searched, making: Making) -> None:
        self.items, self.asked = ordered(searched).items, searched.asked
        found = {key: making(item) for key, item in enumerate(self.items)}
        self.drawn: dict[int, Made] = {key: each for key, each in found.items() if isinstance(each, Made)}
        self.faults: tuple[Fault, ...] = tuple(
            fault for each in found.values() if not isinstance(each, Made) for fault in each
        )
        self.sorts = [
            problem_of(keys, self.items, self.drawn, self.asked, ())[:2] for keys in sorted_by_stock(self.drawn)
        ]
        self._pieces: dict[int, tuple[int, Piece]] = {}
        for at, (problem, _) in enumerate(self.sorts):
            for piece in problem.pieces:
                self._pieces[self.items[piece.key].row] = at, piece
        self._left = {item.row: item.quantity for key, item in enumerate(self.items) if key in self.drawn}
        self.notes: list[str] = []

    def sheets_of(self, sheet: KeptSheet) -> Iterator[tuple[int, Laid, list[int]]]:
        """Yield what a kept sheet comes to now for each sort on it, with the places of its parts in it."""
        by_sort: dict[int, list[tuple[int, Placement]]] = {}
        for index, each in enumerate(sheet.lying):
            if self._left.get(each.line, 0) > 0:
                self._left[each.line] -= 1
                at, piece = self._pieces[each.line]
                by_sort.setdefault(at, []).append((index, _placed(piece, each)))
        stock = stock_of_kept(sheet)
        for at, placed in by_sort.items():
            yield at, Laid(stock, tuple(each for _, each in placed)), [index for index, _ in placed]

    def shown(self, layout: KeptLayout, laid: Mapping[int, list[tuple[int, Laid, list[int]]]]) -> Shown:
        """Return everything as it lies, with what lies nowhere, and what is wrong with it now."""
        sorts: list[Sort] = []
        spots: dict[tuple[int, int], Spot] = {}
        of_sheet: dict[int, int] = {}
        for at, (problem, record) in enumerate(self.sorts):
            rest = [
                Unplaced(piece, NOT_YET)
                for piece in dict.fromkeys(problem.pieces)
                for _ in range(self._left[self.items[piece.key].row])
            ]
            sort = Sort(record, problem, Layout(tuple(each for _, each, _ in laid[at]), tuple(rest)))
            self.notes += [f"{fault[0].upper()}{fault[1:]}." for fault in faults(problem, sort.layout)]
            sorts.append(sort)
            for kept, sheet, indices in laid[at]:
                number = len(of_sheet) + 1
                of_sheet[number] = kept
                places = {id(each): index for each, index in zip(sheet.placements, indices, strict=True)}
                for part, each in enumerate(cutting_order(sheet), start=1):
                    spots[number, part] = Spot(sort, sheet, each, kept, places[id(each)])
        self._tell_gone(layout)
        left = tuple(each for sort in sorts for each in unplaced(self.items, sort))
        nested = Nested(
            self.items, self.drawn, tuple(sorts), left, self.faults, self.asked.margin, tuple(self.notes)
        )  # fmt: skip
        return Shown(layout, nested, spots, of_sheet)

    def _tell_gone(self, layout: KeptLayout) -> None:
        """Say how many of what was laid out aren't ordered any more."""
        there = sum(len(sheet.lying) for sheet in layout.sheets if not sheet.is_cut)
        ordered_now = sum(item.quantity for key, item in enumerate(self.items) if key in self.drawn)
        placed = ordered_now - sum(self._left.values())
        if gone := there - placed:
            self.notes.append(f"{gone} of what was laid out {'is' if gone == 1 else 'are'} no longer in the job.")


def _placed(piece: Piece, each: Lying) -> Placement:
    return Placement(piece, each.x, each.y, each.turn_deg, each.mirrored, each.is_pinned)


def with_lying(layout: KeptLayout, changes: Mapping[tuple[int, int], Lying | None]) -> KeptLayout:
    """Return a layout in which parts, by the places of their sheets and theirs there, lie otherwise, or not at all."""
    sheets: Sequence[KeptSheet] = [
        replace(
            sheet,
            lying=tuple(
                now for index, each in enumerate(sheet.lying) if (now := changes.get((number, index), each)) is not None
            ),
        )
        for number, sheet in enumerate(layout.sheets)
    ]
    return replace(layout, sheets=tuple(sheets))
