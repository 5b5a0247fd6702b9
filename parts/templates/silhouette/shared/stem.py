"""What a leaf stands on: a stem, straight or bent, with a round end, or a pointed stake."""

import math
from typing import Protocol

from parts.geometry import Vertex


class Stemmed(Protocol):
    """The lengths of stem and stake in mm, the bend in degrees."""

    @property
    def stem_width(self) -> float: ...  # noqa: D102 - as its parameter says
    @property
    def stem_length(self) -> float: ...  # noqa: D102
    @property
    def stem_bend(self) -> float: ...  # noqa: D102
    @property
    def point_length(self) -> float: ...  # noqa: D102
    @property
    def point_width(self) -> float: ...  # noqa: D102


def stem(p: Stemmed) -> list[Vertex]:
    """Return the stem from the left of the base around its end: straight, or bent in two arcs about one centre."""
    half, bend = p.stem_width / 2, math.radians(p.stem_bend)
    if not bend:
        low = half - p.stem_length
        return [(-half, 0.0, 0.0), (-half, low, 1.0), (half, low, 0.0)]
    middle, c, s = bent_radius(p), math.cos(bend), math.sin(bend)
    left, right = ((middle - radius * c, -radius * s) for radius in (middle + half, middle - half))
    bulge = math.tan(bend / 4)
    return [(-half, 0.0, bulge), (*left, 1.0), (*right, -bulge)]


def bent_radius(p: Stemmed) -> float:
    """Return the radius of a bent stem's middle: its round end, radius * sin(bend) down, reaches `stem_length`."""
    return (p.stem_length - p.stem_width / 2) / math.sin(math.radians(p.stem_bend))


def stake(p: Stemmed) -> list[Vertex]:
    """Return the stake from the left of the base around its blunt point."""
    half, blunt, low = p.stem_width / 2, p.point_width / 2, -p.stem_length
    shoulder = low + p.point_length
    return [(x, y, 0.0) for x, y in ((-half, 0), (-half, shoulder), (-blunt, low), (blunt, low), (half, shoulder))]
