"""What caps of tubes share: the wall of the tube, how the cap sits on it, and the hole that lets air and zinc out."""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import circle
from parts.profile import Dimension, Opening
from parts.spec import choice, length
from parts.templates.shared.lettered import Lettered


class TubeCap(Lettered):
    """A template's parameters with wall, seat and hole; the tube's centre is at the origin."""

    wall: float = length(
        "Wall of the tube", default=3, minimum=0.5, maximum=60, help="For seats inside, and back on the wall.",
        when=("seat", "inside", "back"),
    )  # fmt: skip
    seat: str = choice("Seat", default="over", choices=("over", "inside", "back"))
    step: float = length(
        "Lip, gap or setback", default=0, minimum=0, maximum=200,
        help="over: lip beyond the tube; inside: gap to the wall; back: from the outside of the tube.", moves="care",
    )  # fmt: skip
    vent: float = length(
        "Vent or drain hole", default=10, minimum=0, maximum=1000, group="Hole", help="0 for none.", moves="care"
    )
    vent_down: float = length(
        "Hole below the centre", default=0, minimum=0, maximum=700, group="Hole",
        help="A drain stands near the wall.", when=("vent",), moves="free",
    )  # fmt: skip

    @property
    def out(self) -> float:
        """How far the cap stands out beyond the tube all round; negative: in from its outside."""
        return {"over": self.step, "inside": -self.wall - self.step, "back": -self.step}[self.seat]

    def seat_problems(self, half: float) -> Iterator[Problem]:
        """Yield a problem where nothing is left of a tube `half` wide from its centre, or of the cap."""
        clash = [*self.under("wall", half, "to leave a bore in the tube")] if self.seat != "over" else []
        if not clash and self.seat == "inside":
            clash += self.under("step", half - self.wall, "to leave a cap in the bore")
        if not clash and self.seat == "back":
            clash += self.at_most("step", self.wall, "to sit on the wall of the tube")
        yield from clash

    def vent_problems(self, half: float, lowest: float) -> Iterator[Problem]:
        """Yield a problem where the hole leaves a cap `half` wide from its centre, which it touches `lowest` below."""
        if self.vent:
            too_wide = [*self.under("vent", 2 * half, "to leave metal around it")]
            yield from too_wide or self.under("vent_down", lowest, "to keep the hole inside the cap")

    @property
    def vents(self) -> tuple[Opening, ...]:
        """The hole."""
        return (Opening(circle((0, -self.vent_down), self.vent), "vent hole", "vent"),) if self.vent else ()

    def vent_measured(self) -> Iterator[Dimension]:
        """Yield where the hole can be measured."""
        if not self.vent:
            return
        r = self.vent / 2 * math.sqrt(0.5)
        yield Dimension("vent", (0, -self.vent_down), (r, r - self.vent_down), "diameter")
        if self.vent_down:
            yield Dimension("vent_down", (0, 0), (0, -self.vent_down), "right")
