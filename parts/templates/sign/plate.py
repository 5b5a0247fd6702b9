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
from dataclasses import replace
from functools import partial

import shapely

from parts.artwork import metal_from, metal_of, rough_loops
from parts.artwork.glyphs import Inner, Layout, Text, lettered, rough_letters
from parts.artwork.pipeline import Bridge, Made, made
from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Loop, Point, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, choice, length
from parts.templates.shared.plates import HOLES as PLACES
from parts.templates.shared.plates import SHAPES, Holes, Plate, Shape, has_room, least_size, middle
from parts.templates.sign.shared.lettering import CAUTIONS, LETTERING, Lettering, first_base, least_cap

PLATE, BORDER, HOLES = "Plate", "Border", "Holes"
ROOM, BORDER_ROOM = 0.55, 0.45
"""Between letters and edge, or border, where it is left open, in cap heights (by eye)."""
BORDER_IN = 0.12
"""Between border and edge where it is left open, in cap heights, beside a bridge (by eye)."""


class SignPlate(Lettering):
    """The lower left of the plate's box is at the origin."""

    leading = ("text", "font", "cap_height", "spacing", "line_gap", "align", "curve", "inner")

    shape: Shape = choice(
        "Shape", default="rounded", choices=SHAPES, group=PLATE, help="scalloped: hollow corners.", moves="never"
    )
    inner: Inner = choice(
        "Lines after the first", default="along", choices=("along", "straight"), group=LETTERING, moves="free",
        help="straight: in the middle of the arc, as on a round plate.", when=("curve",),
    )  # fmt: skip
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
        help="A line cut out along the edge; none at 0.",
    )  # fmt: skip
    border_in: float = length(
        "Border in from the edge", default=0, minimum=0, maximum=500, group=BORDER, moves="free",
        help="0: as looks well.", when=("border",),
    )  # fmt: skip
    holes: Holes = choice(
        "Holes", default="corners", choices=PLACES, group=HOLES,
        help="top: one in the middle above. sides: two. corners: four, on a shield two.",
    )  # fmt: skip
    hole: float = length("Hole diameter", default=7, minimum=1, maximum=60, group=HOLES, when=("holes",))
    hole_in: float = length(
        "Hole centres in from the edge", default=0, minimum=0, maximum=500, group=HOLES, moves="free",
        help="0: as the border and the bridges let them.", when=("holes",),
    )  # fmt: skip

    def words_at(self, cap: float) -> Text:
        """Return the text as it is to be set, lines after the first along the arc or straight in its middle."""
        return replace(super().words_at(cap), inner=self.inner)

    def plate_at(self, cap: float) -> Plate:
        """Return the plate around letters of a cap height, before its size is known."""
        web = max(self.bridge_at(cap), 1.0)
        border_in = self.border_in or web + BORDER_IN * cap
        return Plate(self.shape, web, self.corner, self.border, border_in, self.holes, self.hole, self.hole_in)

    @cached_property
    def plate(self) -> Plate:
        """The plate around letters as high as they are."""
        return self.plate_at(self.cap)

    def margin_at(self, cap: float) -> float:
        """Return how far the letters are from the edge above and below."""
        plate = self.plate_at(cap)
        nice = plate.band + (BORDER_ROOM if self.border else ROOM) * cap
        return self.margin or max(nice, plate.least_margin)

    def frame_at(self, cap: float, lines: Layout) -> Point:
        """Return width and height of the letters with their margin."""
        margin = self.margin_at(cap)
        beside = self.plate_at(cap).beside(margin)
        return lines.width * cap + 2 * (margin + beside), lines.height * cap + 2 * margin

    def size_at(self, cap: float, lines: Layout) -> tuple[float, float]:
        """Return the least width and height of the plate with capitals of a height."""
        if self.shape == "round":
            across = 2 * (cap * lines.circle[1] + self.margin_at(cap))
            return across, across
        return least_size(self.shape, self.frame_at(cap, lines))

    def fits(self, cap: float, lines: Layout) -> bool:
        """Tell whether letters of a cap height have room in the size over all."""
        if self.shape == "round":
            return self.size_at(cap, lines)[0] <= (self.overall_width or self.overall_height)
        return has_room(self.shape, (self.overall_width, self.overall_height), self.frame_at(cap, lines))

    @property
    def size(self) -> tuple[float, float]:
        """Width and height over all, mm; a round plate is as wide as high, whichever was asked for."""
        width, height = super().size
        across = self.overall_width or self.overall_height
        return (across, across) if self.shape == "round" and across else (width, height)

    @property
    def middle(self) -> Point:
        """The middle of the text's box; on a round plate the circle around the text is in the middle."""
        x, y = middle(self.shape, self.size)
        if self.shape != "round":
            return x, y
        (x0, y0, x1, y1), (cx, cy) = self.lines.box, self.lines.circle[0]
        return x + self.cap * ((x0 + x1) / 2 - cx), y + self.cap * ((y0 + y1) / 2 - cy)

    @property
    def edge(self) -> Loop:
        """The plate's edge."""
        return self.plate.edge(self.size)

    @property
    def holes_at(self) -> list[Point]:
        """The centres of the holes."""
        return self.plate.holes_at(self.size)

    @property
    def border_cut(self) -> shapely.Geometry:
        """What is cut out for the border; a bridge over it holds more than a letter's does."""
        return self.plate.border_cut(self.size, 2 * self.bridge)

    @cached_property
    def made(self) -> Made:
        """The plate's loops: border and letters cut out, the islands held.

        Raises:
            GeometryError: nothing is left of the plate.
        """
        plate = metal_of([self.edge])
        cut = lettered(self.lines, self.cap, self.middle).area
        metal = metal_from(shapely.difference(plate, shapely.union_all([cut, self.border_cut])))
        return made(metal, self.steps("outer"))

    def layout_problems(self) -> Iterator[Problem]:
        """Yield why the text can't be set, then what has no room."""
        yield from (found := list(self.text_problems()))
        if not found:
            yield from self._plate_problems()

    def _plate_problems(self) -> Iterator[Problem]:
        """Problems of plate, border and holes, the size over all first: all else follows from it."""
        if found := list(self._shape_problems()) or list(self.size_problems()):
            yield from found
            return
        if self.margin:
            yield from self.at_least("margin", self.plate.least_margin, "to keep metal around the letters")
        if self.plate.corner_used:
            yield from self.at_most("corner", self.plate.most_corner(self.size), "on a plate of this size")
        if self.border:
            yield from self.at_most("border", self.cap, "to be no heavier than the letters")
        if self.border and self.border_in:
            yield from self.at_least("border_in", self.plate.web, "to leave as much metal as a bridge has")
        if self.holes != "none":
            yield from self._hole_problems()

    def _shape_problems(self) -> Iterator[Problem]:
        """Problems of what a shape can't have."""
        if self.shape in ("oval", "round") and self.holes == "corners":
            message = "can't be in the corners: this shape has none. Choose sides or top."
            yield self.problem("holes", message, {"holes": "sides"})
        if self.shape == "round" and self.overall_width and self.overall_height not in (0.0, self.overall_width):
            said = self.said("overall_width")
            message = f"must be {said} too: a round plate is as high as wide."
            yield self.problem("overall_height", message, {"overall_height": said})

    def _hole_problems(self) -> Iterator[Problem]:
        if self.hole_in:
            yield from self.at_least("hole_in", self.plate.least_hole_in, "to keep metal around the holes")
        boxes = [shapely.Polygon(box * self.cap) for line in self.lines.lines for box in line.boxes]
        (x0, y0, x1, y1), (x, y) = self.lines.box, self.middle
        dx, dy = x - self.cap * (x0 + x1) / 2, y - self.cap * (y0 + y1) / 2
        words = shapely.MultiPoint([(hx - dx, hy - dy) for hx, hy in self.holes_at])
        if boxes and min(shapely.distance(boxes, words)) < self.hole / 2 + self.plate.web - 1e-6:
            yield self.problem("hole", "comes too near to the letters; make it smaller, or the margin larger.")


