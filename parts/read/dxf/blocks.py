"""DXF blocks: what is drawn once and placed where it is inserted, scaled, turned, mirrored, in rows and columns."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from parts.errors import Unreadable
from parts.geometry import Point
from parts.read.affine import Affine, shift
from parts.read.dxf.colours import OF_BLOCK
from parts.read.dxf.layer_table import LayerTable
from parts.read.dxf.shapes import UPRIGHT
from parts.read.layers import NOTES, drawn_aside, named_in
from parts.read.limits import DEEPEST, FAR_OUT, MOST_HIDDEN, Budget
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
    colour: str = ""

    def places(self, base: Point) -> Iterator[Affine]:
        """Yield where the block's own coordinates go."""
        inner = self.size.after(shift(-base[0], -base[1]))
        for row in range(self.rows):
            for column in range(self.columns):
                yield self.to.after(shift(column * self.step[0], row * self.step[1])).after(inner)


BlockItem: TypeAlias = Stroke | Spot | LeftOut | Insert


@dataclass(slots=True)
class Block:
    """What a block holds, and the point of it that is placed; `is_elsewhere` if it is another file's."""

    base: Point
    items: list[BlockItem] = field(default_factory=list)
    is_elsewhere: bool = False


class Placing:
    """Puts the items of blocks on the drawing, as far as their layers show them."""

    def __init__(self, raw: Raw, budget: Budget) -> None:
        self._raw = raw
        self._budget = budget
        self.layers = LayerTable()
        self.blocks: dict[str, Block] = {}
        self._hidden = 0  # items of blocks that are placed on frozen layers

    def place(self, block: Block, to: Affine, by: Insert | None = None, layer: str = "0", depth: int = 0) -> None:
        """Place a block's items; those on layer 0 lie on the layer of what places the block.

        Raises:
            Unreadable: if blocks are placed too often, too deep, or too far out.
        """
        for item in block.items:
            on = layer if item.layer == "0" else item.layer
            row = self.layers.row(on)
            if row.hidden and (row.is_frozen or not isinstance(item, Insert)):  # one that is off hides its own alone
                self._hide(item, to, drawn_aside(on, row.hidden), row.hidden)
            elif isinstance(item, Insert):
                self._insert(self._seen(item, on, by), to, on, depth)
            else:
                self._draw(item, to, on, by, depth)

    def _seen(self, insert: Insert, on: str, by: Insert | None) -> Insert:
        """An insert with what it hands on to what it places, and takes from what places it."""
        linetype = self.layers.linetype(insert.linetype, on, by.linetype if by else "")
        return replace(insert, linetype=linetype, colour=_handed_on(insert.colour, by))

    def _draw(self, item: Stroke | Spot | LeftOut, to: Affine, on: str, by: Insert | None, depth: int) -> None:
        linetype = by.linetype if by else ""
        if isinstance(item, Stroke):
            made = _placed(item, to)
            if depth:
                self._budget.segments(len(made.pieces))
            name = self.layers.name(on, item.linetype, linetype)
            self._raw.strokes.append(replace(made, layer=name, linetype="", colour=_handed_on(item.colour, by)))
        elif isinstance(item, Spot):
            self._budget.segments()
            self._raw.spots.append(Spot(to.point(item.at), self.layers.name(on, "", linetype)))
        else:
            self._raw.left_out.append(replace(item, at=to.point(item.at), layer=on))

    def _insert(self, insert: Insert, to: Affine, layer: str, depth: int) -> None:
        block = self.blocks.get(insert.block)
        if block is None or (block.is_elsewhere and not block.items):
            self._raw.left_out.append(LeftOut("block that isn't in the file", layer, to.point((0.0, 0.0))))
            return
        if insert.size.determinant == 0:
            self._raw.left_out.append(LeftOut("block scaled to nothing", layer, to.after(insert.to).point((0.0, 0.0))))
            return
        for place in insert.places(block.base):
            self._budget.placement(depth + 1)
            there = to.after(place)
            if not there.is_sane:
                raise Unreadable(FAR_OUT)
            self.place(block, there, insert, layer, depth + 1)

    def _hide(self, item: BlockItem, to: Affine, layer: str, why: str) -> None:
        """Keep what isn't shown, for whoever chooses its layer; our own notes, off as we write them, are no loss."""
        if named_in(layer).upper() == NOTES:
            return
        self._raw.off_counts[layer, why] += 1
        waiting: list[tuple[BlockItem, Affine, int]] = [(item, to, 0)]
        while waiting:
            each, there, depth = waiting.pop()
            if isinstance(each, Insert):
                waiting += self._hidden_in(each, there, depth)
            elif not there.is_sane or len(self._raw.off) >= MOST_HIDDEN:
                self._raw.off_is_cut_short = True
            elif isinstance(each, Stroke):
                self._raw.off.append(replace(_placed(each, there), layer=layer, linetype="", colour=_own(each.colour)))
            else:
                self._raw.off.append(replace(each, at=there.point(each.at), layer=layer))

    def _hidden_in(self, insert: Insert, to: Affine, depth: int) -> list[tuple[BlockItem, Affine, int]]:
        """What a block holds that is placed on a frozen layer, as far as it is followed."""
        block = self.blocks.get(insert.block, Block((0.0, 0.0)))
        placed_there = insert.columns * insert.rows * len(block.items)
        if depth >= DEEPEST or self._hidden + placed_there > MOST_HIDDEN:
            self._raw.off_is_cut_short = True
            return []
        self._hidden += placed_there
        return [(item, to.after(place), depth + 1) for place in insert.places(block.base) for item in block.items]


def _placed(stroke: Stroke, to: Affine) -> Stroke:
    if to is UPRIGHT:
        return stroke
    return replace(stroke, pieces=tuple(q for p in stroke.pieces for q in placed(p, to)))


def _handed_on(colour: str, by: Insert | None) -> str:
    """The colour of what says that it has that of the insert which places it."""
    return _own(by.colour if by and colour == OF_BLOCK else colour)


def _own(colour: str) -> str:
    return "" if colour == OF_BLOCK else colour
