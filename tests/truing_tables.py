"""Simulated tables: what one with given errors makes of a drawing, reckoned from points, not by the formula there.

X runs along the gantry, Y along its rails, as on a cutting table: `gantry` is the angle by which the far end of the
gantry trails, so that the axes stand at 90 degrees plus it.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from parts import draw
from parts.truing.file import read
from parts.truing.instruments import shared
from parts.truing.model import Errors, shown
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


def of_sheet(slug, **values):
    """The readings of a piece's sheet with the drawn lengths: each by its usual instrument, no temperature told."""
    sheet = draw(slug, **values).measuring_sheet()
    text = sheet.to_toml()
    for place in sheet.places:
        shown = 0.0 if place.kind == "reversal" else place.nominal
        text = text.replace('measured = ""', f'measured = "{shown:.6f} mm"', 1)
    return read(text)[1]


INSIDE_JAWS = {"centres": 0.5, "inside": 1.0, "hole": 1.0}
"""How much of an error of its inside jaws a caliper brings into a reading: half where far and near edges count."""
SHARED = {
    "warm": lambda r: 0.0 if r.kind == "reversal" else 12e-6 * 10 * r.nominal,
    "caliper": lambda r: 0.0 if r.kind == "reversal" else 1e-4 * r.nominal,
    "jaws": lambda r: -0.03 * INSIDE_JAWS.get(r.kind, 0.0) if r.tool == "caliper" else 0.0,
    "inside alone": lambda r: -0.03 if r.tool == "caliper" and r.kind in ("inside", "hole") else 0.0,
}
"""What all readings of a sheet may be off by, mm: a piece 10 K warm, an instrument 1e-4 long, inside jaws 0.03 mm."""


def disturbed(readings, case, random):
    """How far readings are off in a case, mm: their own noise, and what they share."""
    u = np.array([reading.u for reading in readings])
    noise = random.normal(size=len(u)) * u * (2 if case == "noise twice as said" else 1)
    if case == "as said":
        return noise + sum((random.normal() * np.array(column) for column in shared(readings)), np.zeros(len(u)))
    return noise + np.array([SHARED[case](reading) if case in SHARED else 0.0 for reading in readings])


def measured_of(readings, errors, off):
    """The readings of a table with these errors, so far off."""
    return [replace(r, measured=float(shown(r, errors) + gap)) for r, gap in zip(readings, off, strict=True)]


def random_errors(random):
    """The errors of a table such as a shop has."""
    return Errors(*map(float, random.normal(size=5) * (1e-3, 1e-3, 1.5e-3, 0.3, 0.1)))
