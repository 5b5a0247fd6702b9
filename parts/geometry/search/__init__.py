"""Which pairs of boxes, points and segments are near each other, so that exact work is kept to those.

near_pairs     of one list of boxes
pairs_between  of two lists
BoxIndex       of one list and a box, asked again and again; Vicinity, the same of the segments of loops
crowded        only whether there are many
near_boxes, near_points, near_between  (in `grid`) of boxes and points that are arrays already

Each picks by the number of boxes how it goes about it: what is quickest is measured in `tests/bench/test_near.py`.
"""

from parts.geometry.search.boxes import near_pairs, pairs_between
from parts.geometry.search.grid import Floats, Indices
from parts.geometry.search.index import BoxIndex, crowded
from parts.geometry.search.vicinity import Vicinity

__all__ = ["BoxIndex", "Floats", "Indices", "Vicinity", "crowded", "near_pairs", "pairs_between"]
