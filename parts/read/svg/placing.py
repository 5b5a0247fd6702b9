"""Placing of elements: `transform` as attribute and as style, its origin, and the windows of nested drawings.

window   width and height in user units of the nearest `svg` or `symbol` around an element, which percentages of an
         origin refer to (CSS Transforms 1, section 8; SVG 2, chapter 8)
"""

import math
import re
from collections.abc import Callable, Mapping

from parts.errors import Unreadable
from parts.geometry import Box, Point
from parts.read.affine import Affine, scaling, shift
from parts.read.limits import FAR_OUT
from parts.read.svg.numbers import MOST_FUNCTIONS, Resolution, measure, numbers, rotate, scale, transform
from parts.read.svg.shapes import Window, an, negative
from parts.read.svg.style import Style
from parts.read.svg.tree import Element

_FUNCTION = re.compile(r"\s*([a-zA-Z]+)\s*\(([^()]*)\)")
_DEGREES: Mapping[str, float] = {"deg": 1.0, "grad": 0.9, "rad": 180 / math.pi, "turn": 360.0, "": 1.0}
_SIDES: Mapping[str, float] = {"left": 0.0, "top": 0.0, "center": 0.5, "right": 1.0, "bottom": 1.0}
_SHARE: Mapping[str, float] = {"xMin": 0.0, "xMax": 1.0, "YMin": 0.0, "YMax": 1.0}


class Placer:
    """Reads how elements are placed, at a file's resolution."""

    def __init__(self, resolution: Resolution) -> None:
        self._resolution = resolution

    def own(self, element: Element, style: Style, window: Window, box: Callable[[], Box | None]) -> Affine:
        """Return where an element's own coordinates go in those around it; `box` is asked for its bounding box.

        Raises:
            Unreadable: if its transform isn't one, or places it anywhere.
        """
        text = style.get("transform", "none")
        if text == "none":
            return Affine()
        frame = (0.0, 0.0, *window)
        if style.get("transform-box") in ("fill-box", "stroke-box", "border-box", "content-box"):
            frame = box() or frame
        placing = transform(text) if text == element.get("transform").strip() else self._styled(text, frame)
        x, y = self._origin(style.get("transform-origin"), frame)
        return shift(x, y).after(placing).after(shift(-x, -y)) if x or y else placing

    def _styled(self, text: str, frame: Box) -> Affine:
        """The placing that a style states: its lengths and angles have units (CSS Transforms 1, section 11)."""
        placing, at, count = Affine(), 0, 0
        while match := _FUNCTION.match(text, at):
            at, count = match.end(), count + 1
            placing = placing.after(self._function(match[1].lower(), match[2], frame))
            if count > MOST_FUNCTIONS:
                raise Unreadable(f"a transform in it has more than {MOST_FUNCTIONS} steps")
            if not placing.is_sane:
                raise Unreadable(FAR_OUT)
        if text[at:].strip():
            raise Unreadable(f"the transform {text[:40]!r} isn't one of CSS's")
        return placing

    def _function(self, name: str, inner: str, frame: Box) -> Affine:
        values = [each for each in re.split(r"[\s,]+", inner.strip()) if each]
        wide, high = frame[2] - frame[0], frame[3] - frame[1]
        make = _STYLED.get(name)
        if make is None or len(values) not in make[0]:
            raise Unreadable(f"the transform {f'{name}({inner})'[:40]!r} isn't one of CSS's")
        kind = make[1]
        if kind == "length":
            return make[2](*(self._length(v, high if i or name.endswith("y") else wide) for i, v in enumerate(values)))
        if kind == "turn":
            return make[2](*(_degrees(v) for v in values[:1]), *numbers(" ".join(values[1:]), f"the transform {name}"))
        if kind == "angle":
            return make[2](*map(_degrees, values))
        return make[2](
            *(float(v[:-1]) / 100 if v.endswith("%") else numbers(v, f"the transform {name}")[0] for v in values)
        )

    def _length(self, text: str, whole: float) -> float:
        value, unit = measure(text, "a length of a transform")
        if unit == "%":
            return value / 100 * whole
        return self._resolution.length(text, "a length of a transform") or 0.0

    def _origin(self, text: str, frame: Box) -> Point:
        words = text.lower().split()[:2]
        if not words:
            return 0.0, 0.0
        if len(words) == 1:
            words = ["center", words[0]] if words[0] in ("top", "bottom") else [words[0], "center"]
        if words[0] in ("top", "bottom") or words[1] in ("left", "right"):
            words.reverse()
        (x0, y0, x1, y1), (x, y) = frame, words
        return x0 + self._along(x, x1 - x0), y0 + self._along(y, y1 - y0)

    def _along(self, word: str, whole: float) -> float:
        return _SIDES[word] * whole if word in _SIDES else self._length(word, whole)

    def viewport(self, inner: Element, outer: Element | None, around: Window) -> tuple[Affine, Box, Window]:
        """Return where the coordinates of a nested svg or a symbol go, what is shown of them, and its window.

        Args:
            inner: the svg or the symbol.
            outer: the `use` that places a symbol.
            around: the window around it, which it fills where it doesn't say its size.
        """
        wide, high = around
        at = shift(0.0, 0.0) if outer else shift(self.number(inner, "x", wide), self.number(inner, "y", high))
        width, height = (
            self._size(name, outer, inner, whole) for name, whole in zip(("width", "height"), around, strict=True)
        )
        view = view_box(inner)
        if not view or min(view[2], view[3], width, height) <= 0:
            return at, (0.0, 0.0, width, height), (width, height)
        spread = fit(inner.get("preserveAspectRatio"), view, (width, height))
        (x, y), placed = (spread.a, spread.d), at.after(spread)
        left, top = -spread.e / x, -spread.f / y
        return placed, (left, top, left + width / x, top + height / y), (view[2], view[3])

    def is_nothing(self, inner: Element, outer: Element | None) -> bool:
        """Tell whether a nested svg or a symbol has no width or height, so that nothing of it shows."""
        stated = (next((e.get(n).strip() for e in (outer, inner) if e and e.get(n)), "") for n in ("width", "height"))
        sizes = [measure(text, "a size")[0] for text in stated if text and text != "auto"]
        return 0.0 in (*sizes, *view_box(inner)[2:])

    def _size(self, name: str, outer: Element | None, inner: Element, whole: float) -> float:
        for element in (outer, inner):
            text = element.get(name).strip() if element else ""
            if text.endswith("%"):
                return measure(text, name)[0] / 100 * whole
            if element and text and text != "auto":
                if (size := self._resolution.length(text, name) or 0.0) < 0:
                    raise Unreadable(negative(element, name))
                return size
        return whole

    def number(self, element: Element, name: str, whole: float = 0.0) -> float:
        """Return a length that is 0 unless said; a percentage is of the `whole`."""
        return (self._resolution.length(text, name, whole) or 0.0) if (text := element.get(name)) else 0.0


