"""Asked: what whoever sends a drawing says of how it is to be read."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from parts.units import Units

Strokes: TypeAlias = Literal["auto", "outline", "middle"]
"""What is cut of an SVG's stroke without a fill: by its width, always its outline, always its middle."""
STROKES: tuple[Strokes, ...] = ("auto", "outline", "middle")


@dataclass(frozen=True, slots=True)
class Asked:
    """What one drawing unit is where the file doesn't say, how many pixels make an inch, and what is cut of strokes."""

    units: Units | None = None
    dpi: float | None = None
    strokes: Strokes = "auto"
