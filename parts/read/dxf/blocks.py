"""DXF blocks: what is drawn once and placed where it is inserted, scaled, turned, mirrored, in rows and columns."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from parts.errors import Unreadable
from parts.geometry import Point
from parts.read.affine import Affine, shift
from parts.read.dxf.layer_table import LayerTable
from parts.read.dxf.shapes import UPRIGHT
from parts.read.layers import NOTES
from parts.read.limits import FAR_OUT, Budget
from parts.read.pieces import LeftOut, Spot, Stroke, placed
from parts.read.raw import Raw


@dataclass(frozen=True, slots=True)
class Insert:
    """A block placed: how, before its base point is known, and the steps of its rows and columns."""

    block: str
    layer: str
    to: Affine
    size: Affine
    columns: int
    rows: int
    step: Point
    linetype: str = ""

    def places(self, base: Point) -> Iterator[Affine]:
        """Yield where the block's own coordinates go."""
        inner = self.size.after(shift(-base[0], -base[1]))
        for row in range(self.rows):
            for column in range(self.columns):
                yield self.to.after(shift(column * self.step[0], row * self.step[1])).after(inner)


BlockItem: TypeAlias = Stroke | Spot | LeftOut | Insert


@dataclass(slots=True)
class Block:
    """What a block holds, and the point of it that is placed."""

    base: Point
    items: list[BlockItem] = field(default_factory=list)


class Placing:
    """Puts the items of blocks on the drawing, as far as their layers show them."""

    def __init__(self, raw: Raw, budget: Budget) -> None:
        self._raw = raw
        self._budget = budget
        self.layers = LayerTable()
        self.blocks: dict[str, Block] = {}

    def place(self, block: Block, to: Affine, by: Insert | None = None, layer: str = "0", depth: int = 0) -> None:
        """Place a block's items; those on layer 0 lie on the layer of what places the block.

        Raises:
            Unreadable: if blocks are placed too often, too deep, or too far out.
        """
        linetype = by.linetype if by else ""
        for item in block.items:
            on = layer if item.layer == "0" else item.layer
            row = self.layers.row(on)
            if row.hidden and (row.is_frozen or not isinstance(item, Insert)):  # one that is off hides its own alone
                self._raw.hidden[row.hidden] += on.upper() != NOTES  # our own, off as we write it
            elif isinstance(item, Insert):
                self._insert(replace(item, linetype=self.layers.linetype(item.linetype, on, linetype)), to, on, depth)
            elif isinstance(item, Stroke):
                pieces = item.pieces if to is UPRIGHT else tuple(q for p in item.pieces for q in placed(p, to))
                if depth:
                    self._budget.segments(len(pieces))
                self._raw.strokes.append(
                    Stroke(
                        pieces,
                        item.closed,
                        self.layers.name(on, item.linetype, linetype),
                        item.kind,
                        colour=item.colour,
                    )
                )
            elif isinstance(item, Spot):
                self._budget.segments()
                self._raw.spots.append(Spot(to.point(item.at), self.layers.name(on, "", linetype)))
            else:
                self._raw.left_out.append(replace(item, at=to.point(item.at), layer=on))

    def _insert(self, insert: Insert, to: Affine, layer: str, depth: int) -> None:
        block = self.blocks.get(insert.block)
        if block is None:
            self._raw.left_out.append(LeftOut("block that isn't in the file", layer, to.point((0.0, 0.0))))
            return
        for place in insert.places(block.base):
            self._budget.placement(depth + 1)
            there = to.after(place)
            if not there.is_sane:
                raise Unreadable(FAR_OUT)
            self.place(block, there, insert, layer, depth + 1)
