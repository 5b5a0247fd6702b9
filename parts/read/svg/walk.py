"""Walk over an SVG's tree: every shape in paint order, with where it is placed, its style, and what cuts it off.

Groups, `use`, `symbol`, nested `svg` and `switch` are followed; what isn't shown is counted, and what isn't read (text,
pictures) is named. A nested `svg` and a `symbol` show only what lies in their window (SVG 2, section 8.5).
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from parts.errors import Unreadable
from parts.geometry import Arc, Box, Line, Point
from parts.read.affine import Affine, shift
from parts.read.layers import OFF, OWN, drawn_aside, named_in, role
from parts.read.limits import FAR_OUT, Budget
from parts.read.pieces import LeftOut, Piece, placed
from parts.read.raw import Raw
from parts.read.svg.css import Sheet
from parts.read.svg.numbers import Resolution
from parts.read.svg.placed import Cut, Place, Shape
from parts.read.svg.placing import Placer
from parts.read.svg.shapes import UNKNOWN, Drawn, Relative, Window, is_shape, shapes
from parts.read.svg.style import Style, reference
from parts.read.svg.tree import Element, Tree

_GROUPS = frozenset({"svg", "g", "a", "switch"})
_FOLLOWED = frozenset({*_GROUPS, "use"})
_LEFT_OUT: Mapping[str, str] = {
    "text": "text", "flowRoot": "text", "image": "picture", "foreignObject": "picture", "video": "picture",
    "mesh": "picture",
}  # fmt: skip
# Sizes of shapes that a style may state (SVG 2, section 7).
_SIZES = ("cx", "cy", "r", "rx", "ry", "x", "y", "width", "height")
_NEVER_DRAWN = frozenset({
    "defs", "symbol", "clipPath", "mask", "marker", "pattern", "linearGradient", "radialGradient", "filter", "style",
    "script", "title", "desc", "metadata", "view", "cursor", "font", "solidColor", "hatch", "meshgradient",
})  # fmt: skip
"""What holds things that are drawn elsewhere or not at all (SVG 2, section 5.1)."""
_SIZED = ("rect", "circle", "ellipse")
_SPAN_POINTS = 16
NO_SIZE = "that [has|have] no size"
"""Why something is hidden (SVG 2: a size of zero disables rendering)."""


class Walker:
    """Walks over a tree, and counts in a raw drawing what it passes over.

    What isn't shown is read all the same where its layer is among those `chosen`; `off` are elements on other layers.
    """

    def __init__(
        self, tree: Tree, sheet: Sheet, resolution: Resolution, raw: Raw, budget: Budget, chosen: Iterable[str] = ()
    ) -> None:
        self.tree, self.raw, self.budget = tree, raw, budget
        self.off: list[Place] = []
        self._chosen = {name.upper() for name in chosen}
        self._sheet, self.resolution = sheet, resolution
        self.placer = Placer(resolution)

    def shapes(self, places: Iterable[Place]) -> Iterator[Shape]:
        """Yield every shape in the elements, in the order in which they are painted."""
        waiting = [*places][::-1]
        while waiting:
            self.budget.time()
            found = self._read(waiting.pop())
            if isinstance(found, Shape):
                yield found
            else:
                waiting += reversed(found)

    def _read(self, place: Place) -> Shape | Sequence[Place]:
        element, declared = place.element, self.declared(place.element)
        style = place.style.of_child(declared)
        style = style.as_shown() if place.hidden_as else style
        left_out = _LEFT_OUT.get(element.name)
        leaf = left_out or is_shape(element)
        if not style.shown or (leaf and not style.visible):
            layer = self._hidden_layer(place, bool(leaf))
            if not {layer.upper(), named_in(layer).upper()} & self._chosen:
                self.raw.hidden["that [isn't|aren't] shown"] += bool(leaf or element.name in _FOLLOWED)
                self.off += [replace(place, style=style.as_shown(), hidden_as=layer)] if layer else []
                return ()
            style, place = style.as_shown(), replace(place, hidden_as=layer)
        to = place.to.after(self.placer.own(element, style, place.window, lambda: self.box(element)))
        layer = place.hidden_as or _layer(element, place.layer)
        if left_out:
            self._leave_out(left_out, layer, to)
            return ()
        if not to.is_sane:
            raise Unreadable(FAR_OUT)
        place = replace(
            place, to=to, style=style, layer=layer, cuts=(*place.cuts, *self._cuts(element, style, to, layer))
        )
        if element.name == "use":
            return self._used(place)
        if element.name in _GROUPS:
            return self._group(place)
        return self._shape(place)

    def hidden(self) -> Iterator[Shape]:
        """Yield the shapes on layers that aren't shown, as they would be.

        Raises:
            Unreadable: if it takes long.
        """
        quiet = Walker(self.tree, self._sheet, self.resolution, Raw(), self.budget.aside())
        yield from quiet.shapes(self.off)

    @staticmethod
    def _hidden_layer(place: Place, is_leaf: bool) -> str:
        """The layer of what isn't shown, as it is called then; nothing where it lies on none."""
        element = place.element
        layer = _layer(element, place.layer) if is_leaf or element.name in _FOLLOWED else ""
        return place.hidden_as or (drawn_aside(layer, OFF) if layer else "")

    def _group(self, place: Place) -> Sequence[Place]:
        element = place.element
        if element.name == "svg" and element.parent is not None:
            if self.placer.is_nothing(element, None):
                self.raw.hidden[NO_SIZE] += 1
                return ()
            place = self._windowed(place, element, None)
        children = [replace(place, element=child) for child in element.children]
        if element.name != "switch":
            return [each for each in children if _is_for_us(each.element)]
        chosen = next((each for each in children if each.element.name and _is_for_us(each.element)), None)
        self.raw.hidden["that [is another choice|are other choices] of a switch"] += len(children) - bool(chosen)
        return [chosen] if chosen else ()

    def _windowed(self, place: Place, inner: Element, outer: Element | None) -> Place:
        placing, view, window = self.placer.viewport(inner, outer, place.window)
        to = place.to.after(placing)
        style = place.style.of_child(self.declared(inner)) if outer else place.style
        shows_all = style.get("overflow") in ("visible", "auto") or view[2] <= view[0] or view[3] <= view[1]
        cuts = place.cuts if shows_all else (*place.cuts, Cut("window", to, window=view))
        return replace(place, to=to, window=window, style=style, cuts=cuts)

    def _used(self, place: Place) -> Sequence[Place]:
        element, href = place.element, place.element.get("href")
        target = self.tree.by_id.get(href[1:]) if href.startswith("#") else None
        if target is None:
            self._leave_out("use of something that isn't in the file", place.layer, place.to)
            return ()
        self.budget.placement(place.uses + 1)
        at = [self.placer.number(element, name, whole) for name, whole in zip("xy", place.window, strict=True)]
        to = place.to.after(shift(at[0], at[1]))
        placed_there = replace(place, element=target, to=to, uses=place.uses + 1)
        if target.name != "symbol":
            return [placed_there]
        if self.placer.is_nothing(target, element):
            self.raw.hidden[NO_SIZE] += 1
            return ()
        inside = self._windowed(placed_there, target, element)
        return [replace(inside, element=child) for child in target.children]

    def _shape(self, place: Place) -> Shape | Sequence[Place]:
        unknown = place.element.name not in _NEVER_DRAWN and not is_shape(place.element)
        if place.element.name and unknown and any(map(_is_drawn, place.element.children)):
            self.raw.hidden["in an element that isn't SVG's"] += 1
        before = len(self.raw.left_out)
        drawn = self.drawn(place.element, place.layer, place.to, place.window) if is_shape(place.element) else ()
        if not drawn:
            self.raw.hidden[NO_SIZE] += place.element.name in _SIZED and len(self.raw.left_out) == before
            return ()
        return Shape(drawn, place.to, place.style, place.layer, place.element, place.cuts, place.window)

    def drawn(self, element: Element, layer: str, to: Affine, window: Window = UNKNOWN) -> tuple[Drawn, ...]:
        """Return what a shape draws; nothing, and it is named, where its size isn't known."""
        declared = self._sheet.sizes(element, _SIZES, self.budget)
        sized = element.with_attributes(declared)
        try:
            return tuple(shapes(sized, self.budget, self.resolution, window))
        except Relative as unit:
            self._leave_out(f"shape sized in {unit}", layer, to)
            return ()

    def _cuts(self, element: Element, style: Style, to: Affine, layer: str) -> Iterator[Cut]:
        for name, target_name, kind in _CUTS:
            text = style.get(name, "none")
            target = self.tree.by_id.get(reference(text))
            if target is not None and target.name == target_name:
                yield Cut(kind, to, target, element if _by_box(target) else None)
            elif text != "none":
                inside = "that isn't in the file" if reference(text) or text.startswith("url(") else "drawn by style"
                self._leave_out(f"{kind} {inside}", layer, to)
        if style.get("filter", "none") != "none":
            self._leave_out("filter", layer, to)

    def declared(self, element: Element) -> dict[str, str]:
        """Return what is declared of an element."""
        return self._sheet.declared(element, self.budget)

    def cuts_of(self, cut: Cut) -> tuple[Cut, ...]:
        """Return what cuts off a clip path itself."""
        if cut.element is None:
            return ()
        style = Style({}).of_child(self.declared(cut.element))
        return tuple(replace(each, of=each.of and cut.of) for each in self._cuts(cut.element, style, cut.to, ""))

    def box(self, element: Element) -> Box | None:
        """Return the box around an element's shapes, in its own coordinates; None where it has none."""
        quiet = Walker(self.tree, self._sheet, self.resolution, Raw(), self.budget)  # what it names is named elsewhere
        start = Place(element, Affine(), Style({}), (0.0, 0.0))
        if is_shape(element):
            pieces = [p for pieces, _, _ in quiet.drawn(element, "", Affine()) for p in pieces]
        elif element.name == "use":
            pieces = _pieces(quiet.shapes(quiet._used(start)))
        else:
            pieces = _pieces(quiet.shapes([replace(start, element=child) for child in element.children]))
        points = [p for piece in pieces for p in along(piece)]
        if not points:
            return None
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return min(xs), min(ys), max(xs), max(ys)

    def _leave_out(self, kind: str, layer: str, to: Affine) -> None:
        self.raw.left_out.append(LeftOut(kind, layer, to.point((0.0, 0.0))))


