"""A part of a kept layout moved, turned, pinned by hand: where it can't lie, that is said, and nothing is changed."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from parts.errors import Problem, Refused
from parts.geometry import Point
from parts.laying.kept_layout import Shown, Spot, with_lying
from parts.sheets import Clash, Laid, Placement, clashes, may_lie, moved
from parts.sheets import Problem as Asked
from parts.store import KeptLayout, Lying
from parts.units import format_length

_SAID = {"half": "by half turns, along the grain", "quarter": "by quarter turns", "none": "as it is drawn"}


@dataclass(frozen=True, slots=True)
class Move:
    """What is done with a part: on which sheet its box's lower left comes to lie before it is turned, mm; the turn.

    `at` is None where it stays; `turn_deg` is counter-clockwise, about the middle of the box. With `makes_room` what it
    lies on is taken off the sheet, unless that is pinned.
    """

    to_sheet: int
    at: Point | None = None
    turn_deg: float = 0.0
    makes_room: bool = False


def put(shown: Shown, sheet: int, part: int, move: Move) -> tuple[KeptLayout, Lying, int]:
    """Return a layout with a part moved and pinned, how it lies now, and how many others were taken off for it.

    Raises:
        Refused: there is no such part, or it can't lie there.
    """
    spot = shown.spot(sheet, part)
    target, sort, laid = shown.sheet(move.to_sheet)
    if sort is not spot.sort:
        message = f"is of other material, thickness or process than sheet {move.to_sheet}."
        raise Refused((Problem("part", str(part), message),))
    now = _moved(spot, move)
    _refuse_turn(spot, now, part)
    others = Laid(laid.stock, tuple(each for each in laid.placements if each is not spot.placement))
    off = _way_made(shown, sort.problem, others, now, (move, part))
    lying = Lying(_row(shown, spot.placement), now.x, now.y, now.turn_deg, now.mirrored, True)
    if target == spot.sheet:
        return with_lying(shown.layout, {(spot.sheet, spot.index): lying, **off}), lying, len(off)
    without = with_lying(shown.layout, {(spot.sheet, spot.index): None, **off})
    sheets = list(without.sheets)
    sheets[target] = replace(sheets[target], lying=(*sheets[target].lying, lying))
    return replace(without, sheets=tuple(each for each in sheets if each.lying)), lying, len(off)


def pin(shown: Shown, sheet: int, part: int, *, is_pinned: bool) -> tuple[KeptLayout, Lying]:
    """Return a layout with a part pinned where it lies, or no more so, and that part.

    Raises:
        Refused: there is no such part.
    """
    spot = shown.spot(sheet, part)
    lying = replace(shown.layout.sheets[spot.sheet].lying[spot.index], is_pinned=is_pinned)
    return with_lying(shown.layout, {(spot.sheet, spot.index): lying}), lying


def _moved(spot: Spot, move: Move) -> Placement:
    by = (0.0, 0.0)
    if move.at is not None:
        x0, y0, *_ = spot.placement.shape.bounds
        by = move.at[0] - x0, move.at[1] - y0
    return moved(spot.placement, by, move.turn_deg)


def _refuse_turn(spot: Spot, now: Placement, part: int) -> None:
    if not may_lie(now):
        how = _SAID[spot.placement.piece.turns]
        message = f"may only lie {how}; say otherwise in its line on the job's page."
        raise Refused((Problem("part", str(part), message),))


def _way_made(
    shown: Shown, problem: Asked, others: Laid, now: Placement, said: tuple[Move, int]
) -> dict[tuple[int, int], Lying | None]:
    """The parts that are taken off the sheet for one.

    Raises:
        Refused: it is too near to what stays.
    """
    move, part = said
    known = {id(spot.placement): (of, spot) for of, spot in shown.spots.items()}
    wrong: list[Problem] = []
    off: dict[tuple[int, int], Lying | None] = {}
    for clash in clashes(problem, others, now):
        if clash.other is not None and move.makes_room and not clash.other.is_pinned:
            _, spot = known[id(clash.other)]
            off[spot.sheet, spot.index] = None
        else:
            wrong.append(Problem("part", str(part), " ".join(_said(shown, clash, known, move))))
    if wrong:
        raise Refused(tuple(wrong[:4]))
    return off


def _said(shown: Shown, clash: Clash, known: dict[int, tuple[tuple[int, int], Spot]], move: Move) -> Iterator[str]:
    units = shown.nested.sorts[0].record.units
    needed = format_length(clash.needed, units)
    if clash.other is None:
        yield (
            f"would reach over the edge of sheet {move.to_sheet}." if clash.room < 0
            else f"would be {format_length(clash.room, units)} from the edge; {needed} are asked for."
        )  # fmt: skip
        return
    (_, number), _ = known[id(clash.other)]
    name = shown.nested.items[clash.other.piece.key].name
    which = f"part {number}, {name}"
    if clash.room < 0:
        yield f"would lie on {which}."
    else:
        yield f"would be {format_length(clash.room, units)} from {which}; {needed} are asked for."
    yield "That one is pinned." if clash.other.is_pinned else "Move it elsewhere, or let others make room."


def _row(shown: Shown, placement: Placement) -> int:
    return shown.nested.items[placement.piece.key].row
