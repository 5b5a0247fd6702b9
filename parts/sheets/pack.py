"""Packing: pieces put one after another where they end soonest, by cells.

A sheet is a grid of cells; a piece, grown by half the gap, is the cells that it touches. Where it can lie is where the
convolution of both is nothing, so holes and notches are found as any other place is. What a piece was found not to
fit, it never will, since a sheet only fills: so each kind of piece goes on from the sheet where it last did.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy import fft
from shapely.geometry.base import BaseGeometry

from parts.sheets.layout import FINEST, Laid, Layout, Placement, Problem, Unplaced
from parts.sheets.piece import Piece
from parts.sheets.raster import Mask, touched, touched_on
from parts.sheets.stock import Stock

_SLACK_MM = 1e-6
_FEW = 6
"""New pieces on a sheet from which on where another can lie is found anew, not brought up to date."""
_QUARTER = 8
_ROUND = math.cos(math.pi / (4 * _QUARTER))
"""Of its radius, how near a corner's rounding comes in so many chords to a quarter."""
MOST_SHEETS = 500


@dataclass(frozen=True, eq=False, slots=True)
class Way:
    """One way that a piece may lie: the cells of it grown, its own box's size, and its origin in that box, mm."""

    turn_deg: float
    mirrored: bool
    mask: Mask
    width: float
    height: float
    origin: tuple[float, float]


class Ways:
    """The ways of every piece of a problem at one size of cell, found once."""

    def __init__(self, problem: Problem, cell: float) -> None:
        self.problem, self.cell = problem, cell
        self._known: dict[Piece, tuple[Way, ...]] = {}

    def of(self, piece: Piece) -> tuple[Way, ...]:
        """Return the ways of a piece, each looking different."""
        if piece not in self._known:
            self._known[piece] = tuple(self._each(piece))
        return self._known[piece]

    def _each(self, piece: Piece) -> list[Way]:
        ways: dict[tuple[object, ...], Way] = {}
        for turn, flip in piece.ways:
            lying, spill = piece.lying(turn, flip), piece.spill_at(turn)
            by = self.problem.grown / _ROUND
            grown = lying.buffer(by, quad_segs=_QUARTER) if by else lying
            mask = touched(grown, self.cell, spill)
            x0, y0, x1, y1 = lying.bounds
            look = (mask.shape, mask.tobytes())
            size = x1 - x0 + 2 * spill, y1 - y0 + 2 * spill
            ways.setdefault(look, Way(turn, flip, mask, *size, (spill - x0, spill - y0)))
        return list(ways.values())


