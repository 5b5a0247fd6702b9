r"""Sign plate: words cut through a plate, what would drop out held by bridges, a border, holes to hang it by.

     ________________________________
    / o                            o \
    |  ============  ============  |      the border: a line cut out along the edge, held at gaps
    | |   F E R N  |  H O L L O W    | |
    | |        tie here and there    | |    cap_height, `margin` from letters to edge
    |  ============  ============  |
    \_o____________________________o_/
The lower left of the plate is at the origin.
"""

import math
from collections.abc import Iterator
from functools import cached_property

import shapely

from parts.artwork import Metal, metal_from, metal_of, pieces
from parts.artwork.glyphs import Layout, lettered
from parts.artwork.pipeline import Made, made
from parts.errors import GeometryError, Problem
from parts.geometry import Loop, Point, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, choice, length
from parts.templates.sign.shared.lettering import CAUTIONS, OVER_ALL, Lettering, first_base
from parts.templates.sign.shared.shape import POINT, SHAPES, corners_of, edge, has_room, least_size, middle

PLATE, BORDER, HOLES = "Plate", "Border", "Holes"
ROOM, BORDER_ROOM = 0.55, 0.45
"""Between letters and edge, or border, where it is left open, in cap heights (by eye)."""
BORDER_IN = 0.12
"""Between border and edge where it is left open, in cap heights, beside a bridge (by eye)."""
APART = 400.0
"""How far bridges over the border stand from each other at most, mm: sheet of some millimetres doesn't sag (by eye)."""
_SHORT = 0.8
# Of a side, the longest that a gap in the middle of it may take.


