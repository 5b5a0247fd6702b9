"""SVG -> raw drawing: groups and `use` placed, every shape a stroke, a spot, or named as left out.

One drawing unit is a user unit of the outermost viewBox. It has a size only where the file gives its width or
height in mm, cm, in, pt or pc: pixels have none. y is turned over, since SVG's runs down.
"""

import math
from collections.abc import Mapping
from typing import NamedTuple

from parts.errors import Unreadable
from parts.read.affine import Affine, scaling, shift
from parts.read.layers import OWN, role
from parts.read.limits import FAR_OUT, Budget
from parts.read.pieces import LeftOut, Piece, Spot, Stroke, anchors, placed
from parts.read.raw import Raw, Scale
from parts.read.svg.numbers import length, numbers, physical, transform
from parts.read.svg.shapes import Relative, shapes
from parts.read.svg.tree import Element, Tree, tree

_GROUPS = frozenset({"svg", "g", "a", "switch"})
_LEFT_OUT: Mapping[str, str] = {
    "text": "text", "image": "picture", "foreignObject": "picture", "video": "picture", "mesh": "picture",
}  # fmt: skip


class _Place(NamedTuple):
    """An element still to be read: how it is placed, on which layer, and how deep in `use`."""

    element: Element
    to: Affine
    layer: str
    uses: int


def read(data: bytes, budget: Budget) -> Raw:
    """Return what an SVG draws, in user units.

    Raises:
        Unreadable: if it is broken, hostile, or holds too much.
    """
    read = tree(data, budget)
    raw = Raw()
    view = _view(read.root)
    raw.scale, aspect = _scale(read.root, view)
    if raw.scale is None:
        raw.unscaled = "The file gives its size in pixels or not at all, so it doesn't say its units"
    x, y, _, height = view  # the lower left of what it shows is the drawing's origin
    waiting = [_Place(read.root, scaling(1.0, -aspect).after(shift(-x, -y - height)), "", 0)]
    while waiting:
        budget.time()
        waiting += reversed(_read_one(waiting.pop(), read, raw, budget))
    return raw


def _view(root: Element) -> tuple[float, float, float, float]:
    """The left, top, width and height of what is shown, in user units."""
    view = numbers(root.get("viewBox"), "the viewBox")
    if len(view) == 4:
        return view[0], view[1], view[2], view[3]
    return (0.0, 0.0, *_pixels(root))


def _scale(root: Element, view: tuple[float, float, float, float]) -> tuple[Scale | None, float]:
    """The size of a user unit in x, and how many times as tall it is as wide."""
    wide, high = (
        physical(text, size, f"the {name}") if (text := _stated(root, name)) else None
        for name, size in (("width", view[2]), ("height", view[3]))
    )
    if wide is None or high is None:
        return wide or high, 1.0
    fit = root.get("preserveAspectRatio").split()
    if fit[:1] == ["none"]:
        return wide, high.unit_mm / wide.unit_mm
    pick = max if "slice" in fit else min
    return pick(wide, high, key=lambda scale: scale.unit_mm), 1.0


def _pixels(root: Element) -> tuple[float, float]:
    """Width and height in pixels, which are the user units of a file without viewBox."""
    found = [length(_stated(root, name) or "0", f"the {name}") or 0.0 for name in ("width", "height")]
    return found[0], found[1]


def _stated(root: Element, name: str) -> str:
    """The width or height that the file states; none where that is left to whoever shows it: auto, calc(...)."""
    text = root.get(name).strip()
    return "" if text[:1].isalpha() else text