def view_box(element: Element) -> list[float]:
    """Return the left, top, width and height of an element's viewBox, nothing where it states none.

    Raises:
        Unreadable: if it isn't these four, or its size is negative.
    """
    view = numbers(element.get("viewBox"), "a viewBox")
    if view and len(view) != 4:
        raise Unreadable(f"the viewBox of {an(element.name)} in it has {len(view)} numbers, which should be 4")
    if view and min(view[2:]) < 0:
        raise Unreadable(
            f"the viewBox of {an(element.name)} in it is {view[2]:g} by {view[3]:g}, which can't be negative"
        )
    return view


def fit(how: str, view: list[float], size: Window) -> Affine:
    """Return where a viewBox goes in a window of a size, as `preserveAspectRatio` says (SVG 2, section 8.2)."""
    x, y = size[0] / view[2], size[1] / view[3]
    words = [word for word in how.split() if word != "defer"]
    if words[:1] == ["none"]:
        return scaling(x, y).after(shift(-view[0], -view[1]))
    both = max(x, y) if "slice" in words else min(x, y)
    align = words[0] if words else "xMidYMid"
    spare = (
        (size[0] - both * view[2]) * _SHARE.get(align[:4], 0.5),
        (size[1] - both * view[3]) * _SHARE.get(align[4:], 0.5),
    )
    return shift(*spare).after(scaling(both, both)).after(shift(-view[0], -view[1]))


def _degrees(text: str) -> float:
    value, unit = measure(text, "an angle of a transform")
    if unit not in _DEGREES:
        raise Unreadable(f"an angle of a transform should be in deg, rad, grad or turn and is {text[:20]!r}")
    return value * _DEGREES[unit]


def _skewed(x: float, y: float = 0.0) -> Affine:
    return Affine(c=math.tan(math.radians(x)), b=math.tan(math.radians(y)))


_STYLED: Mapping[str, tuple[tuple[int, ...], str, Callable[..., Affine]]] = {
    "matrix": ((6,), "number", Affine),
    "translate": ((1, 2), "length", lambda x, y=0.0: shift(x, y)),
    "translatex": ((1,), "length", lambda x: shift(x, 0.0)),
    "translatey": ((1,), "length", lambda y: shift(0.0, y)),
    "scale": ((1, 2), "number", scale),
    "scalex": ((1,), "number", lambda x: scaling(x, 1.0)),
    "scaley": ((1,), "number", lambda y: scaling(1.0, y)),
    "rotate": ((1, 3), "turn", rotate),
    "skew": ((1, 2), "angle", _skewed),
    "skewx": ((1,), "angle", _skewed),
    "skewy": ((1,), "angle", lambda y: _skewed(0.0, y)),
}
