"""Limits: how much of a file is read before it is refused, so that none takes long or fills the memory.

A part of a few thousand segments is already a rich one; the limits lie far beyond and are there for files
that are broken, hostile, or no drawing of a part. Each is named in the sentence that refuses.
"""

import time

from parts.errors import Unreadable
from parts.units import format_seconds

LARGEST_BYTES = 20_000_000
MOST_SEGMENTS = 50_000
MOST_RECORDS = 400_000
"""Entities, table rows and vertices of a DXF; elements of an SVG."""
MOST_PLACEMENTS = 20_000
"""Blocks or `use` elements placed, those in placed blocks included."""
MOST_HIDDEN = 5000
"""Things on layers that aren't shown which are kept to be chosen, and lines and arcs of them that are looked at."""
DEEPEST = 16
"""Blocks in blocks, `use` of `use`."""
DEEPEST_ELEMENTS = 200
"""Elements of an SVG in one another."""
LONGEST_S = 3.5
"""Of the thread's own work, so that a busy machine refuses nothing that an idle one reads. The budget's clock is looked
at on the way; in the main thread one rings by itself, whatever the reading is about."""
FARTHEST = 1e9
"""Drawing units from the origin: beyond it a coordinate has no decimals worth reading."""
LARGEST_MM = 1e6
"""A kilometre from end to end: beyond it the coordinates' rounding shows between ends that meet."""
MOST_BULGE = 1e6
"""Of an arc of a polyline: beyond it the arc lacks 4e-6 radians of a full circle, which no drawing means."""
MOST_FINDINGS = 40
"""Findings of one kind; those beyond are summed up in one."""
MOST_PAIRS = 2_000_000
"""Comparisons of one line or loop with another."""


_LONGEST_TEXT = 40

FAR_OUT = f"it places something more than {FARTHEST:g} units away or as many times enlarged"


class Budget:
    """What may still be spent on one file: segments, placements, comparisons, time.

    Raises:
        Unreadable: by any method, once more is asked for than there is.
    """

    def __init__(self) -> None:
        self._until = time.thread_time() + LONGEST_S
        self._segments = 0
        self._placements = 0
        self._pairs = 0

    def aside(self) -> "Budget":
        """Return a budget for a look that may be cut short: half of the time that is left, and a tally of its own."""
        made = Budget()
        made._until = (time.thread_time() + self._until) / 2
        return made

    def segments(self, count: int = 1) -> None:
        """Count lines, arcs and pieces of curves."""
        self._segments += count
        if self._segments > MOST_SEGMENTS:
            raise Unreadable(
                f"it holds more than {MOST_SEGMENTS:,} lines and arcs; leave only the outline of the part in it"
            )
        self.time()

    def placement(self, depth: int) -> None:
        """Count a placed block or symbol, `depth` deep in others."""
        if depth > DEEPEST:
            raise Unreadable(f"blocks or symbols are placed in one another more than {DEEPEST} deep, or in themselves")
        self._placements += 1
        if self._placements > MOST_PLACEMENTS:
            raise Unreadable(f"it places blocks or symbols more than {MOST_PLACEMENTS:,} times")
        self.time()

    def pairs(self, count: int = 1) -> None:
        """Count comparisons."""
        self._pairs += count
        if self._pairs > MOST_PAIRS:
            raise Unreadable("its lines lie too close together in too many places to be told apart")
        self.time()

    def time(self) -> None:
        """Look at the clock of this thread."""
        if time.thread_time() > self._until:
            raise too_slow()


def too_slow() -> Unreadable:
    """Return the refusal of a file that takes too long."""
    return Unreadable(f"it takes more than {format_seconds(LONGEST_S)} to read; leave only the outline in it")


def shown(text: str) -> str:
    """Return a text of the file's own as a sentence may carry it: printable, and not long."""
    printable = "".join(c if c.isprintable() else "?" for c in text)
    return printable if len(printable) <= _LONGEST_TEXT else f"{printable[:_LONGEST_TEXT]}..."


def check_size(data: bytes) -> None:
    """Refuse a file that is empty or too large.

    Raises:
        Unreadable: if it is.
    """
    if not data.strip():
        raise Unreadable("it is empty")
    if len(data) > LARGEST_BYTES:
        raise Unreadable(f"it has {len(data) / 1e6:,.1f} MB and at most {LARGEST_BYTES / 1e6:,.0f} MB are read")
