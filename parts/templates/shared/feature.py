"""A feature of a face that is the same left and right of its middle, the y axis: a pair of openings, or one.

It names the parameters that place it, so that what is wrong with its place can be said of them.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from parts.geometry import Corner, Point, mirror
from parts.geometry.figure import Window
from parts.profile import Dimension, Opening, openings
from parts.tolerance import SAME_POINT_MM

MIRROR = mirror((0, 0), math.pi / 2)
"""Left for right: exact, since it only changes the sign of x."""

Edge = tuple[float, float, float]
"""A straight edge of the face: the points where nx x + ny y = d, (nx, ny) a unit vector pointing out of it."""


@dataclass(frozen=True, slots=True)
class Feature:
    """One opening on the middle, or the right one of a pair; `windows` stand one above the other.

    `up` is the parameter that sets how high it is and `spacing` how far apart the pair is. An opening on the
    middle has no spacing, but a `breadth`, the parameter that sets how wide it is. `bolt` is the diameter in mm of the
    bolt that goes through each, 0 where none is declared.
    """

    name: str
    windows: tuple[Window, ...]
    up: str
    spacing: str = ""
    breadth: str = ""
    bolt: float = 0.0

    @property
    def x(self) -> float:
        """How far its centre is from the middle."""
        return self.windows[0].centre[0]

    @property
    def width(self) -> float:
        """How wide each opening is over all."""
        return self.windows[0].width

    @property
    def top(self) -> float:
        """How high its highest point is."""
        return max(window.centre[1] + window.height / 2 for window in self.windows)

    @property
    def bottom(self) -> float:
        """How high its lowest point is."""
        return min(window.centre[1] - window.height / 2 for window in self.windows)

    @property
    def said(self) -> str:
        """What it is called in a sentence."""
        return f"the {self.name}s" if self.spacing else f"the {self.name}"

    @property
    def openings(self) -> tuple[Opening, ...]:
        """Its openings, from the lowest left one."""
        loops = [window.loop for window in self.windows]
        if self.spacing:
            loops = [each for loop in loops for each in (MIRROR.loop(loop), loop)]
        return openings(loops, self.name, self.spacing or self.breadth, self.bolt)

    def outermost(self, edges: Iterable[Edge]) -> float:
        """Return how far from the middle its centre is where it touches the nearest of the edges, nx > 0.

        A window touches an edge when its centre is as far inside as the window reaches that way.
        """
        return min((d - ny * w.centre[1] - w.reach(nx, ny)) / nx for nx, ny, d in edges for w in self.windows)

    def meets(self, other: "Feature") -> bool:
        """Tell whether it touches or overlaps another."""
        return any(window.gap(into) <= SAME_POINT_MM for window in self.windows for into in other.windows)

    def passing(self, other: "Feature") -> tuple[float, float]:
        """Return the greatest and the least distance between the pair at which it just touches another.

        Closer together than the first, or wider apart than the second, it passes.
        """
        needed = max(window.touching(into) for window in self.windows for into in other.windows)
        return 2 * (other.x - needed), 2 * (other.x + needed)

    def places(self, start: float, height: float) -> Iterator[Dimension]:
        """Yield where its spacing can be measured, and its `height` from the lower edge at x = `start`."""
        x, y = self.windows[0].centre
        if self.spacing:
            yield Dimension(self.spacing, (-x, y), (x, y), "below")
        yield Dimension(self.up, (start, 0), (-x, height), "left")


def across(parameter: str, window: Window) -> Dimension:
    """Return where the width of a window can be measured."""
    (x, y), half = window.centre, window.width / 2
    return Dimension(parameter, (x - half, y), (x + half, y), "above")


def upright(parameter: str, window: Window) -> Dimension:
    """Return where the height of a window can be measured."""
    (x, y), half = window.centre, window.height / 2
    return Dimension(parameter, (x, y - half), (x, y + half), "right")


def diameter(parameter: str, window: Window) -> Dimension:
    """Return where the diameter of a round hole can be measured."""
    (x, y), out = window.centre, window.radius * math.sqrt(0.5)
    return Dimension(parameter, (x, y), (x + out, y + out), "diameter")


def window_sizes(prefix: str, window: Window) -> Iterator[Dimension]:
    """Yield where the parameters `prefix`_width, _height and _radius of a window can be measured."""
    yield across(f"{prefix}_width", window)
    yield upright(f"{prefix}_height", window)
    if window.radius:
        (x, y), (a, b), out = window.centre, window.core, window.radius * math.sqrt(0.5)
        yield Dimension(f"{prefix}_radius", (x + a, y + b), (x + a + out, y + b + out), "radius")


def both_halves(right: Sequence[Corner | Point]) -> list[Corner | Point]:
    """Return the corners of the right half and their mirror images, counter-clockwise."""
    return [*right, *(_mirrored(corner) for corner in reversed(right))]


def _mirrored(corner: Corner | Point) -> Corner | Point:
    if isinstance(corner, Corner):
        return replace(corner, at=MIRROR.point(corner.at))
    return MIRROR.point(corner)
