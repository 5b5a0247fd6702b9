"""Mend: one thing that was put right in a drawing, with its size and its place.

gap       two ends joined; how far apart they were
double    a line, or a part of one, dropped where another lies; how far off it was
outline   a closed outline dropped that was drawn again; how far off it was
stray     a line or speck by itself dropped; its length
tail      a line hanging from the outline dropped; its length
jog       a step or spike in an outline taken out; how far the outline was moved
circle    an outline known as a full circle; how far it was off that circle
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from parts.geometry import Point, Segment, distance

Kind: TypeAlias = Literal["gap", "double", "outline", "stray", "tail", "jog", "circle"]


@dataclass(frozen=True, slots=True)
class Mend:
    """What was put right, by how much in mm, and where in the drawing."""

    kind: Kind
    size_mm: float
    at: Point


def off_by(segment: Segment, others: Iterable[Segment]) -> float:
    """Return how far a segment's ends and middle are from the nearest of others, mm."""
    every: Sequence[Segment] = tuple(others)
    points = (segment.start, segment.at(0.5), segment.end)
    return max(min(distance(other.nearest(p), p) for other in every) for p in points)
