"""An answer of the solver as sheets."""

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

from parts.sheets.layout import FINEST, Laid, Placement
from parts.sheets.piece import lying
from parts.sheets.strip.asking import Lying, Packed
from parts.sheets.strip.carrier import Carrier
from parts.sheets.strip.comb import Comb


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where one of an item lies: its place, and from where to where its outline goes along the strip."""

    item: int
    turn_deg: float
    x: float
    y: float
    left: float
    right: float

    def moved(self, by: float) -> "_Spot":
        return replace(self, x=self.x + by, left=self.left + by, right=self.right + by)


def sheets_of(comb: Comb, packed: Packed) -> list[Laid] | None:
    """Return the sheets that an answer comes to, the emptiest last; None where an end of the strip is no sheet."""
    length = comb.sheet[0]
    sheets = list(_parted(comb, packed))
    spans = [max(spot.right for spot in sheet) for sheet in sheets]
    if max(spans, default=0.0) > length:
        return None
    order = sorted(range(len(sheets)), key=lambda i: -spans[i])
    waiting = [list(group) for group in comb.groups]
    return [Laid(comb.stock, tuple(_placements(comb, sheets[i], waiting))) for i in order]


def _parted(comb: Comb, packed: Packed) -> Iterator[list[_Spot]]:
    """Yield what lies on each sheet, from 0 on; what lies beyond the first and the last wall on one, if it can."""
    walls = next((each.x for each in packed.placed if each.item == len(comb.groups)), 0.0)
    between: dict[int, list[_Spot]] = defaultdict(list)
    for each in packed.placed:
        if each.item < len(comb.groups):
            spot = _spot(comb, each)
            number = math.floor(((spot.left + spot.right) / 2 - walls) / comb.pitch) if comb.walls else 0
            between[min(max(number, -1), max(comb.walls - 1, 0))].append(spot)
    ends = [_to_start(between.pop(key)) for key in (-1, max(comb.walls - 1, 0)) if key in between]
    yield from map(_to_start, between.values())
    if len(ends) == 2:
        first = max(spot.right for spot in ends[0])
        if first + max(spot.right for spot in ends[1]) <= comb.sheet[0]:
            ends = [[*ends[0], *(spot.moved(first) for spot in ends[1])]]
    yield from ends


def _spot(comb: Comb, each: Lying) -> _Spot:
    allowed = comb.turns_of(each.item)
    turn = min(allowed, key=lambda turn: abs((turn - each.turn_deg + 180) % 360 - 180))  # as it was, but for rounding
    left, _, right, _ = lying(comb.outlines[each.item], turn, False).bounds
    return _Spot(each.item, turn, each.x, each.y, each.x + left, each.x + right)


def _to_start(spots: list[_Spot]) -> list[_Spot]:
    start = min(spot.left for spot in spots)
    return [spot.moved(-start) for spot in spots]


def _placements(comb: Comb, spots: list[_Spot], waiting: list[list[Carrier]]) -> Iterator[Placement]:
    """Yield the pieces of a sheet: of those alike, whichever still waits."""
    low = comb.problem.margin - comb.spare
    for spot in spots:
        carrier = waiting[spot.item].pop()
        if comb.is_along:
            x, y, turn = low + spot.x, low + spot.y, spot.turn_deg
        else:  # turned by a quarter to the left, then moved back onto the sheet
            x, y, turn = comb.stock.width - low - spot.y, low + spot.x, spot.turn_deg + 90
        x, y = (round(at / FINEST) * FINEST for at in (x, y))
        yield from carrier.laid(replace(carrier.host, x=x, y=y, turn_deg=turn % 360))
