"""Where a region is narrow: necks, runs, gaps and tips, exact on true arcs."""

from parts.geometry.narrow.gaps import gaps, islands
from parts.geometry.narrow.memo import KNOWN_AGAIN, Narrow, narrow
from parts.geometry.narrow.run import Run, free_runs, run_between
from parts.geometry.narrow.tips import Tip, depths, tips
from parts.geometry.narrow.width import Neck, necks

__all__ = [
    "KNOWN_AGAIN",
    "Narrow",
    "Neck",
    "Run",
    "Tip",
    "depths",
    "free_runs",
    "gaps",
    "islands",
    "narrow",
    "necks",
    "run_between",
    "tips",
]
