"""Simulated tables: what one with given errors makes of a drawing, reckoned from points, not by the formula there.

X runs along the gantry, Y along its rails, as on a cutting table: `gantry` is the angle by which the far end of the
gantry trails, so that the axes stand at 90 degrees plus it.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from parts.truing.reading import Reading

SQUARE = (
    ("centres", 0, 300), ("centres", 90, 300), ("centres", 45, 424), ("centres", 135, 424), ("outside", 0, 350),
    ("inside", 90, 50), ("hole", 0, 10),
)  # fmt: skip
"""What the default test square offers to a caliper."""


@dataclass(frozen=True)
class Simulated:
    """A table by its parts: steps that really move it 1 mm, steps it is set to, gantry, kerf really cut and allowed."""

    true_steps_x: float = 100.0
    true_steps_y: float = 100.0
    steps_x: float = 100.0
    steps_y: float = 100.0
    rails: float = 1500.0
    far_side_back: float = 0.0
    kerf: float = 1.5
    kerf_setting: float = 1.5

    def put(self, x, y):
        """Where a drawn point comes out, in a frame whose Y runs along the rails."""
        along_x, along_y = x * self.steps_x / self.true_steps_x, y * self.steps_y / self.true_steps_y
        trailing = math.atan2(self.far_side_back, self.rails)
        return along_x * math.cos(trailing), along_y - along_x * math.sin(trailing)

    def measured(self, kind, degrees, nominal):
        """What a reading of a drawn length shows, without noise."""
        if kind == "reversal":
            return 2 * nominal * math.atan2(self.far_side_back, self.rails)
        far = self.put(nominal * math.cos(math.radians(degrees)), nominal * math.sin(math.radians(degrees)))
        wider = {"outside": -1, "inside": 1, "hole": 1}.get(kind, 0)
        return math.hypot(*far) + wider * (self.kerf - self.kerf_setting)

    def readings(self, kinds=SQUARE, u=0.02):
        return [
            Reading(kind, math.radians(degrees), nominal, self.measured(kind, degrees, nominal), u)
            for kind, degrees, nominal in kinds
        ]


def noisy(readings, noise):
    """The readings with so many of their own standard uncertainties added to each."""
    return [replace(r, measured=float(r.measured + r.u * n)) for r, n in zip(readings, noise, strict=True)]


def generator(seed):
    return np.random.default_rng(seed)
