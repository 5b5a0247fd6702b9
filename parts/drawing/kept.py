"""Kept: how a drawing was laid out, for the next one of the same part with a value changed.

Its scale and the ways that were taken are tried first, and taken again where they fit and cost hardly more than
before; the rest is looked for anew. So a drawing follows the typing in a fraction of the time, and little of it moves.
"""

import re
from dataclasses import dataclass

DEARER, MORE = 1.25, 6.0
"""What a way may cost now, as a share of what it cost before, and in mm of paper besides."""
MOST = 100
"""Ways that are kept; a drawing with more has no use for them."""
_SAID = re.compile(r"(0\.[0-9]{1,20}|1\.0) ([0-9]{1,2}(?:\.[0-9]{1,3})?)((?: [0-9]{1,4}:[0-9]{1,6})*)")


@dataclass(frozen=True, slots=True)
class Way:
    """Which of the ways to draw a dimension was taken, and what it cost, mm of paper."""

    which: int
    cost: float

    @property
    def most(self) -> float:
        """What it may cost to be taken again."""
        return DEARER * self.cost + MORE


@dataclass(frozen=True, slots=True)
class Kept:
    """How a drawing was laid out in its window.

    `share` is its scale as a share of the largest that there could be, `slack` how many times as large it would fill
    the window; `ways` are those of what stands in no lane, in order.
    """

    share: float
    slack: float
    ways: tuple[Way, ...]

    def __str__(self) -> str:
        ways = "".join(f" {way.which}:{min(way.cost, 999999.0):.0f}" for way in self.ways[: MOST + 1])
        return f"{min(self.share, 1.0)!r} {min(self.slack, 99.0):.3f}{ways}"

    @classmethod
    def read(cls, text: str) -> "Kept | None":
        """Return what `str` of one says, None where a text says nothing of the kind."""
        said = _SAID.fullmatch(text)
        if not said or said[3].count(":") > MOST or not float(said[1]):
            return None
        ways = (each.split(":") for each in said[3].split())
        return cls(float(said[1]), float(said[2]), tuple(Way(int(which), float(cost)) for which, cost in ways))
