"""Layout on sheets: where each of many parts lies on stock of given sizes, with a gap, checked by distances."""

from parts.sheets.check import faults
from parts.sheets.layout import Laid, Layout, Placement, Problem, Unplaced
from parts.sheets.order import cutting_order, left_over, number_places
from parts.sheets.piece import Piece, Turns, piece_of
from parts.sheets.search import first_layout, lay_out
from parts.sheets.stock import Stock

__all__ = [
    "Laid",
    "Layout",
    "Piece",
    "Placement",
    "Problem",
    "Stock",
    "Turns",
    "Unplaced",
    "cutting_order",
    "faults",
    "first_layout",
    "lay_out",
    "left_over",
    "number_places",
    "piece_of",
]