@dataclass(eq=False, slots=True)
class _Grid:
    """A sheet that is being filled: `room` is where parts may lie, and cells begin `grown` before it."""

    stock: Stock
    room: tuple[float, float]
    cell: float
    grown: float
    margin: float
    reach: float
    taken: Mask = field(init=False)
    size: tuple[int, int] = field(init=False)
    is_blank: bool = True
    _used: float = 0.0
    transformed: NDArray[np.complex64] | None = None
    placed: list[tuple[int, int, Mask]] = field(default_factory=list)
    placements: list[Placement] = field(default_factory=list)
    free: dict[Way, tuple[int, Mask]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        columns, rows = (max(int(np.ceil((side + 2 * self.grown) / self.cell - 1e-9)), 1) for side in self.room)
        self.taken = np.zeros((rows, columns), dtype=bool)
        self.size = (fft.next_fast_len(rows, real=True), fft.next_fast_len(columns, real=True))
        if self.stock.outline is not None:
            self._take(self._beyond(self.stock.outline))

    @property
    def left(self) -> float:
        """How much of the sheet's area no piece has, mm²."""
        return self.stock.area - self._used

    @property
    def _start(self) -> float:
        """Where the first cell begins on the sheet, both ways."""
        return self.margin - self.grown

    def _beyond(self, outline: shapely.Polygon) -> BaseGeometry:
        """What grown outlines may not touch, so that parts keep the margin to the edge of an off-cut, or more."""
        inner = outline.buffer(-self.reach / _ROUND, quad_segs=_QUARTER) if self.reach > 0 else outline
        rows, columns = self.taken.shape
        far = self._start + columns * self.cell, self._start + rows * self.cell
        return shapely.box(self._start, self._start, *far).difference(inner)

    def _take(self, shape: BaseGeometry) -> None:
        if not shape.is_empty:
            areas = shapely.multipolygons([each for each in shapely.get_parts(shape) if each.geom_type == "Polygon"])
            self.taken |= touched_on(areas, self.cell, (self._start, self._start), self.taken.shape)
            self.is_blank = False

    def pin(self, placement: Placement) -> None:
        """Lay down a piece that is pinned, wherever it is."""
        self._take(placement.shape.buffer(self.grown, quad_segs=_QUARTER))
        self.placements.append(placement)
        self._used += placement.piece.area

    def may_hold(self, way: Way) -> bool:
        """Tell whether a way has any place."""
        free = self.places(way)
        return free is not None and bool(free.any())

    def places(self, way: Way) -> Mask | None:
        """Where the lower left cell of a way can be; None where it is too large."""
        up, across = (int(np.floor((side - of + _SLACK_MM) / self.cell)) for side, of in
                      zip(self.room[::-1], (way.height, way.width), strict=True))  # fmt: skip
        if min(up, across) < 0 or way.width > self.room[0] + _SLACK_MM or way.height > self.room[1] + _SLACK_MM:
            return None
        rows, columns = way.mask.shape
        up, across = min(up, self.taken.shape[0] - rows), min(across, self.taken.shape[1] - columns)
        if min(up, across) < 0:
            return None
        seen, free = self.free.get(way, (0, None))
        if free is None and not self.placed and self.is_blank:
            free = np.ones((up + 1, across + 1), dtype=bool)
        elif free is None or len(self.placed) - seen > _FEW:
            free = self._anew(way, up + 1, across + 1)
        else:
            for row, column, mask in self.placed[seen:]:
                _take(free, way.mask, row, column, mask)
        self.free[way] = len(self.placed), free
        return free

    def _anew(self, way: Way, rows: int, columns: int) -> Mask:
        """Where nothing that lies here meets a way: their correlation, by Fourier transforms."""
        if self.transformed is None:
            self.transformed = fft.rfft2(self.taken.astype(np.float32), self.size)
        turned = fft.rfft2(way.mask.astype(np.float32), self.size)
        hits = fft.irfft2(self.transformed * np.conj(turned), self.size)
        free: Mask = hits[:rows, :columns] < 0.5
        return free

    def put(self, way: Way, piece: Piece, row: int, column: int) -> None:
        """Lay a piece down."""
        rows, columns = way.mask.shape
        self.taken[row : row + rows, column : column + columns] |= way.mask
        self.transformed = None
        self.placed.append((row, column, way.mask))
        x, y = (
            round((self.margin + at * self.cell + origin) / FINEST) * FINEST
            for at, origin in zip((column, row), way.origin, strict=True)
        )
        self.placements.append(Placement(piece, x, y, way.turn_deg, way.mirrored))
        self._used += piece.area


def _grid(kind: Stock, ways: Ways) -> _Grid:
    asked = ways.problem
    reach = asked.margin - asked.gap / 2  # the rest of the margin is what pieces grow by
    return _Grid(kind, asked.room(kind), ways.cell, asked.grown / _ROUND, asked.margin, reach)


def _begun(laid: Laid, ways: Ways) -> _Grid:
    grid = _grid(laid.stock, ways)
    for each in laid.placements:
        grid.pin(each)
    return grid


def _take(free: Mask, mask: Mask, row: int, column: int, other: Mask) -> None:
    """Take from where a way can lie the places where it would meet another one that lies at a place now."""
    (rows, columns), (h, w) = mask.shape, other.shape
    size = (fft.next_fast_len(rows + h - 1, real=True), fft.next_fast_len(columns + w - 1, real=True))
    product = fft.rfft2(other.astype(np.float32), size) * fft.rfft2(mask[::-1, ::-1].astype(np.float32), size)
    hits = fft.irfft2(product, size)[: rows + h - 1, : columns + w - 1] >= 0.5
    top, left = row - rows + 1, column - columns + 1
    r0, c0 = max(top, 0), max(left, 0)
    r1, c1 = min(top + hits.shape[0], free.shape[0]), min(left + hits.shape[1], free.shape[1])
    if r0 < r1 and c0 < c1:
        free[r0:r1, c0:c1] &= ~hits[r0 - top : r1 - top, c0 - left : c1 - left]


def pack(ways: Ways, order: Sequence[Piece], stock: Sequence[Stock]) -> Layout:
    """Return the layout that comes of putting pieces down in an order, each where it ends soonest.

    The sheets that are begun come first, then off-cuts.

    Args:
        ways: of the problem, at the size of cell that is packed by.
        order: every piece of it that isn't pinned.
        stock: the kinds of sheet in the order in which a new one is taken.
    """
    return _packed([_begun(laid, ways) for laid in ways.problem.begun], ways, order, stock)


def pack_on(ways: Ways, stays: Sequence[Laid], order: Sequence[Piece], stock: Sequence[Stock]) -> Layout:
    """Return the layout that comes of putting more pieces down on sheets that stay as they are, then on new ones.

    Args:
        ways: of the problem.
        stays: sheets with what lies on them.
        order: the pieces that lie on none.
        stock: a kind for each new sheet, in the order in which they are taken; then as of `pack`.
    """
    return _packed([_begun(laid, ways) for laid in stays], ways, order, [*stock, *ways.problem.stock])


def _packed(grids: list[_Grid], ways: Ways, order: Sequence[Piece], stock: Sequence[Stock]) -> Layout:
    starts: dict[Piece, int] = {}
    unplaced: list[Unplaced] = []
    for piece in order:
        for number in range(starts.get(piece, 0), MOST_SHEETS + 1):
            if number == len(grids) and not (len(grids) < MOST_SHEETS and _open(grids, ways, piece, stock)):
                unplaced.append(Unplaced(piece, _why(ways, piece)))
                break
            starts[piece] = number
            if grids[number].left >= piece.area and _lay(grids[number], ways, piece):
                break
    laid = [Laid(grid.stock, tuple(grid.placements)) for grid in grids if grid.placements]
    laid.sort(key=lambda each: (not each.is_begun, each.stock.is_new))
    return Layout(tuple(laid), tuple(unplaced))


def _open(grids: list[_Grid], ways: Ways, piece: Piece, stock: Sequence[Stock]) -> bool:
    """Take a new sheet of the first kind that a piece fits and that there is one left of."""
    for kind in stock:
        if sum(grid.stock is kind for grid in grids) < kind.limit:
            grid = _grid(kind, ways)
            if min(grid.room) > 0 and any(map(grid.may_hold, ways.of(piece))):
                grids.append(grid)
                return True
    return False


def _why(ways: Ways, piece: Piece) -> str:
    for kind in ways.problem.stock:
        grid = _grid(kind, ways)
        if min(grid.room) > 0 and any(map(grid.may_hold, ways.of(piece))):
            return "the sheets that there are have no more room for it"
    return "it is too large for every sheet, the margin taken off"


def _lay(grid: _Grid, ways: Ways, piece: Piece) -> bool:
    """Lay a piece where it ends soonest along the sheet's longer side, then lowest across; false where it can't lie."""
    along = grid.room[0] >= grid.room[1]
    best: tuple[tuple[float, float, int], Way, int, int] | None = None
    for number, way in enumerate(ways.of(piece)):
        free = grid.places(way)
        if free is None:
            continue
        lines = free.any(axis=0 if along else 1)
        first = int(np.argmax(lines))
        if not np.any(lines):
            continue
        second = int(np.asarray(free[:, first] if along else free[first]).argmax())
        row, column = (second, first) if along else (first, second)
        ends = (
            (first * ways.cell + (way.width if along else way.height)),
            (second * ways.cell + (way.height if along else way.width)),
        )
        if best is None or (*ends, number) < best[0]:
            best = (*ends, number), way, row, column
    if best is None:
        return False
    grid.put(best[1], piece, best[2], best[3])
    return True
