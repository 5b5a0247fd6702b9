"""Bolts: their sizes and clearance holes, how near edges and each other they may be, and the holes of a part."""
