"""The inside radius and K of a bend in mild steel as the published rows have them, worked out apart from the tool.

K is 2 c / pi of Machinery's Handbook, lengths of bends, with 0.64 for soft steel. The radius is 0.16 V over a V of
8 T to 8 mm, 10 T from 9.5 to 12.7, 12 T from 15.8 (tool-trade rule), or the least of EN 10025-2 for S235 where that
is more.
"""

import math

import numpy as np

SOFT_STEEL = 2 * 0.64 / math.pi
V_ROWS = ((8, 9.5, 12.7, 15.8), (8, 10, 10, 12))
S235 = ((0, 1.5, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 1200), (0, 1.6, 2.5, 3, 5, 6, 8, 10, 12, 16, 20, 2000))


def radius_of(values):
    """The radius asked for, else the default of mild steel, mm."""
    t = values["thickness"]
    return values["bend_radius"] or max(0.16 * t * float(np.interp(t, *V_ROWS)), float(np.interp(t, *S235)))


def k_of(values):
    """K as given, else that of soft steel."""
    return values["k"] or SOFT_STEEL