def _by_box(element: Element) -> bool:
    """Whether what a clip path or a mask lets through hangs on the box of what it cuts."""
    if element.name == "mask" and element.get("maskUnits") != "userSpaceOnUse":
        return True
    return "objectBoundingBox" in (element.get("clipPathUnits"), element.get("maskContentUnits"))


_CUTS: tuple[tuple[str, str, Literal["clip", "mask"]], ...] = (
    ("clip-path", "clipPath", "clip"),
    ("mask", "mask", "mask"),
)


def _is_drawn(element: Element) -> bool:
    return is_shape(element) or element.name in _FOLLOWED


def _pieces(found: Iterable[Shape]) -> list[Piece]:
    return [q for shape in found for pieces, _, _ in shape.drawn for p in pieces for q in placed(p, shape.to)]


def along(piece: Piece) -> list[Point]:
    """Return points along a piece, both ends among them."""
    if isinstance(piece, Line):
        return [piece.start, piece.end]
    spans = 1 if isinstance(piece, Arc) else piece.spans
    return [piece.at(i / _SPAN_POINTS) for i in range(spans * _SPAN_POINTS + 1)]


def _is_for_us(element: Element) -> bool:
    """Whether an element is shown to a reader of English without extensions (SVG 2, section 5.7)."""
    languages = [each.strip().lower() for each in element.get("systemLanguage", "en").split(",")]
    return any(each.split("-")[0] == "en" for each in languages) and "requiredExtensions" not in element.attributes


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
