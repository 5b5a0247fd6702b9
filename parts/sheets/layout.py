"""What a layout is asked for, and what it is."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from shapely import affinity
from shapely.geometry.base import BaseGeometry

from parts.geometry import Motion
from parts.sheets.piece import Piece, cos_sin, lying
from parts.sheets.stock import Stock

FINEST = 1.0e-6
"""Coordinates of a placement are whole numbers of this, mm."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Pieces, one for each part that is wanted, to be laid on stock; lengths in mm.

    `gap` is the least distance of two parts, `margin` that of a part to the edge of its sheet. `begun` are sheets on
    which some of the pieces are pinned: there they stay, and others are laid around them.
    """

    pieces: tuple[Piece, ...]
    stock: tuple[Stock, ...]
    gap: float
    margin: float
    begun: "tuple[Laid, ...]" = ()

    @property
    def loose(self) -> tuple[Piece, ...]:
        """The pieces that aren't pinned."""
        pinned = Counter(each.piece for laid in self.begun for each in laid.placements)
        found = []
        for piece in self.pieces:
            if pinned[piece]:
                pinned[piece] -= 1
            else:
                found.append(piece)
        return tuple(found)

    @property
    def error(self) -> float:
        """How far any flattened outline is from the true one at the most."""
        return max((piece.error for piece in self.pieces), default=0.0)

    @property
    def grown(self) -> float:
        """What an outline grows by so that grown ones may touch: half the gap, and what flattening takes."""
        return self.gap / 2 + self.error

    def room(self, stock: Stock) -> tuple[float, float]:
        """Return width and height of where parts may lie; its lower left is at the margin, both ways."""
        return stock.width - 2 * self.margin, stock.height - 2 * self.margin


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one piece lies: mirrored in x (x becomes -x), turned counter-clockwise about the origin, then moved.

    `is_pinned` is of one that was put there by hand and stays.
    """

    piece: Piece
    x: float
    y: float
    turn_deg: float
    mirrored: bool
    is_pinned: bool = False

    @property
    def motion(self) -> Motion:
        """The motion that takes the part's own coordinates to the sheet's."""
        c, s = cos_sin(self.turn_deg)  # x mirrored is y mirrored and half a turn
        return Motion((self.x, self.y), -c if self.mirrored else c, -s if self.mirrored else s, self.mirrored)

    @property
    def shape(self) -> BaseGeometry:
        """The metal where it lies."""
        return affinity.translate(lying(self.piece.shape, self.turn_deg, self.mirrored), self.x, self.y)


@dataclass(frozen=True, slots=True)
class Laid:
    """One sheet with what lies on it."""

    stock: Stock
    placements: tuple[Placement, ...]

    @property
    def share(self) -> float:
        """The area of the parts over that of the sheet."""
        return sum(each.piece.area for each in self.placements) / self.stock.area

    @property
    def is_begun(self) -> bool:
        """Whether something is pinned on it."""
        return any(each.is_pinned for each in self.placements)


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A piece that lies nowhere, and why."""

    piece: Piece
    why: str


@dataclass(frozen=True, slots=True)
class Layout:
    """Sheets with what lies on each, and what lies on none."""

    sheets: tuple[Laid, ...]
    unplaced: tuple[Unplaced, ...] = ()

    @property
    def cost(self) -> tuple[float, ...]:
        """What a better layout has less of: metal left over, new sheet, off-cuts, and how far the last one is used."""
        left = sum(each.piece.area for each in self.unplaced)
        new = sum(laid.stock.area for laid in self.sheets if laid.stock.is_new)
        old = sum(laid.stock.area for laid in self.sheets if not laid.stock.is_new)
        return left, new, old, used_of(self.sheets[-1]) if self.sheets else 0.0


def used_of(laid: Laid) -> float:
    """Return how far along its longer side a sheet is used, as a share."""
    boxes: Sequence[tuple[float, ...]] = [each.shape.bounds for each in laid.placements]
    if not boxes:
        return 0.0
    axis = 0 if laid.stock.width >= laid.stock.height else 1
    return max(box[2 + axis] for box in boxes) / max(laid.stock.width, laid.stock.height)
