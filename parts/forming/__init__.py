"""Bending: allowance, bend lines, the bend table, and what the press brake asks of a flat."""

from parts.forming.air_bending import Harder
from parts.forming.allowance import Fold, Strip, strip
from parts.forming.bent_strip import BentStrip
from parts.forming.brake import ALLOWANCE_NUMBERS, FLANGE_NUMBERS, Brake, brake, sharpest
from parts.forming.lines import bend_lines, name
from parts.forming.neutral import NeutralLine
from parts.forming.own_bend import OwnBend
from parts.forming.parting import Edge, FlatPiece, Parted, parted
from parts.forming.sections import Piece, Section, sections
from parts.forming.sides import Side, folded, sides
from parts.forming.spans import Span
from parts.forming.stops import Stop, stops
from parts.forming.table import BendRow, bend_table

__all__ = [
    "ALLOWANCE_NUMBERS",
    "FLANGE_NUMBERS",
    "BendRow",
    "BentStrip",
    "Brake",
    "Edge",
    "FlatPiece",
    "Fold",
    "Harder",
    "NeutralLine",
    "OwnBend",
    "Parted",
    "Piece",
    "Section",
    "Side",
    "Span",
    "Stop",
    "Strip",
    "bend_lines",
    "bend_table",
    "brake",
    "folded",
    "name",
    "parted",
    "sections",
    "sharpest",
    "sides",
    "stops",
    "strip",
]
