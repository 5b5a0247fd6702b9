"""Pens: the weight and the dashes of each line, for every format alike, as shares of the lettering's size."""

from parts.drawing.primitives import Pen

WEIGHTS: dict[Pen, float] = {
    "cut-outside": 0.2, "cut-inside": 0.14, "open": 0.14, "aside": 0.08, "bend": 0.1, "scribe": 0.08,
    "dimension": 0.06, "centre": 0.06, "leader": 0.08, "as-cut": 0.08,
    "slow-1": 0.5, "slow-2": 0.8, "slow-3": 1.1, "sheet": 0.1, "bed": 0.08,
}  # fmt: skip
"""Widths: thick, medium and thin as in ISO 128-2; lettering of 3.5 mm goes with a thick line of 0.7.
The bands where the torch slows lie under the outline, the wider the slower."""

DASHES: dict[Pen, tuple[float, ...]] = {
    "centre": (2.4, 0.3, 0.15, 0.3),
    "bend": (2.4, 0.3, 0.15, 0.3, 0.15, 0.3),
    "open": (0.8, 0.4),
    "aside": (0.15, 0.3),
    "bed": (0.8, 0.4),
}
"""Dashes and gaps in turn: long-dash dot, long-dash double dot, dash, dots (ISO 128-2).
What is scribed is a thin line without gaps: in dashes, its lettering can't be read."""

MARK_WEIGHT = 0.07
"""Width of a mark's outline as a share of the mark's size."""
