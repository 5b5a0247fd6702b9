"""A reading: one length taken from a cut piece, what it should be, and how well it is known.

centres   from hole centre to hole centre: the jet's width cancels
outside   over two outside faces, which the jet has cut into
inside    between two inside faces: a slot, a window
hole      the diameter of a round hole, which may come out smaller than a slot as wide
reversal  the gap at `nominal` from where both lines meet when the piece is flipped along a straightedge
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias, get_args

from parts.units import Units, format_angle, format_length

ReadingKind: TypeAlias = Literal["centres", "outside", "inside", "hole", "reversal"]
KINDS: tuple[ReadingKind, ...] = get_args(ReadingKind)


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading in mm; `direction` in radians from X toward Y; `u` is its standard uncertainty in mm.

    `instrument` names whose usual uncertainty was taken where none was given, "" where one was. `number` is which
    reading of its file it is, 0 for one of none, and `note` what was noted of it, such as its letter on the sheet.
    `tool` is what it was read with, "" for an instrument without errors of its own. `piece` names the piece, whose
    lengths were read too long by the share `growth` for its temperature, known to `warmth_u`.
    """

    kind: ReadingKind
    direction: float
    nominal: float
    measured: float
    u: float
    instrument: str = ""
    number: int = field(default=0, compare=False)
    note: str = field(default="", compare=False)
    tool: str = ""
    piece: str = ""
    growth: float = 0.0
    warmth_u: float = 0.0

    def said(self, units: Units = "mm") -> str:
        """Return the reading in words: `C, centres 300 mm at 45°`."""
        noted, nominal = f"{self.note}, " if self.note else "", format_length(self.nominal, units)
        if self.kind == "reversal":
            return f"{noted}reversal at {nominal}"
        return f"{noted}{self.kind} {nominal} at {format_angle(math.degrees(self.direction))}"


MOST_IN_FULL = 4
"""So many readings are named with what they are of, more by their letters alone."""


def number_of(readings: Sequence[Reading], i: int) -> int:
    """Return which reading of its file one is, or of the readings where it comes from none."""
    return readings[i].number or i + 1


def named(readings: Sequence[Reading], which: Sequence[int], units: Units = "mm") -> str:
    """Return some of the readings in words: `readings 3 (C, centres 300 mm at 45°) and 4 (D, outside 350 mm at 0°)`.

    Many are said by their notes or else their numbers alone.
    """
    said = [f"{number_of(readings, i)} ({readings[i].said(units)})" for i in which]
    if len(which) > MOST_IN_FULL:
        said = [readings[i].note or str(number_of(readings, i)) for i in which]
    return f"readings {', '.join(said[:-1])} and {said[-1]}" if len(said) > 1 else f"reading {said[0]}"
