"""Bolts: their sizes and clearance holes, how near edges and each other they may be, and the holes of a part."""

from parts.fasteners.bolts import FITS, bolt_diameter_mm, bolt_of_mm, bolts, clearance_hole_mm, find_bolt, inch_bolt
from parts.fasteners.distances import bolting, edge_table, least_spacing_mm, preferred_spacing_mm
from parts.fasteners.edge_wanted import EdgeWanted, least_edge_mm
from parts.fasteners.holes import BoltHole, Voids, said_bolt, slot_track
from parts.fasteners.making import KINDS, THREADS, pilot_mm, sizes_of, worked_hole
from parts.fasteners.worked import said_of_hole

__all__ = [
    "FITS",
    "KINDS",
    "THREADS",
    "BoltHole",
    "EdgeWanted",
    "Voids",
    "bolt_diameter_mm",
    "bolt_of_mm",
    "bolting",
    "bolts",
    "clearance_hole_mm",
    "edge_table",
    "find_bolt",
    "inch_bolt",
    "least_edge_mm",
    "least_spacing_mm",
    "pilot_mm",
    "preferred_spacing_mm",
    "said_bolt",
    "said_of_hole",
    "sizes_of",
    "slot_track",
    "worked_hole",
]
