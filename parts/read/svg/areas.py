"""Areas of an SVG in mm: what a shape's fill and stroke paint, and what clip paths and masks let through.

Curves are lines and arcs here, fitted as everywhere (`parts.read.curves`); areas are loops of them
(`parts.geometry.area`).
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from parts.errors import GeometryError, Unreadable
from parts.geometry import Box, Loop, Segment, rectangle
from parts.geometry.area import Cap, Join, Pen, Region, common, filled, painted, united, without
from parts.geometry.search import crowded
from parts.read.affine import Affine, scaling, shift
from parts.read.limits import Budget
from parts.read.pieces import LeftOut
from parts.read.svg.chains import Chain, chain
from parts.read.svg.placed import Cut, Place, Shape
from parts.read.svg.shapes import diagonal
from parts.read.svg.style import Style, luminance, reference
from parts.read.svg.tree import Element
from parts.read.svg.walk import Walker
from parts.tolerance import SAME_POINT_MM

MOST_CROSSED = 200_000
"""Pairs of lines and arcs that lie near each other in what is united; more would take minutes."""
_DEEPEST_CUTS = 16


class Areas:
    """Makes areas of shapes, of which a user unit is `unit_mm`; those that cut are made once."""

    def __init__(self, walker: Walker, unit_mm: float, budget: Budget) -> None:
        self._walker, self._budget = walker, budget
        self._to_mm = scaling(unit_mm, unit_mm)
        self._made: dict[tuple[Cut, ...], Region] = {}

    def element(self, name: str) -> Element | None:
        """Return the element of an id."""
        return self._walker.tree.by_id.get(name) if name else None

    def style_of(self, element: Element) -> Style:
        """Return what is declared of an element alone."""
        return Style({}).of_child(self._walker.declared(element))

    def unfollowed(self, shape: Shape) -> Iterator[str]:
        """Yield what of a shape's paint isn't followed: a pattern it is filled with, markers on its line."""
        target = self.element(reference(shape.style.paint("fill")))
        if target is not None and target.name == "pattern":
            yield "pattern"
        signs = (shape.style.get(f"marker-{name}", "none") for name in ("start", "mid", "end"))
        if shape.element.name in ("path", "line", "polyline", "polygon") and any(sign != "none" for sign in signs):
            yield "marker"

    def chains(self, shape: Shape, to: Affine | None = None) -> list[Chain]:
        """Return what a shape draws in mm, or as placed otherwise."""
        place = to or self._to_mm.after(shape.to)
        found = (chain(pieces, closed, place, self._budget) for pieces, closed, _ in shape.drawn)
        return [each for each in found if each]

    def fill(self, shape: Shape, rule: str = "fill-rule") -> Region:
        """Return what the fill of a shape paints.

        Raises:
            Unreadable: if it crosses itself in too many places.
        """
        loops = [loop for each in self.chains(shape) if (loop := each.as_loop())]
        return self.filled(loops, shape.style.rule("clip-rule" if rule == "clip-rule" else "fill-rule"))

    def filled(self, loops: Sequence[Loop], rule: str) -> Region:
        """Return what loops fill by a rule, `evenodd` or `nonzero`.

        Raises:
            Unreadable: if they cross one another in too many places.
        """
        self._check([segment for loop in loops for segment in loop.segments])
        return filled(loops, "evenodd" if rule == "evenodd" else "nonzero", self._budget.time)

    def pen_mm(self, shape: Shape) -> float:
        """Return how wide a shape's stroke is; where it is stretched, as wide as paints the same area."""
        widths = self.lengths(shape, "stroke-width") if shape.style.get("stroke-width") else [1.0]
        return abs(widths[0]) * self._enlarged(shape) if widths else 0.0

    def lengths(self, shape: Shape, name: str) -> list[float]:
        """Return a list of lengths of a shape's style in user units; a percentage is of its window's diagonal."""
        return self._walker.resolution.lengths(shape.style.get(name, "none"), name, diagonal(shape.window))

    def _enlarged(self, shape: Shape) -> float:
        place = self._to_mm if shape.style.get("vector-effect") == "non-scaling-stroke" else self._to_mm.after(shape.to)
        return math.sqrt(abs(place.determinant))

    def stroke(self, shape: Shape) -> Region:
        """Return what the stroke of a shape paints.

        Raises:
            Unreadable: if it crosses itself in too many places.
        """
        place, many = self._to_mm.after(shape.to), self._enlarged(shape)
        pen = self._pen(shape, many)
        if pen.width <= 2 * SAME_POINT_MM or place.determinant == 0:
            return ()
        if place.keeps_circles:
            return self._painted(shape, self.chains(shape), pen)
        even = scaling(many, many)  # as large as in the end, but not stretched, so that arcs stay arcs
        stretched = place.after(scaling(1 / many, 1 / many))
        region = self._painted(shape, self.chains(shape, even), pen)
        loops = [chain(loop.segments, True, stretched, self._budget) for loop in region]
        return tuple(loop for each in loops if each and (loop := each.as_loop()))

    def _painted(self, shape: Shape, chains: Sequence[Chain], pen: Pen) -> Region:
        try:
            loops = [loop for each in chains for loop in painted(each.segments, each.closed, pen)]
        except GeometryError:  # more dashes than anyone cuts
            left_out = LeftOut("dashed line", shape.layer, shape.to.point((0.0, 0.0)))
            self._walker.raw.left_out.append(left_out)
            whole = replace(pen, dashes=())
            loops = [loop for each in chains for loop in painted(each.segments, each.closed, whole)]
        self._check([segment for loop in loops for segment in loop.segments])
        return united([(loop,) for loop in loops], self._budget.time)

    def _pen(self, shape: Shape, many: float) -> Pen:
        style = shape.style
        limits, offsets = self.lengths(shape, "stroke-miterlimit"), self.lengths(shape, "stroke-dashoffset")
        cap: Cap = {"round": "round", "square": "square"}.get(style.get("stroke-linecap"), "butt")  # type: ignore[assignment]
        join: Join = {"round": "round", "bevel": "bevel"}.get(style.get("stroke-linejoin"), "miter")  # type: ignore[assignment]
        dashes = tuple(length * many for length in self.lengths(shape, "stroke-dasharray"))
        return Pen(
            self.pen_mm(shape), cap, join, limits[0] if limits else 4.0, dashes, offsets[0] * many if offsets else 0.0
        )

    def left_by(self, cuts: Sequence[Cut], depth: int = 0) -> Region:
        """Return what all of some cuts let through.

        Raises:
            Unreadable: if clip paths lie too deep in one another, or cross themselves in too many places.
        """
        if depth > _DEEPEST_CUTS:
            raise Unreadable(f"clip paths in it lie more than {_DEEPEST_CUTS} deep in one another, or in themselves")
        key = tuple(cuts)
        if key not in self._made:
            inner = self._left_by_one(key[-1], depth)
            self._made[key] = self.both(self.left_by(key[:-1], depth), inner) if len(key) > 1 and inner else inner
        return self._made[key]

    def both(self, a: Region, b: Region) -> Region:
        """Return what lies in both of two areas."""
        self._check([segment for loop in (*a, *b) for segment in loop.segments])
        return common(a, b, self._budget.time) if a and b else ()

    def any_of(self, regions: Sequence[Region]) -> Region:
        """Return what lies in any of some areas."""
        self._check([segment for region in regions for loop in region for segment in loop.segments])
        return united([region for region in regions if region], self._budget.time)

    def _left_by_one(self, cut: Cut, depth: int) -> Region:
        if cut.kind == "window":
            return self._box(cut.window, cut.to)
        return self._clip(cut, depth) if cut.kind == "clip" else self._mask(cut, depth)

    def _box(self, box: Box, to: Affine) -> Region:
        x0, y0, x1, y1 = box
        if x1 <= x0 or y1 <= y0:
            return ()
        corners = chain(rectangle((x0, y0), x1 - x0, y1 - y0).segments, True, self._to_mm.after(to), self._budget)
        loop = corners.as_loop() if corners else None
        return (loop,) if loop else ()

    def _inside(self, cut: Cut, units: str) -> Iterator[Shape]:
        """The shapes of a clip path or a mask."""
        element = cut.element
        if element is None:
            return
        to = cut.to
        style = Style({}).of_child(self._walker.declared(element))
        if element.name == "clipPath":
            to = to.after(self._walker.placer.own(element, style, (0.0, 0.0), lambda: None))
        if element.get(units) == "objectBoundingBox":
            to = to.after(_unit_of(self._walker.box(cut.of) if cut.of else None))
        inherited = Style({}).of_child({n: v for n, v in style.values.items() if n != "transform"})
        yield from self._walker.shapes([Place(child, to, inherited, (0.0, 0.0)) for child in element.children])

    def _clip(self, cut: Cut, depth: int) -> Region:
        regions = []
        for shape in self._inside(cut, "clipPathUnits"):
            region = self.fill(shape, "clip-rule")
            regions.append(self.both(region, self.left_by(shape.cuts, depth + 1)) if shape.cuts else region)
        outer = self._walker.cuts_of(cut) if cut.element else ()
        region = self.any_of(regions) if regions else ()
        return self.both(region, self.left_by(outer, depth + 1)) if outer and region else region

    def _mask(self, cut: Cut, depth: int) -> Region:
        """What a mask lets through: where its shapes, painted one over the other, come out more light than dark."""
        lit: Region = ()
        by_alpha = cut.element is not None and self._walker.declared(cut.element).get("mask-type") == "alpha"
        for shape in self._inside(cut, "maskContentUnits"):
            for name in ("fill", "stroke"):
                paint = shape.style.paint("fill" if name == "fill" else "stroke")
                if not paint:
                    continue
                region = self.fill(shape) if name == "fill" else self.stroke(shape)
                region = self.both(region, self.left_by(shape.cuts, depth + 1)) if shape.cuts else region
                strength = shape.style.share("opacity") * shape.style.share(f"{name}-opacity")
                light = strength * (1.0 if by_alpha else luminance(paint))
                if light >= 0.5:
                    lit = self.any_of([lit, region])
                elif lit and region and strength >= 0.5 and not by_alpha:
                    lit = without(lit, region, self._budget.time)
        bounds = self._bounds(cut)
        return self.both(lit, bounds) if bounds and lit else lit

    def _bounds(self, cut: Cut) -> Region:
        """The rectangle beyond which a mask lets nothing through; nothing where it isn't known."""
        element = cut.element
        if element is None:
            return ()
        if element.get("maskUnits") == "userSpaceOnUse":
            if not all(element.get(name) and "%" not in element.get(name) for name in ("x", "y", "width", "height")):
                return ()
            x, y, width, height = (self._walker.placer.number(element, n) for n in ("x", "y", "width", "height"))
            return self._box((x, y, x + width, y + height), cut.to)
        box = self._walker.box(cut.of) if cut.of else None
        if box is None:
            return ()
        x, y, width, height = (_share(element.get(n), s) for n, s in _MASK_BOX)
        return self._box((x, y, x + width, y + height), cut.to.after(_unit_of(box)))

    def _check(self, segments: Sequence[Segment]) -> None:
        check_crossings(segments)
        self._budget.time()


def check_crossings(segments: Sequence[Segment]) -> None:
    """Refuse what crosses itself so often that it would take minutes to tell what it paints.

    Raises:
        Unreadable: if it does.
    """
    if len(segments) > 600 and crowded(np.array([segment.box for segment in segments]), 0.0, MOST_CROSSED):
        raise Unreadable("its filled areas cross one another in too many places to tell what is painted")


_MASK_BOX = (("x", -0.1), ("y", -0.1), ("width", 1.2), ("height", 1.2))


def _share(text: str, unless: float) -> float:
    try:
        return float(text[:-1]) / 100 if text.endswith("%") else float(text)
    except ValueError:
        return unless


def _unit_of(box: Box | None) -> Affine:
    """Where the unit square of a box goes."""
    x0, y0, x1, y1 = box or (0.0, 0.0, 0.0, 0.0)
    return shift(x0, y0).after(scaling(x1 - x0, y1 - y0))
