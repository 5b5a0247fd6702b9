"""Asked: what whoever sends a drawing says of how it is to be read."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias, TypedDict

from parts.geometry import Box
from parts.read.layers import Role
from parts.units import Units

StrokesCut: TypeAlias = Literal["auto", "outline", "middle"]
"""What is cut of an SVG's stroke without a fill: by its width, always its outline, always its middle."""
STROKES: tuple[StrokesCut, ...] = ("auto", "outline", "middle")


@dataclass(frozen=True, slots=True)
class Asked:
    """How a drawing is to be read.

    Args:
        units: what one drawing unit is, where the file doesn't say.
        dpi: how many pixels of an SVG make an inch; 96, as CSS has it, unless said.
        strokes: what is cut of an SVG's strokes without a fill: their outline or their middle, by their width if auto.
        layers: what the lines of a layer are for, by its name, whatever that says.
        outlines: whether a closed outline is cut, by its box in the drawing's own units.
        said_in: the units that sentences have their lengths in; the drawing's own unless given.
    """

    units: Units | None = None
    dpi: float | None = None
    strokes: StrokesCut = "auto"
    layers: Mapping[str, Role] = field(default_factory=dict)
    outlines: Mapping[Box, bool] = field(default_factory=dict)
    said_in: Units | None = None


class More(TypedDict, total=False):
    """What may be said besides the units, as of `Asked`."""

    dpi: float | None
    strokes: StrokesCut
    layers: Mapping[str, Role]
    outlines: Mapping[Box, bool]
    said_in: Units | None