class SignPlate(Lettering):
    """The lower left of the plate's box is at the origin."""

    leading = ("text", "font", "cap_height", "spacing", "line_gap", "align", "curve")

    shape: str = choice(
        "Shape", default="rounded", choices=SHAPES, group=PLATE, help="scalloped: hollow corners.", moves="never"
    )
    margin: float = length(
        "Between letters and edge", default=0, minimum=0, maximum=1000, group=PLATE, moves="free",
        help="0: as looks well with letters of this height.",
    )  # fmt: skip
    corner: float = length(
        "Radius of the corners", default=12, minimum=0, maximum=1000, group=PLATE,
        when=("shape", "rounded", "scalloped", "shield"), moves="free",
    )  # fmt: skip
    border: float = length(
        "Width of the border", default=0, minimum=0, maximum=100, group=BORDER, moves="free",
        help="A line cut out along the edge. 0: none.",
    )  # fmt: skip
    border_in: float = length(
        "Border in from the edge", default=0, minimum=0, maximum=500, group=BORDER, moves="free",
        help="0: as looks well.", when=("border",),
    )  # fmt: skip
    holes: str = choice(
        "Holes", default="corners", choices=("none", "top", "sides", "corners"), group=HOLES,
        help="top: one in the middle above. sides: two. corners: four, on a shield two.",
    )  # fmt: skip
    hole: float = length("Holes diameter", default=7, minimum=1, maximum=60, group=HOLES, when=("holes",))
    hole_in: float = length(
        "Holes in from the edge", default=0, minimum=0, maximum=500, group=HOLES, moves="free",
        help="0: as the border and the bridges let them.", when=("holes",),
    )  # fmt: skip

    @property
    def band(self) -> float:
        """How far the border reaches in from the edge, where letters of the cap height asked for are."""
        return self.band_at(self.cap)

    def band_at(self, cap: float) -> float:
        """Return how far the border reaches in from the edge."""
        return self.border_in_at(cap) + self.border if self.border else 0.0

    def border_in_at(self, cap: float) -> float:
        """Return how far in the border begins."""
        return self.border_in or self.web + BORDER_IN * cap

    @property
    def web(self) -> float:
        """The least metal between two cuts, mm: a bridge's width, and something where there are none."""
        return max(self.tie, 1.0)

    def hole_in_at(self, cap: float) -> float:
        """Return how far in the centres of the holes are."""
        return self.hole_in or self.band_at(cap) + max(1.25 * self.hole, self.hole / 2 + 1.5 * self.web)

    def least_margin(self, cap: float) -> float:
        """Return the least margin that keeps letters off border, corners and holes."""
        keep = self.band_at(cap) + self.web
        corner, diagonal = self.corner_used, math.sqrt(2)
        if self.shape in ("rounded", "shield"):
            keep = max(keep, corner - (corner - keep) / diagonal)
        if self.shape == "scalloped":
            keep = max(keep, (corner + keep) / diagonal)
        if self.holes == "top":
            return max(keep, self.hole_in_at(cap) + self.hole / 2 + self.web)
        if self.holes == "corners":
            return max(keep, self.hole_in_at(cap) + (self.hole / 2 + self.web) / diagonal)
        return keep

    @property
    def corner_used(self) -> float:
        """The radius of the corners, 0 where the shape has none."""
        return self.corner if self.shape in ("rounded", "scalloped", "shield") else 0.0

    def margin_at(self, cap: float) -> float:
        """Return how far the letters are from the edge above and below."""
        nice = self.band_at(cap) + (BORDER_ROOM if self.border else ROOM) * cap
        return self.margin or max(nice, self.least_margin(cap))

    def frame_at(self, cap: float, lines: Layout) -> Point:
        """Return width and height of the letters with their margin."""
        margin, beside = self.margin_at(cap), 0.0
        if self.holes == "sides":
            beside = max(self.hole_in_at(cap) + self.hole / 2 + self.web - margin, 0.0)
        return lines.width * cap + 2 * (margin + beside), lines.height * cap + 2 * margin

    def size_at(self, cap: float, lines: Layout) -> tuple[float, float]:
        """Return the least width and height of the plate with capitals of a height."""
        return least_size(self.shape, self.frame_at(cap, lines))  # type: ignore[arg-type]

    def fits(self, cap: float, lines: Layout) -> bool:
        """Tell whether letters of a cap height have room in the size over all."""
        return has_room(self.shape, (self.overall_width, self.overall_height), self.frame_at(cap, lines))  # type: ignore[arg-type]

    @property
    def size(self) -> tuple[float, float]:
        """Width and height over all, mm; a round plate is as wide as high, whichever was asked for."""
        width, height = super().size
        across = self.overall_width or self.overall_height
        return (across, across) if self.shape == "round" and across else (width, height)

    @property
    def middle(self) -> Point:
        """The middle of the text."""
        return middle(self.shape, self.size)  # type: ignore[arg-type]

    @property
    def edge(self) -> Loop:
        """The plate's edge."""
        return edge(self.shape, self.size, self.corner_used)  # type: ignore[arg-type]

    @property
    def holes_at(self) -> list[Point]:
        """The centres of the holes."""
        (width, height), inset, (_, y) = self.size, self.hole_in_at(self.cap), self.middle
        if self.holes == "top":
            return [(width / 2, height - inset)]
        if self.holes == "sides":
            return [(inset, y), (width - inset, y)]
        return list(corners_of(self.shape, self.size, inset)) if self.holes == "corners" else []  # type: ignore[arg-type]

    @cached_property
    def made(self) -> Made:
        """The plate's loops: border and letters cut out, the islands held.

        Raises:
            GeometryError: nothing is left of the plate.
        """
        plate = metal_of([self.edge])
        cut = lettered(self.lines, self.cap, self.middle).area
        metal = metal_from(shapely.difference(plate, shapely.union_all([cut, self.border_cut(plate)])))
        return made(metal, self.steps("outer"))

    def border_cut(self, plate: Metal) -> shapely.Geometry:
        """Return what is cut out for the border: a ring with gaps in the middle of its sides, and between in long ones."""
        if not self.border:
            return shapely.Polygon()
        inset = self.border_in_at(self.cap)
        ring = shapely.difference(*(_inset(plate, far) for far in (inset, inset + self.border)))
        (width, height), (x, y), half = self.size, self.middle, self.gap / 2
        across = [shapely.box(at - half, 0, at + half, height) for at in _gaps(x, width, self.band + self.corner_used)]
        along = [shapely.box(0, at - half, width, at + half) for at in _gaps(y, height, self.band + self.corner_used)]
        upright = shapely.intersection(ring, _bands(self.size, self.band, level=False))
        level = shapely.intersection(ring, _bands(self.size, self.band, level=True))
        gaps = [*(shapely.intersection(level, box) for box in across), *(shapely.intersection(upright, box) for box in along)]
        return shapely.difference(ring, shapely.union_all(gaps)) if self.tie else ring

    @property
    def gap(self) -> float:
        """The width of a bridge over the border: it holds more than a letter's does."""
        return 2 * self.tie

    def problems(self) -> Iterator[Problem]:
        """Yield why the text can't be set, then what has no room, then what isn't held."""
        found = list(self.text_problems())
        if not found:
            found = [*self._plate_problems()]
        yield from found
        if not found:
            yield from self.bridge_problems()

    def _plate_problems(self) -> Iterator[Problem]:
        """Problems of plate, border and holes, the size over all first: all else follows from it."""
        if self.shape in ("oval", "round") and self.holes == "corners":
            yield self.problem("holes", "can't be in the corners: this shape has none. Choose sides or top.", {"holes": "sides"})
            return
        if self.shape == "round" and self.overall_width and self.overall_height not in (0.0, self.overall_width):
            said = self.said("overall_width")
            yield self.problem("overall_height", f"must be {said} too: a round plate is as high as wide.", {"overall_height": said})
            return
        sized = list(self.size_problems())
        yield from sized
        if sized:
            return
        if self.margin:
            yield from self.at_least("margin", self.least_margin(self.cap), "to keep metal around the letters")
        width, height = self.size
        straight = height - POINT * width if self.shape == "shield" else min(width, height) / 2
        if self.corner_used:
            yield from self.at_most("corner", min(straight, width / 2), "on a plate of this size")
        if self.border and self.border_in:
            yield from self.at_least("border_in", self.web, "to leave as much metal as a bridge has")
        if self.holes != "none":
            yield from self._hole_problems()

    def _hole_problems(self) -> Iterator[Problem]:
        if self.hole_in:
            least = self.band + self.hole / 2 + self.web
            if self.shape == "scalloped" and self.holes == "corners":
                least = max(least, (self.corner + self.band + self.hole / 2 + self.web) / math.sqrt(2))
            yield from self.at_least("hole_in", least, "to keep metal around the holes")
        boxes = [shapely.Polygon(box * self.cap) for line in self.lines.lines for box in line.boxes]
        (x0, y0, x1, y1), (x, y) = self.lines.box, self.middle
        dx, dy = x - self.cap * (x0 + x1) / 2, y - self.cap * (y0 + y1) / 2
        words = shapely.MultiPoint([(hx - dx, hy - dy) for hx, hy in self.holes_at])
        if boxes and min(shapely.distance(boxes, words)) < self.hole / 2 + self.web - 1e-6:
            yield self.problem("hole", "comes too near to the letters; make it smaller, or the margin larger.")


