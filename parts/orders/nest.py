"""Nesting: what a table orders, laid out on sheets, one set of them for each material and thickness."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from parts.checking import Checked
from parts.errors import Problem as Wrong
from parts.errors import Refused
from parts.orders.asked import Asked, Pinned
from parts.orders.item import Item, Ordered
from parts.orders.making import Made, made
from parts.orders.seeds import Each, best_of_seeds, one_by_one
from parts.orders.sort import Sort, problem_of, sorted_by_stock
from parts.part import Part
from parts.record import Record
from parts.sheets import Laid, Placement, Problem, lay_out, rings_of
from parts.tables import Fault
from parts.units import format_length

MOST_PARTS = 5_000
_STOPS = "a finding says stop"


@dataclass(frozen=True, slots=True)
class Nested:
    """Everything a table orders, as it lies, and what doesn't lie anywhere with why: `row`, `part`, `why`."""

    items: tuple[Item, ...]
    parts: Mapping[int, Made]
    sorts: tuple[Sort, ...]
    left: tuple[tuple[Item | None, int, str, str], ...]
    faults: tuple[Fault, ...]
    margin: float
    notes: tuple[str, ...] = ()
    """What became of what was pinned and can't stay where it was."""

    @property
    def sheets(self) -> Iterator[tuple[Sort, Laid]]:
        """Every sheet with its sort, in the order in which they are numbered."""
        return ((sort, laid) for sort in self.sorts for laid in sort.layout.sheets)

    @property
    def exit_status(self) -> int:
        """2 where a row is refused, else 1 where a part isn't placed or a finding says stop, else 0."""
        stops = any(made.part.stopped for made in self.parts.values())
        return 2 if self.faults else int(bool(self.left) or stops)

    def content(self) -> dict[str, Any]:
        """Return it as the contract of `nest --json` has it; lengths in mm."""
        sheets = [self._sheet(number, sort, laid) for number, (sort, laid) in enumerate(self.sheets, start=1)]
        unplaced = [{"row": row, "part": part, "why": why} for _, row, part, why in self.left]
        unplaced += [
            {"row": fault.row, "part": "", "why": ": ".join(filter(None, (fault.column, fault.value, fault.message)))}
            for fault in self.faults
        ]
        return {"sheets": sheets, "unplaced": unplaced}

    def _sheet(self, number: int, sort: Sort, laid: Laid) -> dict[str, Any]:
        cut = sort.record.job.cut
        return {
            "width_mm": laid.stock.width,
            "height_mm": laid.stock.height,
            "yield": laid.share,
            "placements": [self._placement(each) for each in laid.placements],
            "material": cut.material,
            "thickness_mm": cut.thickness_mm,
            "gap_mm": sort.gap,
            "margin_mm": self.margin,
            "file": sheet_name(number),
            **(
                {"off_cut": laid.stock.off_cut, "outline_mm": rings_of(laid.stock.outline)}
                if laid.stock.off_cut
                else {}
            ),
        }

    def _placement(self, each: Placement) -> dict[str, Any]:
        item, (dx, dy) = self.items[each.piece.key], self._own_origin(each.piece.key)
        moved = Placement(each.piece, 0.0, 0.0, each.turn_deg, each.mirrored).motion.point((dx, dy))
        return {
            "row": item.row,
            "part": item.part,
            "x_mm": round(each.x - moved[0], 6) + 0.0,
            "y_mm": round(each.y - moved[1], 6) + 0.0,
            "turn_deg": each.turn_deg,
            "mirrored": each.mirrored,
            "name": item.name,
            **({"pinned": True} if each.is_pinned else {}),
        }

    def _own_origin(self, key: int) -> tuple[float, float]:
        """Where a part's lower left is in its own coordinates: of someone's drawing, in those that its file has."""
        checked = self.parts[key].checked
        return own_origin(checked) if checked else (0.0, 0.0)


def own_origin(checked: Checked) -> tuple[float, float]:
    """Return where the lower left of a drawing's part is in its own file, mm.

    A file whose y runs down, as an SVG's does, has no place there in the coordinates of a DXF: the origin stands.
    """
    (x, y), (ux, uy), (vx, vy) = (checked.at_drawing(at) for at in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))
    is_moved = max(abs(ux - x - 1), abs(uy - y), abs(vx - x), abs(vy - y - 1)) < 1e-6
    return (x, y) if is_moved else (0.0, 0.0)


