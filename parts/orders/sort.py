"""Sorts: the parts that can lie on one sheet, since they are of one material and thickness and are cut one way."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from parts.cutting import Cut
from parts.orders.asked import Asked, OffCut, Pin, Pinned
from parts.orders.item import Item
from parts.orders.making import Made
from parts.record import Record
from parts.sheets import Laid, Layout, Piece, Placement, Problem, Stock, clashes, may_lie, piece_of

_SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Sort:
    """Parts of one material and thickness that are cut one way, by the keys of their pieces; what was asked; sheets."""

    record: Record
    problem: Problem
    layout: Layout

    @property
    def gap(self) -> float:
        """The least distance of two parts, mm."""
        return self.problem.gap


def gap_of(cut: Cut) -> float:
    """Return how far apart parts lie, mm: a kerf beside each, and between those the narrowest bridge that stands."""
    return cut.narrowest_bridge_mm + 2 * cut.kerf_mm


def sorted_by_stock(drawn: Mapping[int, Made]) -> list[list[int]]:
    """Return the keys of parts that can lie on one sheet together, in the order of the table."""
    sorts: dict[tuple[object, ...], list[int]] = {}
    for key, each in drawn.items():
        cut = each.part.record.job.cut
        sorts.setdefault((cut.material, round(cut.thickness_mm, 6), cut.process), []).append(key)
    return list(sorts.values())


def problem_of(
    keys: Sequence[int], items: Sequence[Item], drawn: Mapping[int, Made], asked: Asked, pinned: Sequence[Pinned]
) -> tuple[Problem, Record, list[str]]:
    """Return what is laid out of a sort, its first part's record, and what of the pinned can't stay, in sentences."""
    record = drawn[keys[0]].part.record
    gap = gap_of(record.job.cut) if asked.gap is None else asked.gap
    pieces = {key: piece_of(key, drawn[key].part.profile, items[key].turns, items[key].mirror) for key in keys}
    every = tuple(pieces[key] for key in keys for _ in range(items[key].quantity))
    kinds = (*(each.stock for each in asked.off_cuts if _is_of(each, record.job.cut)), *asked.stock)
    empty = Problem(every, kinds, gap, asked.margin)
    begun = _Begun(empty, items, pieces)
    for sheet in pinned:
        begun.add(sheet)
    stock = (*kinds, *(kind for kind in begun.kinds if all(kind is not other for other in kinds)))
    return replace(empty, stock=stock, begun=tuple(begun.sheets)), record, begun.told


def _is_of(off_cut: OffCut, cut: Cut) -> bool:
    return off_cut.material == cut.material and abs(off_cut.thickness_mm - cut.thickness_mm) < _SAME_MM


@dataclass(slots=True)
class _Begun:
    """The sheets with what is pinned on them, each pin looked at before it is taken over."""

    problem: Problem
    items: Sequence[Item]
    pieces: Mapping[int, Piece]
    sheets: list[Laid] = field(default_factory=list)
    kinds: list[Stock] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    _used: dict[int, int] = field(default_factory=dict)

    def add(self, sheet: Pinned) -> None:
        """Begin a sheet with those of its pins that are of this sort and can stay."""
        stock = self._kind(sheet.stock)
        laid = Laid(stock, ())
        for pin in sheet.pins:
            if pin.key not in self.pieces:
                continue
            placement = Placement(self.pieces[pin.key], pin.x, pin.y, pin.turn_deg, pin.mirrored, is_pinned=True)
            if why := next(self._why_not(pin, laid, placement), ""):
                item = self.items[pin.key]
                self.told.append(f"{item.name or item.part} was pinned, {why}: it is laid out with the others.")
            else:
                self._used[pin.key] = self._used.get(pin.key, 0) + 1
                laid = Laid(stock, (*laid.placements, placement))
        if laid.placements:
            self.sheets.append(laid)
            self.kinds.append(stock)

    def _why_not(self, pin: Pin, laid: Laid, placement: Placement) -> Iterator[str]:
        if self._used.get(pin.key, 0) >= self.items[pin.key].quantity:
            yield "and isn't ordered any more"
        if not may_lie(placement):
            yield "and may no longer lie that way"
        for clash in clashes(self.problem, laid, placement):
            yield f"and is now too near to {'another that is' if clash.other else 'the edge of its sheet'}"

    def _kind(self, stock: Stock) -> Stock:
        """The kind of sheet that a begun one is of: one that is asked for where there is one left, else its own."""
        for kind in self.problem.stock:
            alike = (kind.width, kind.height, kind.off_cut) == (stock.width, stock.height, stock.off_cut)
            if alike and sum(other is kind for other in self.kinds) < kind.limit:
                return kind
        return replace(stock, count=1)