def outline(p: SignPlate) -> Profile:
    """Draw the plate, what is cut out of it, and its holes."""
    work = p.made
    band = shapely.buffer(p.border_cut, 0.5)
    letters = [
        Opening(loop, "border" if band.intersects(shapely.Point(loop.segments[0].start)) else "letter", "text")
        for loop in work.inside
    ]
    holes = [Opening(circle(at, p.hole), "hole", "hole") for at in p.holes_at]
    if len(work.outside) != 1:
        raise GeometryError("What is cut out leaves the plate in pieces.")
    return Profile((p.edge,), (*letters, *holes), (), tuple(dimensions(p, work.bridges)), ties=work.ties)


def sketch(p: SignPlate) -> Profile | None:
    """Sketch the letters and the border as they are laid out, nothing held."""
    if p.has_layout_problems:
        return None
    cut = [*rough_letters(p.lines, p.cap, p.middle), p.border_cut]
    outer, inner = rough_loops(cut, max(p.size))
    letters = [Opening(loop, "letter", "text") for loop in (*outer, *inner)]
    holes = [Opening(circle(at, p.hole), "hole", "hole") for at in p.holes_at]
    return Profile((p.edge,), (*letters, *holes), (), tuple(dimensions(p, ())))


def dimensions(p: SignPlate, bridges: tuple[Bridge, ...]) -> Iterator[Dimension]:
    """Yield where each length can be measured; where the size over all decides, not what was left to it."""
    yield from p.text_dimensions(first_base(p.lines, p.cap, p.middle), bridges)
    yield from p.size_dimensions()
    if p.margin or not p.is_sized:
        yield _margin(p)
    (width, height), r = p.size, p.plate.corner_used
    _, y = middle(p.shape, p.size)
    if r and p.shape == "scalloped":
        yield Dimension("corner", (width, height), (width - r, height), "radius")
    elif r:
        yield Dimension("corner", (width - r, height - r), (width - r, height), "radius")
    if p.border:
        inset = p.plate.border_in
        yield Dimension("border", (inset, y), (inset + p.border, y), "along")
        if p.border_in or not p.is_sized:
            yield Dimension("border_in", (0.0, y), (inset, y), "along")
    for x, up in p.holes_at[:1]:
        inset = p.plate.hole_in
        yield Dimension("hole", (x, up), (x + p.hole / 2, up), "diameter")
        if p.hole_in or not p.is_sized:
            above = p.holes == "top"
            ends = ((x, height - inset), (x, height)) if above else ((0.0, up), (inset, up))
            yield Dimension("hole_in", *ends, "right" if above else "below")


