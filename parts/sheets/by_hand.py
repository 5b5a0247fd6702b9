"""By hand: whether a piece can lie where somebody puts it, told by what it is too near to."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from parts.geometry import Point
from parts.sheets.layout import FINEST, Laid, Placement, Problem
from parts.sheets.piece import cos_sin

_SLACK_MM = 2e-6


@dataclass(frozen=True, slots=True)
class Clash:
    """What a piece is too near to: another one, None for the edge of the sheet.

    `room` is the distance that there is, mm, below 0 where it reaches over the edge or lies on the other; `needed` is
    what there has to be.
    """

    other: Placement | None
    room: float
    needed: float


def clashes(problem: Problem, laid: Laid, placement: Placement) -> Iterator[Clash]:
    """Yield whatever a piece is too near to on a sheet: its edge, then the others there in their order."""
    shape, piece = placement.shape, placement.piece
    spill = piece.spill_at(placement.turn_deg)
    if laid.stock.outline is None:
        x0, y0, x1, y1 = shape.bounds
        room = min(x0, y0, laid.stock.width - x1, laid.stock.height - y1) - spill
    elif laid.stock.outline.contains(shape):
        room = laid.stock.outline.boundary.distance(shape) - piece.error
    else:
        room = -1.0
    if room < problem.margin - _SLACK_MM:
        yield Clash(None, room, problem.margin)
    for other in laid.placements:
        between = shape.distance(other.shape) - 2 * problem.error
        if other is not placement and between < problem.gap - _SLACK_MM:
            lies_on = shapely.intersects(shape, other.shape) and not shapely.touches(shape, other.shape)
            if lies_on or problem.gap:
                yield Clash(other, -1.0 if lies_on else max(between, 0.0), problem.gap)


def moved(placement: Placement, by: Point, turn_deg: float) -> Placement:
    """Return a piece turned counter-clockwise about the middle of its box, then moved; it is pinned there."""
    x0, y0, x1, y1 = placement.shape.bounds
    mx, my = (x0 + x1) / 2, (y0 + y1) / 2
    c, s = cos_sin(turn_deg % 360)
    dx, dy = placement.x - mx, placement.y - my
    x, y = mx + c * dx - s * dy + by[0], my + s * dx + c * dy + by[1]
    x, y = (round(at / FINEST) * FINEST for at in (x, y))
    turn = round((placement.turn_deg + turn_deg) % 360, 6) % 360
    return replace(placement, x=x, y=y, turn_deg=turn, is_pinned=True)


def may_lie(placement: Placement) -> bool:
    """Tell whether a piece may lie so: at any angle where it may, else by its turns, and on its other face."""
    piece = placement.piece
    if placement.mirrored and not piece.mirror:
        return False
    return piece.turns == "any" or any(math.isclose(placement.turn_deg, turn, abs_tol=1e-6) for turn, _ in piece.ways)
