"""Layout on sheets: where each of many parts lies on stock of given sizes, with a gap, checked by distances."""

from parts.sheets.by_hand import Clash, clashes, may_lie, moved
from parts.sheets.check import faults
from parts.sheets.layout import Laid, Layout, Placement, Problem, Unplaced
from parts.sheets.left import NARROWEST_MM, Outline, flattened, left_over, off_cut, outline_of, remnant, rings_of
from parts.sheets.order import cutting_order, number_places
from parts.sheets.piece import Piece, Turns, piece_of
from parts.sheets.search import first_layout, lay_out
from parts.sheets.seeded import Told, of_seed, told, untold
from parts.sheets.stock import Stock

__all__ = [
    "NARROWEST_MM",
    "Clash",
    "Laid",
    "Layout",
    "Outline",
    "Piece",
    "Placement",
    "Problem",
    "Stock",
    "Told",
    "Turns",
    "Unplaced",
    "clashes",
    "cutting_order",
    "faults",
    "first_layout",
    "flattened",
    "lay_out",
    "left_over",
    "may_lie",
    "moved",
    "number_places",
    "of_seed",
    "off_cut",
    "outline_of",
    "piece_of",
    "remnant",
    "rings_of",
    "told",
    "untold",
]
