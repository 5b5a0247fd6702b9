"""Bending: allowance, bend lines, the bend table, and what the press brake asks of a flat."""

from parts.forming.allowance import Fold, Strip, k_factor, strip
from parts.forming.brake import Brake, brake
from parts.forming.lines import bend_lines, name
from parts.forming.own_bend import OwnBend
from parts.forming.table import bend_table

__all__ = ["Brake", "Fold", "OwnBend", "Strip", "bend_lines", "bend_table", "brake", "k_factor", "name", "strip"]
