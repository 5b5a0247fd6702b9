"""Elements, shapes and what cuts them off, each with where it is placed."""

from dataclasses import dataclass
from typing import Literal

from parts.geometry import Box
from parts.read.affine import Affine
from parts.read.svg.shapes import UNKNOWN, Drawn, Window
from parts.read.svg.style import Style
from parts.read.svg.tree import Element


@dataclass(frozen=True, slots=True)
class Cut:
    """What cuts off an element: a clipPath or a mask, or the window of a nested drawing, where it is placed."""

    kind: Literal["clip", "mask", "window"]
    to: Affine
    element: Element | None = None
    of: Element | None = None
    window: Box = (0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Place:
    """An element still to be read: where, in which style and window, on which layer, and how deep in `use`."""

    element: Element
    to: Affine
    style: Style
    window: Window
    layer: str = ""
    uses: int = 0
    cuts: tuple[Cut, ...] = ()
    hidden_as: str = ""


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape as it is drawn, its pieces in its own coordinates."""

    drawn: tuple[Drawn, ...]
    to: Affine
    style: Style
    layer: str
    element: Element
    cuts: tuple[Cut, ...]
    window: Window = UNKNOWN
