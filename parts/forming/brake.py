"""The press brake: the die it bends over, and what that asks of a flat.

    V opening      width of the die's groove, from shoulder to shoulder
    flange         what is bent up beside a bend line; *outside flange* is it as measured on the bent part
    inside radius  of the bend; in air bending it follows from the V opening

Lengths are mm, thickness first. A bend line lies on the middle of its bend.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

from parts import shop


@dataclass(frozen=True, slots=True)
class Brake:
    """What the brake of a shop does, as ratios: see `parts/data/bending.toml`."""

    v_opening_ratio: float
    flange_per_v: float
    inside_radius_per_v: float
    k_factor: float
    hole_ratio: float

    def v_opening(self, thickness: float, radius: float = 0.0) -> float:
        """Return the V opening: that for the thickness, or the wider one that leaves a given inside radius."""
        return max(self.v_opening_ratio * thickness, radius / self.inside_radius_per_v)

    def inside_radius(self, thickness: float) -> float:
        """Return the inside radius that air bending leaves where none is given."""
        return self.inside_radius_per_v * self.v_opening(thickness)

    def hole_clearance(self, thickness: float, radius: float) -> float:
        """Return the least distance from a bend line of this inside radius to the edge of a hole."""
        return self.hole_ratio * thickness + radius

    def least_flange(self, thickness: float, radius: float) -> float:
        """Return the least flange on the flat, from bend line to edge, for a bend of 90 degrees.

        The die asks for an outside flange of `flange_per_v` x V. A bend of 90 degrees takes up R + T of it, and
        the flat gives half the bend allowance, pi/4 (R + K T), for that (standard formulas, as in Machinery's
        Handbook).
        """
        outside = self.flange_per_v * self.v_opening(thickness, radius)
        return outside - (radius + thickness) + math.pi / 4 * (radius + self.k_factor * thickness)


def brake() -> Brake:
    """Return this shop's brake; remembered, so asking again costs microseconds.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return _brake(shop.edition())


@lru_cache(maxsize=4)
def _brake(at: shop.Edition) -> Brake:
    data = shop.load(at).brake
    return Brake(data.v_opening_ratio, data.flange_per_v, data.inside_radius_per_v, data.k_factor, data.hole_ratio)
