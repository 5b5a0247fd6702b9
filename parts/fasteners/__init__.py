"""Bolts: their sizes and clearance holes, how near edges and each other they may be, and the holes of a part."""

from parts.fasteners.bolts import BOLT_SIZES, FITS, bolt_diameter_mm, clearance_hole_mm, find_bolt
from parts.fasteners.distances import BOLTING, edge_table, least_spacing_mm, preferred_spacing_mm
from parts.fasteners.holes import BoltHole, Voids, said_bolt

__all__ = [
    "BOLTING",
    "BOLT_SIZES",
    "FITS",
    "BoltHole",
    "Voids",
    "bolt_diameter_mm",
    "clearance_hole_mm",
    "edge_table",
    "find_bolt",
    "least_spacing_mm",
    "preferred_spacing_mm",
    "said_bolt",
]
