"""Bent parts: the parameters that templates of bent sheet share, and their bend lines."""

import math
from collections.abc import Sequence

from parts.bend import Fold, Strip, k_factor
from parts.geometry.segment import Line
from parts.parameter import length, number
from parts.profile import Bend
from parts.stock import materials
from parts.template import Parameters

_BENDING = "Bending"


class Bent(Parameters):
    """A template's parameters with how it is bent. Dimensions of a bent part are outside dimensions."""

    bend_radius: float = length(
        "Inside radius of the bends", default=0, minimum=0, maximum=200, group=_BENDING, help="0: the thickness."
    )
    k: float = number(
        "K-factor", default=0, minimum=0, maximum=0.6, group=_BENDING,
        help="Of your brake, from a test strip; 0: by material and radius, for air bending.",
    )  # fmt: skip

    @property
    def inside_radius(self) -> float:
        """Inside radius of the bends in mm; by default the thickness, common practice for a brake."""
        return self.bend_radius or self.thickness

    def fold(self, degrees: float, *, up: bool = True) -> Fold:
        """Return a bend of this many degrees in this material."""
        radius = self.inside_radius
        k = self.k or k_factor(materials()[self.material].group, radius, self.thickness)
        return Fold(math.radians(degrees), radius, self.thickness, k, up)


def bend_lines(flat: Strip, width: float, start: float = 0.0) -> tuple[Bend, ...]:
    """Return the bend lines of a strip that lies along x from `start`, from y = 0 to y = `width`."""
    return tuple(
        Bend(Line((start + x, 0.0), (start + x, width)), fold.angle, fold.radius, fold.up)
        for x, fold in zip(flat.lines, flat.folds, strict=True)
    )


def flat_spans(flat: Strip) -> Sequence[tuple[float, float]]:
    """Return from where to where along the flat each straight piece runs."""
    spans, x = [], 0.0
    for i, straight in enumerate(flat.straights):
        spans.append((x, x + straight))
        x += straight + (flat.folds[i].allowance if i < len(flat.folds) else 0.0)
    return spans
