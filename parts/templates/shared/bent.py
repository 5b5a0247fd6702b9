"""Bent parts: the parameters that templates of bent sheet share, and their bend lines."""

import math

from parts.cached import cached_property
from parts.forming import Brake, Fold, Strip, brake
from parts.geometry import Corner, Line, fillet
from parts.profile import Bend
from parts.spec import Parameters, length, number

_BENDING = "Bending"
BRAKE_CAUTION = "A press brake crushes: keep hands clear of the tools, and leave its guards in place."
SIZE_CAUTION = (
    "What carries load or people, holds a sign in the wind or is part of a vehicle wants its size settled by a "
    "qualified person under the local code."
)


class Bent(Parameters):
    """A template's parameters with how it is bent. Dimensions of a bent part are outside dimensions."""

    bend_radius: float = length(
        "Inside radius of the bends", default=0, drawn=False, minimum=0, maximum=200, group=_BENDING,
        help="0: as air bending leaves it.", auto="inside_radius",
    )  # fmt: skip
    k: float = number(
        "K-factor", default=0, minimum=0, maximum=0.6, group=_BENDING,
        help="From a test strip; 0: your brake's, or by material.", auto="k_of_bends",
    )  # fmt: skip

    @property
    def brake(self) -> Brake:
        """The shop's brake in this material."""
        return brake(self.material)

    @cached_property
    def inside_radius(self) -> float:
        """Inside radius of the bends in mm; by default what the brake leaves."""
        return self.bend_radius or self.brake.inside_radius(self.thickness)

    @property
    def k_of_bends(self) -> float:
        """The K-factor of bends to the inside radius."""
        return self._k(self.inside_radius)

    def _k(self, radius: float) -> float:
        return self.k or self.brake.neutral(self.thickness, radius).k

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """The box of the bent part in mm, from its outside dimensions.

        Its sides lie along the first flat piece square to the bends, along the bends, and square to that piece.
        """
        raise NotImplementedError

    def fold(self, degrees: float, *, up: bool = True, radius: float = 0.0) -> Fold:
        """Return a bend of this many degrees in this material, to an inside radius of its own where one is given."""
        radius = radius or self.inside_radius
        return Fold(math.radians(degrees), radius, self.thickness, self._k(radius), up)


def bend_lines(flat: Strip, width: float, start: float = 0.0) -> tuple[Bend, ...]:
    """Return the bend lines of a strip that lies along x from `start`, from y = 0 to y = `width`."""
    return tuple(
        Bend(Line((start + x, 0.0), (start + x, width)), fold.angle, fold.radius, fold.up, fold.k)
        for x, fold in zip(flat.lines, flat.folds, strict=True)
    )


def relief_slot(bottom: float, edge: float, side: float, width: float) -> tuple[Corner, ...]:
    """Return the corners of a relief slot beside a bend that runs along y, from the flange to the unbent edge.

    Where metal beside a bend stays flat, it tears at the end of the bend unless a slot parts the two.

    Args:
        bottom: x of the round bottom of the slot, `Fold.relief` beyond the bend line.
        edge: x of the unbent edge.
        side: y of the flange's edge, one wall of the slot.
        width: of the slot, mm; negative where it lies below the flange's edge.
    """
    r = abs(width) / 2
    return fillet(bottom, side, r), fillet(bottom, side + width, r), Corner((edge, side + width))