def sheet_name(number: int) -> str:
    """Return what the DXF of a sheet is called."""
    return f"sheet-{number:02d}.dxf"


Making: TypeAlias = Callable[[Item], Made | tuple[Fault, ...]]
"""Draws an item, or says why it can't be drawn."""


def nest(
    ordered: Ordered,
    asked: Asked,
    better: Callable[[Sort], None] = lambda sort: None,
    making: Making = made,
    pinned: Sequence[Pinned] = (),
    each: Each = one_by_one,
) -> Nested:
    """Return what a table orders laid out on sheets; each sort of stock has its share of the time.

    Args:
        ordered: the items of the table.
        asked: stock, gap, margin and time.
        better: told of every layout that is better than those before.
        making: draws the items.
        pinned: what stays where it lies.
        each: tries seeds, where those are asked for.

    Raises:
        Refused: more parts than are laid out at once, or a margin that leaves nothing of a sheet.
        DataError: the shop's own file is unusable.
    """
    if (count := sum(item.quantity for item in ordered.items)) > MOST_PARTS:
        message = f"comes to {count:,} parts; up to {MOST_PARTS:,} are laid out at once. Split the table."
        raise Refused((Wrong("quantity", "", message),))
    for kind in asked.stock:
        if min(kind.width, kind.height) <= 2 * asked.margin:
            raise Refused(
                (
                    Wrong(
                        "margin", format_length(asked.margin, "mm"), "leaves nothing of the sheet; take a smaller one."
                    ),
                )
            )
    drawn, left, faults = _drawn(ordered, asked, making)
    sorts = sorted_by_stock(drawn)
    shares = asked.seconds / max(len(sorts), 1)
    laid: list[Sort] = []
    notes: list[str] = []
    for keys in sorts:
        problem, record, told = problem_of(keys, ordered.items, drawn, asked, pinned)
        notes += told
        if asked.seeds:
            sort = Sort(record, problem, best_of_seeds(problem, asked.seeds, each))
            better(sort)
        else:
            sort = _laid(problem, record, shares, better)
        laid.append(sort)
        left += unplaced(ordered.items, sort)
    return Nested(ordered.items, drawn, tuple(laid), tuple(left), faults, asked.margin, tuple(notes))


Left: TypeAlias = tuple[Item | None, int, str, str]
"""What lies nowhere: the item, its row, its part, and why."""


def unplaced(items: Sequence[Item], sort: Sort) -> list[Left]:
    """Return what of a sort lies on none of its sheets."""
    of = [(items[each.piece.key], each.why) for each in sort.layout.unplaced]
    return [(item, item.row, item.part, why) for item, why in of]


def _drawn(
    ordered: Ordered, asked: Asked, making: Making
) -> tuple[dict[int, Made], list[tuple[Item | None, int, str, str]], tuple[Fault, ...]]:
    """The parts by the places of their items, what a finding stops, and what is refused."""
    drawn: dict[int, Made] = {}
    left: list[tuple[Item | None, int, str, str]] = []
    faults = list(ordered.faults)
    for key, item in enumerate(ordered.items):
        found = making(item)
        if not isinstance(found, Made):
            faults += found
        elif found.part.stopped and not asked.even_so:
            left += [(item, item.row, item.part, _stopped(found.part))] * item.quantity
        else:
            drawn[key] = found
    return drawn, left, tuple(sorted(faults, key=lambda fault: fault.row))


def _stopped(part: Part) -> str:
    first = next(finding for finding in part.findings if finding.severity == "stop")
    return f"{_STOPS}: {first.rule}: {first.message} {first.remedy}"


def _laid(problem: Problem, record: Record, seconds: float, better: Callable[[Sort], None]) -> Sort:
    limit = seconds if math.isfinite(seconds) else 5.0
    layout = lay_out(problem, limit, lambda found: better(Sort(record, problem, found)))
    return Sort(record, problem, layout)
