"""SVG shapes -> strokes in user units: rect, circle, ellipse, line, polyline, polygon, path."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from parts.errors import Unreadable
from parts.geometry import Point
from parts.read.curve_kinds import EllipticArc
from parts.read.limits import Budget, shown
from parts.read.pieces import Piece, circular, line
from parts.read.svg.numbers import Resolution, measure, points
from parts.read.svg.path import arc, subpaths
from parts.read.svg.tree import Element

Window: TypeAlias = tuple[float, float]
"""Width and height in user units of the nearest `svg` or `symbol` around an element; zero where it isn't known."""
UNKNOWN: Window = (0.0, 0.0)
_ALONG_X, _ALONG_Y = ("x", "cx", "rx", "width", "x1", "x2"), ("y", "cy", "ry", "height", "y1", "y2")
_LONGEST_UNIT = 8

Drawn: TypeAlias = tuple[Sequence[Piece], bool, str]
"""Pieces, whether they are closed, and what they were drawn as."""


class Relative(Exception):
    """A shape whose size depends on something that isn't known; its text is what that is stated in."""


def shapes(element: Element, budget: Budget, resolution: Resolution, window: Window = UNKNOWN) -> Iterator[Drawn]:
    """Yield what an element draws, percentages being of its window; nothing where it isn't one of the shapes.

    Raises:
        Relative: if its size is in letters, or in percent of a window that isn't known.
        Unreadable: if its numbers are none, or a size is negative.
    """
    read = _SHAPES.get(element.name)
    if read is not None:
        yield from read(element, _Sizes(element, resolution, window), budget)


def diagonal(window: Window) -> float:
    """Return what percentages refer to that are neither of a width nor of a height (SVG 2, section 8.9)."""
    return math.hypot(*window) / math.sqrt(2)


def is_shape(element: Element) -> bool:
    """Tell whether an element is one of the shapes."""
    return element.name in _SHAPES


@dataclass(frozen=True, slots=True)
class _Sizes:
    """An element's sizes by name, in user units; 0 for what isn't said."""

    element: Element
    resolution: Resolution
    window: Window

    def __call__(self, name: str) -> float:
        text, what = self.element.get(name), f"{name} of a {self.element.name}"
        if not text.strip():
            return 0.0
        wide, high = self.window
        whole = wide if name in _ALONG_X else high if name in _ALONG_Y else diagonal(self.window)
        value = self.resolution.length(text, what, whole)
        if value is None:
            unit = measure(text, what)[1]
            raise Relative("percent" if unit == "%" else unit[:_LONGEST_UNIT])
        return value

    def positive(self, name: str) -> float:
        """Return a size, which can't be negative.

        Raises:
            Unreadable: if it is.
        """
        value = self(name)
        if value < 0:
            raise Unreadable(negative(self.element, name))
        return value


def negative(element: Element, name: str) -> str:
    """Return the sentence that refuses an element for a negative size of it."""
    called = f" with the id {shown(element.get('id'))}" if element.get("id") else ""
    said = shown(element.get(name).strip())
    return f"{an(element.name)} in it{called} has {an(name)} of {said}, which can't be negative"


def an(name: str) -> str:
    """Return the name of an element or an attribute with its article."""
    return f"an {name}" if name in ("svg", "ellipse", "r", "rx", "ry") else f"a {name}"


def _rect(element: Element, size: _Sizes, _budget: Budget) -> Iterator[Drawn]:
    x, y, width, height = size("x"), size("y"), size.positive("width"), size.positive("height")
    if width <= 0 or height <= 0:
        return
    rx, ry = _corner_radii(element, size, width, height)
    corners = [
        ((x, y + ry), (x + rx, y)), ((x + width - rx, y), (x + width, y + ry)),
        ((x + width, y + height - ry), (x + width - rx, y + height)), ((x + rx, y + height), (x, y + height - ry)),
    ]  # fmt: skip
    pieces: list[Piece] = []
    for (start, end), (following, _) in zip(corners, corners[1:] + corners[:1], strict=True):
        pieces += arc(start, end, (rx, ry, 0.0), (False, True))
        pieces += line(end, following)
    yield pieces, True, "line"


def _corner_radii(element: Element, size: _Sizes, width: float, height: float) -> tuple[float, float]:
    """The radii of a rect's corners: one given stands for both, neither more than half a side."""
    rx, ry = (size.positive(name) if element.get(name) not in ("", "auto") else -1.0 for name in ("rx", "ry"))
    rx, ry = (ry if rx < 0 else rx), (rx if ry < 0 else ry)
    if rx <= 0 or ry <= 0:
        return 0.0, 0.0
    return min(rx, width / 2), min(ry, height / 2)


def _circle(_element: Element, size: _Sizes, _budget: Budget) -> Iterator[Drawn]:
    centre, r = (size("cx"), size("cy")), size.positive("r")
    if r > 0:
        yield (circular(centre, r),), True, "line"


def _ellipse(element: Element, size: _Sizes, _budget: Budget) -> Iterator[Drawn]:
    centre = size("cx"), size("cy")
    rx, ry = (size.positive(name) if element.get(name) != "auto" else 0.0 for name in ("rx", "ry"))
    if rx > 0 and ry > 0:
        yield (EllipticArc(centre, (rx, 0.0), (0.0, ry), 0.0, 2 * math.pi),), True, "ellipse"


def _line(_element: Element, size: _Sizes, _budget: Budget) -> Iterator[Drawn]:
    x1, y1, x2, y2 = (size(name) for name in ("x1", "y1", "x2", "y2"))
    yield line((x1, y1), (x2, y2)), False, "line"


def _polyline(element: Element, _size: _Sizes, budget: Budget) -> Iterator[Drawn]:
    corners = points(element.get("points"))
    budget.segments(len(corners))
    yield _chain(corners), False, "line"


def _polygon(element: Element, _size: _Sizes, budget: Budget) -> Iterator[Drawn]:
    corners = points(element.get("points"))
    budget.segments(len(corners))
    yield _chain([*corners, *corners[:1]]), True, "line"


def _path(element: Element, _size: _Sizes, budget: Budget) -> Iterator[Drawn]:
    for pieces, closed in subpaths(element.get("d"), budget):
        if pieces:
            yield pieces, closed, "line"


def _chain(corners: Sequence[Point]) -> list[Piece]:
    return [piece for a, b in pairwise(corners) for piece in line(a, b)]


_SHAPES: Mapping[str, Callable[[Element, _Sizes, Budget], Iterator[Drawn]]] = {
    "rect": _rect, "circle": _circle, "ellipse": _ellipse, "line": _line, "polyline": _polyline,
    "polygon": _polygon, "path": _path,
}  # fmt: skip