def _margin(p: SignPlate) -> Dimension:
    """The margin from the letters up to the edge, or in a shape without level edges to where its frame meets that."""
    (x, y), margin = p.middle, p.margin_at(p.cap)
    right, top = x + p.cap * p.lines.width / 2, y + p.cap * p.lines.height / 2
    if p.shape == "round":
        (cx, cy), across = (p.size[0] / 2, p.size[1] / 2), math.sqrt(0.5)
        far = p.cap * p.lines.circle[1]
        ends = [(cx + r * across, cy + r * across) for r in (far, far + margin)]
        return Dimension("margin", ends[0], ends[1], "along")
    if p.shape == "oval":
        return Dimension("margin", (right, top), (right + margin, top + margin), "above")
    return Dimension("margin", (right, top), (right, top + margin), "right")


TEMPLATE = Template(
    "sign-plate",
    "Sign plate",
    SignPlate,
    outline,
    summary="Words cut through a plate, what would drop out held by bridges, with border and holes.",
    cautions=CAUTIONS,
    words=("sign", "name plate", "house number", "address sign", "stencil", "letters", "lettering", "text"),
    sizes=("overall_width", "overall_height"),
    sketch=sketch,
    asked=partial(least_cap, raised=False),
    presets=(
        Preset(
            "Workshop sign", 'text="FERNHOLLOW | COMMUNITY WORKSHOP" cap_height=90 shape=scalloped corner=25 border=6',
            inches="cap_height=3-1/2 corner=1 border=1/4 border_in=1",
        ),
        Preset(
            "Round plate", 'text="FERNHOLLOW | 27" curve=220 inner=straight shape=round holes=top cap_height=70',
            inches="cap_height=2-3/4",
        ),
        Preset("House number", "text=27 font=stencil cap_height=150 shape=oval border=6 holes=sides"),
        Preset(
            "Garden bench plate",
            'text="IN THE SHADE OF | THE OLD PEAR" font=narrow cap_height=40 tie=3 line_gap=0.7 corner=6 hole=5 '
            "thickness=2",
            inches="cap_height=1-3/4 tie=1/8",
        ),
        Preset("Trail sign", 'text="MILL POND | 2 km" font=narrow cap_height=100 overall_width=600 holes=top'),
        Preset("Stencil to spray by", 'text="NO PARKING" font=stencil cap_height=100 corner=0 holes=none thickness=1'),
    ),
)  # fmt: skip
