"""Where a region is narrow: necks, runs, gaps and tips, exact on true arcs."""

from parts.geometry.narrow.boundary import Boundary
from parts.geometry.narrow.gaps import gaps, islands
from parts.geometry.narrow.memo import KNOWN_AGAIN, Narrow, narrow
from parts.geometry.narrow.runs import Runs, free_stretches, runs_between_lines
from parts.geometry.narrow.tip_depth import depths
from parts.geometry.narrow.tips import Tip, tips
from parts.geometry.narrow.width import Neck, necks

__all__ = [
    "KNOWN_AGAIN",
    "Boundary",
    "Narrow",
    "Neck",
    "Runs",
    "Tip",
    "depths",
    "free_stretches",
    "gaps",
    "islands",
    "narrow",
    "necks",
    "runs_between_lines",
    "tips",
]
