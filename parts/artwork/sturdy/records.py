"""What is asked of sturdy metal, and what was changed for it."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from parts.artwork.metal import Metal
from parts.errors import GeometryError
from parts.geometry import Point

Kind: TypeAlias = Literal["widened", "blunted", "opened", "closed", "joined", "parted"]


@dataclass(frozen=True, slots=True)
class Sturdy:
    """How wide metal has to be, and how wide what is cut.

    `amount` goes from 0, faithful, where nothing is changed, to 1, sturdy, where metal is nowhere narrower than
    `bridge_mm` and the jet of `kerf_mm` gets everywhere; between, the limits are so much of these.

    Raises:
        GeometryError: if a length is less than nothing, or the amount isn't from 0 to 1.
    """

    bridge_mm: float
    kerf_mm: float
    amount: float = 1.0

    def __post_init__(self) -> None:
        if not (self.bridge_mm >= 0 and self.kerf_mm >= 0):
            raise GeometryError(f"Bridge and kerf are 0 mm or more, not {self.bridge_mm} and {self.kerf_mm}.")
        if not 0 <= self.amount <= 1:
            raise GeometryError(f"How sturdy is from 0 to 1, not {self.amount}.")


@dataclass(frozen=True, slots=True)
class Change:
    """A place that was changed: metal widened there or a point of it blunted, a gap opened or closed.

    `was_mm` is the width there before, `moved_mm` how far the outline moved at most. Joined says that pieces that lay
    apart hang together now, parted that one fell in two; nothing is measured of these.
    """

    at: Point
    kind: Kind
    was_mm: float = 0.0
    moved_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Mended:
    """Sturdy metal, each place that was changed for it, and how far its outline moved at most."""

    metal: Metal
    changes: tuple[Change, ...]
    moved_mm: float
