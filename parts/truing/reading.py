"""A reading: one length taken from a cut piece, what it should be, and how well it is known.

centres   from hole centre to hole centre: the jet's width cancels
outside   over two outside faces, which the jet has cut into
inside    between two inside faces: a slot, a window
hole      the diameter of a round hole, which may come out smaller than a slot as wide
reversal  the gap at `nominal` from where both lines meet when the piece is flipped along a straightedge
"""

import math
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
    """

    kind: ReadingKind
    direction: float
    nominal: float
    measured: float
    u: float
    instrument: str = ""
    number: int = field(default=0, compare=False)
    note: str = field(default="", compare=False)

    def said(self, units: Units = "mm") -> str:
        """Return the reading in words: `C, centres 300 mm at 45°`."""
        noted, nominal = f"{self.note}, " if self.note else "", format_length(self.nominal, units)
        if self.kind == "reversal":
            return f"{noted}reversal at {nominal}"
        return f"{noted}{self.kind} {nominal} at {format_angle(math.degrees(self.direction))}"