def _read_one(place: _Place, read: Tree, raw: Raw, budget: Budget) -> list[_Place]:
    """Take one element's shapes; return what lies in it, placed."""
    element = place.element
    if element.style("display") == "none" or element.style("visibility") in ("hidden", "collapse"):
        raw.hidden["that aren't shown"] += 1
        return []
    to = place.to.after(transform(element.get("transform")))
    layer = _layer(element, place.layer)
    if element.name in _LEFT_OUT:
        raw.left_out.append(LeftOut(_LEFT_OUT[element.name], layer, to.point((0.0, 0.0))))
        return []
    if not to.is_sane:
        raise Unreadable(FAR_OUT)
    if element.name == "use":
        return _used(element, to, layer, place.uses + 1, read, raw, budget)
    if element.name in _GROUPS:
        if element.name == "svg" and element is not read.root:
            to = to.after(_viewport(element))
        return [_Place(child, to, layer, place.uses) for child in element.children]
    try:
        _draw(element, to, layer, raw, budget)
    except Relative:
        raw.left_out.append(LeftOut("shape sized in percent", layer, to.point((0.0, 0.0))))
    return []


def _layer(element: Element, outer: str) -> str:
    """The layer an element names by a label or an id, else the one it lies on.

    Programs give ids with numbers to whatever has none, so those say nothing.
    """
    label, made = element.get("label"), element.get("id")
    for name in (label, made):
        if name.upper() in OWN:
            return name.upper()
    if element.name != "g":
        return outer
    name = label or ("" if any(c.isdigit() for c in made) else made)
    return name if name and (not outer or role(name) != "cut") else outer


def _used(element: Element, to: Affine, layer: str, uses: int, read: Tree, raw: Raw, budget: Budget) -> list[_Place]:  # noqa: PLR0913
    href = element.get("href")
    target = read.by_id.get(href[1:]) if href.startswith("#") else None
    if target is None:
        raw.left_out.append(LeftOut("use of something that isn't in the file", layer, to.point((0.0, 0.0))))
        return []
    budget.placement(uses)
    to = to.after(shift(_number(element, "x"), _number(element, "y")))
    if target.name != "symbol":
        return [_Place(target, to, layer, uses)]
    to = to.after(_viewport(target, element))
    return [_Place(child, to, layer, uses) for child in target.children]


def _viewport(inner: Element, outer: Element | None = None) -> Affine:
    """Where the coordinates of a nested svg or a symbol go: into its own window, or that of its `use`."""
    window = outer or inner
    at = shift(0.0, 0.0) if outer else shift(_number(inner, "x"), _number(inner, "y"))
    view = numbers(inner.get("viewBox"), "a viewBox")
    width, height = _number(window, "width"), _number(window, "height")
    if len(view) != 4 or min(view[2], view[3], width, height) <= 0:
        return at
    x, y = width / view[2], height / view[3]
    fit = inner.get("preserveAspectRatio").split()
    if fit[:1] == ["none"]:
        return at.after(scaling(x, y)).after(shift(-view[0], -view[1]))
    both = max(x, y) if "slice" in fit else min(x, y)
    share = {"xMin": 0.0, "xMax": 1.0, "YMin": 0.0, "YMax": 1.0}
    align = fit[0] if fit else "xMidYMid"
    spare = (
        (width - both * view[2]) * share.get(align[:4], 0.5),
        (height - both * view[3]) * share.get(align[4:], 0.5),
    )
    return at.after(shift(*spare)).after(scaling(both, both)).after(shift(-view[0], -view[1]))


def _number(element: Element, name: str) -> float:
    return (length(text, name) or 0.0) if (text := element.get(name)) else 0.0


def _draw(element: Element, to: Affine, layer: str, raw: Raw, budget: Budget) -> None:
    made = [
        Stroke(tuple(q for p in pieces for q in placed(p, to)), closed, layer, kind)
        for pieces, closed, kind in shapes(element, budget)
    ]
    budget.segments(len(made))
    open_ends = made and not any(stroke.closed for stroke in made)
    if open_ends and role(layer) == "drill":  # a cross at the centre: SVG has no points
        raw.spots.append(Spot(_middle([piece for stroke in made for piece in stroke.pieces]), layer))
    else:
        raw.strokes += made


def _middle(pieces: list[Piece]) -> tuple[float, float]:
    at = [p for piece in pieces for p in anchors(piece)] or [(0.0, 0.0)]
    xs, ys = [p[0] for p in at], [p[1] for p in at]
    return math.fsum((min(xs), max(xs))) / 2, math.fsum((min(ys), max(ys))) / 2