def _inset(plate: Metal, far: float) -> shapely.Geometry:
    """The plate without so much of it along the edge."""
    return shapely.buffer(plate, -far, quad_segs=64, join_style="mitre", mitre_limit=4)


def _gaps(middle: float, long: float, ends: float) -> list[float]:
    """Where bridges cross a border along a side: in its middle, and evenly beside it where the side is long."""
    count = max(math.ceil((long - 2 * ends) / APART), 1)
    step = (long - 2 * ends) / count
    return [middle + step * (i - (count - 1) / 2) for i in range(count)]


def _bands(size: Point, deep: float, *, level: bool) -> shapely.Geometry:
    """The halves above and below, or beside, of a plate, as far as a border's sides are level, or upright."""
    width, height = size
    far = max(deep, 0.25 * (height if level else width))
    if level:
        return shapely.union_all([shapely.box(0, 0, width, far), shapely.box(0, height - far, width, height)])
    return shapely.union_all([shapely.box(0, 0, far, height), shapely.box(width - far, 0, width, height)])


def outline(p: SignPlate) -> Profile:
    """Draw the plate, what is cut out of it, and its holes."""
    work = p.made
    letters = [Opening(loop, "letter", "text") for loop in work.inside]
    holes = [Opening(circle(at, p.hole), "hole", "hole") for at in p.holes_at]
    if len(work.outside) != 1:
        raise GeometryError("What is cut out leaves the plate in pieces.")
    return Profile((p.edge,), (*letters, *holes), (), tuple(dimensions(p)))


def dimensions(p: SignPlate) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    yield from p.text_dimensions(first_base(p.lines, p.cap, p.middle), p.made.bridges)
    yield from p.size_dimensions()


TEMPLATE = Template(
    "sign-plate",
    "Sign plate",
    SignPlate,
    outline,
    summary="Words cut through a plate, what would drop out held by bridges, with border and holes.",
    cautions=CAUTIONS,
    words=("sign", "name plate", "house number", "address sign", "stencil", "letters", "lettering", "text"),
    sizes=("overall_width", "overall_height"),
    presets=(
        Preset("House number", "text=27 cap_height=150 font=stencil"),
        Preset("Garden bench plate", 'text="IN THE SHADE | OF THE OLD PEAR" cap_height=25 tie=3 font=narrow thickness=2'),
        Preset("Trail sign", 'text="MILL POND | 2 km" font=capitals'),
    ),
)
