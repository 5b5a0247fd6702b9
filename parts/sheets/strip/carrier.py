"""Carriers: pieces with what lies in their openings, which goes where they go."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from parts.sheets.layout import FINEST, Placement
from parts.sheets.piece import Piece, cos_sin, lying


@dataclass(frozen=True, slots=True)
class Carrier:
    """A piece as it lies in a layout, with the pieces that lie in its openings there."""

    host: Placement
    carried: tuple[Placement, ...] = ()

    @property
    def kind(self) -> tuple[object, ...]:
        """What is alike of carriers that can stand for each other."""
        return (self.host.piece, self.host.mirrored, *([self] if self.carried else []))

    @property
    def turns(self) -> tuple[float, ...]:
        """Degrees that the host may lie at, everything that it carries turned as it is."""
        by = [(turn, (turn - self.host.turn_deg) % 360) for turn in _turns(self.host.piece, self.host.mirrored)]
        return tuple(
            turn for turn, more in by
            if all(_turned(each, more) in _turns(each.piece, each.mirrored) for each in self.carried)
        )  # fmt: skip

    @property
    def outline(self) -> BaseGeometry:
        """The host without its openings, mirrored where it is, not turned; of several pieces their convex hull."""
        filled = filled_of(self.host.piece.shape)
        return lying(filled, 0.0, self.host.mirrored)

    def laid(self, host: Placement) -> list[Placement]:
        """Return everything where it lies when the host, or where nothing is carried one alike, lies so."""
        more = host.turn_deg - self.host.turn_deg
        c, s = cos_sin(more % 360)
        found = [host]
        for each in self.carried:
            dx, dy = each.x - self.host.x, each.y - self.host.y
            x, y = (round(at / FINEST) * FINEST for at in (host.x + c * dx - s * dy, host.y + s * dx + c * dy))
            found.append(Placement(each.piece, x, y, _turned(each, more), each.mirrored))
        return found


def carriers_of(placements: Sequence[Placement]) -> list[Carrier]:
    """Return the pieces of a sheet that lie in no other, each with those that lie in it."""
    filled = np.array([filled_of(each.shape) for each in placements], dtype=object)
    shapes = np.array([each.shape for each in placements], dtype=object)
    inner, outer = shapely.STRtree(filled).query(shapes, predicate="within")
    within: dict[int, list[int]] = {}
    for i, j in zip(inner.tolist(), outer.tolist(), strict=True):
        if i != j:
            within.setdefault(i, []).append(j)
    held: dict[int, list[Placement]] = {i: [] for i in range(len(placements)) if i not in within}
    for i, around in within.items():
        outermost = next((j for j in around if j in held), None)
        if outermost is not None:
            held[outermost].append(placements[i])
    return [Carrier(placements[i], tuple(carried)) for i, carried in held.items()]


def filled_of(shape: BaseGeometry) -> BaseGeometry:
    """Return a shape without its openings; of several pieces their convex hull."""
    parts = shapely.get_parts(shape)
    return shapely.Polygon(parts[0].exterior) if len(parts) == 1 else shape.convex_hull


def _turns(piece: Piece, mirrored: bool) -> list[float]:
    return [turn for turn, flip in piece.ways if flip == mirrored]


def _turned(each: Placement, more: float) -> float:
    return round((each.turn_deg + more) % 360, 6) % 360
