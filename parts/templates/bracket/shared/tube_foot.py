"""A foot hollowed to a round tube that the part is welded onto, standing across it.

The top of the hollow is at the origin, so that heights are measured from the tube's crown; the ends of the foot reach
down beside the tube.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.profile import Dimension
from parts.spec import Parameters, length


class TubeFoot(Parameters):
    """A template's parameters with the tube at its foot; without one the foot is flat."""

    tube: float = length(
        "Round tube at the foot, outside", default=0, minimum=0, maximum=1000,
        help="The foot is hollowed to it, across the tube; 0 for a flat foot.",
    )  # fmt: skip
    tube_gap: float = length(
        "Fit-up gap at the tube", default=0.5, minimum=0, maximum=10, help="0 to 1 mm is usual.", when=("tube",)
    )

    @property
    def hollow(self) -> float:
        """Radius of the hollow, mm; 0 for a flat foot."""
        return self.tube / 2 + self.tube_gap if self.tube else 0.0

    def sunk(self, x: float) -> float:
        """Return how far below its top the hollow is at x from the middle."""
        return self.hollow - math.sqrt(max(self.hollow**2 - x**2, 0.0)) if self.tube else 0.0

    def foot_bulge(self, x: float) -> float:
        """Return the bulge of the foot from -x to x: over the tube, so clockwise."""
        return -math.tan(math.asin(x / self.hollow) / 2) if self.tube else 0.0

    def foot_problems(self, name: str) -> Iterator[Problem]:
        """Yield a problem where the foot, as wide as the parameter of this name says, doesn't stand on the tube."""
        if self.tube:
            yield from self.under(name, 2 * self.hollow, "to stand on this tube")

    def foot_measured(self) -> Iterator[Dimension]:
        """Yield where tube and gap can be measured."""
        if self.tube:
            middle = 0.0, -self.hollow
            yield Dimension("tube", middle, (0.0, -self.tube_gap), "diameter")
            if self.tube_gap:
                yield Dimension("tube_gap", (0.0, -self.tube_gap), (0.0, 0.0), "right")
