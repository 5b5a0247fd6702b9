"""A figure made of an outline that isn't ours: as a piece of its own, or cut through a plate.

figure   the outline as large as asked for, what is narrower than the smallest detail opened or closed
piece    the figure is the metal: what of it lies apart is tied to the rest
plate    the figure is cut away: what of the plate would drop out of it is tied to the plate
"""

import math
from collections.abc import Iterator
from functools import lru_cache

import shapely
from shapely import affinity

from parts.artwork import (
    Metal,
    coarse,
    disc,
    metal_from,
    quarter_chords,
    rough_loops,
    rounded_roughly,
    without_specks,
)
from parts.artwork.pipeline import Fit, Made, Steps, Sturdy, Ties, made
from parts.cached import cached_property
from parts.cutting import cut_for
from parts.errors import GeometryError, Problem, Refused
from parts.geometry import Arc, Box, Loop, Point, circle, rectangle
from parts.profile import Dimension, Opening, Profile
from parts.spec import STOCK, Parameters, choice, length, thickness, trying

FIGURE, SIZE, BRIDGES, HANGING, PLATE = "Figure", "Size over all", "Bridges", "Hanging hole", "Plate"

CAUTIONS = (
    "Deburr edges and points: what hangs at the height of hands, eyes or children can injure.",
    "Hang it from fastenings that hold a multiple of its weight and of the wind on it; near a road or over a way local "
    "rules say what may hang there and how.",
)
OF_SIZE, OF_THICKNESS, THINNEST, NARROWEST = 0.02, 1.05, 1.0, 6.0
"""A bridge's width where it is left open: of the size over all and of the thickness the greater (by eye, and common
practice: a strip narrower than so many thicknesses burns), some mm; a figure is at least so many times as wide."""
DETAIL, DETAIL_AT, LARGEST_DETAIL = 4.0, 300.0, 8
"""The smallest detail in mm where it is left open, of a figure so large in mm over all, and with the root of its size
(by eye); a figure is at least so many times as wide."""
_ROUNDS, _CLOSE = 4, 1e-3
_NECK, _GAP = 0.9, 0.6
# In smallest details: what rounding off leaves as a neck, and a bridge beside it as a gap, is no narrower.
_SPLIT_MM = 1e-3
# Rounding splits each point of a curve in two, so near to each other that the chords between look like drawn edges.
_FINE = 3000
# Coasts of more points than this are made coarser first, by what nobody sees.


class Figure(Parameters):
    """What is made of `shape`, a figure one wide, and how large it is."""

    effort = 30

    made_as: str = choice("Made as", default="piece", choices=("piece", "plate"), group=FIGURE,
        help="piece: the figure itself. plate: cut through a plate.")  # fmt: skip
    overall_width: float = length(
        "Width over all", default=300, minimum=0, maximum=6000, group=SIZE,
        help="0: as the height says. With the plate where there is one.", auto="whole_width",
    )  # fmt: skip
    overall_height: float = length(
        "Height over all",
        default=0,
        minimum=0,
        maximum=6000,
        group=SIZE,
        help="0: as the width says.",
        auto="whole_height",
    )
    detail: float = length(
        "Smallest detail", default=0, drawn=False, minimum=0, maximum=100, group=FIGURE, moves="free",
        help="Narrower points and gaps are rounded off or closed. 0: by the size and the process.", auto="smallest",
    )  # fmt: skip
    tie: float = length(
        "Width of the bridges", default=0, minimum=0, maximum=100, group=BRIDGES, moves="free",
        help="Metal that holds what would lie apart or drop out. 0: as suits the size and the thickness.",
        auto="bridge",
    )  # fmt: skip
    hang: str = choice("Hanging hole", default="none", choices=("none", "eye"), group=HANGING,
        help="eye: on a ring over the middle of the weight, so that it hangs straight.",
        when=("made_as", "piece"))  # fmt: skip
    hole: float = length("Hanging hole's diameter", default=7, minimum=1, maximum=60, group=HANGING, when=("hang",))
    eye: float = length(
        "Metal around the hanging hole", default=6, minimum=1, maximum=100, group=HANGING, when=("hang",), moves="free"
    )
    margin: float = length(
        "Plate around the figure",
        default=30,
        minimum=1,
        maximum=500,
        group=PLATE,
        when=("made_as", "plate"),
        moves="free",
    )
    corner_radius: float = length(
        "Corner radius", default=12, minimum=0, maximum=300, group=PLATE, when=("made_as", "plate"), moves="free"
    )
    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)

    @cached_property
    def shape(self) -> Metal:
        """The figure, one wide, its lower left at the origin.

        Raises:
            GeometryError: there is none of this name.
        """
        raise NotImplementedError

    @property
    def is_plate(self) -> bool:
        """Whether the figure is cut through a plate."""
        return self.made_as == "plate"

    @property
    def around(self) -> float:
        """What the plate adds on each side."""
        return self.margin if self.is_plate else 0.0

    @cached_property
    def width(self) -> float:
        """How wide the figure alone is; the height over all follows from it, or says it where no width is given.

        The eye is on top of the figure, and so is a part of the height.
        """
        _, _, x1, y1 = self.shape.bounds
        if self.overall_width:
            return self.overall_width - 2 * self.around
        return (self.overall_height - 2 * self.around) * x1 / y1

    @property
    def bridge(self) -> float:
        """How wide bridges are, mm: as asked for, or in proportion to the size over all, but no narrower than burns."""
        if self.tie:
            return self.tie
        suits = OF_SIZE * (self.overall_width or self.width + 2 * self.around)
        return min(max(suits, OF_THICKNESS * self.thickness, THINNEST), self.width / NARROWEST)

    @property
    def smallest(self) -> float:
        """The smallest detail, mm: as asked for, or by the size over all, but none that the process burns away."""
        if self.detail:
            return self.detail
        suits = DETAIL * math.sqrt((self.overall_width or self.overall_height) / DETAIL_AT)
        return min(max(round(suits, 1), self._standing), self.width / LARGEST_DETAIL)

    @cached_property
    def _standing(self) -> float:
        """The detail of which the process leaves necks and gaps, mm; 0 where it can't cut the plate, told elsewhere."""
        try:
            cut = cut_for(self.process, self.material, self.thickness)
        except Refused:
            return 0.0
        return max(cut.narrowest_bridge_mm / _NECK, cut.narrowest_slot_mm / _GAP)

    @cached_property
    def made(self) -> Made:
        """The loops that are cut, but for the eye's hole, as large as asked for.

        Raises:
            GeometryError: nothing is left.
        """
        ties = Ties(self.bridge * (1 + 2 * _CLOSE), frame="outer" if self.is_plate else "one")
        mending = Sturdy(_NECK * self.smallest, _GAP * self.smallest)
        return made(self.metal, Steps(ties, mending=mending, fit=self._fit, neck_mm=self.bridge))

    @cached_property
    def loops(self) -> tuple[tuple[Loop, ...], tuple[Loop, ...], float]:
        """The loops outside and inside, and how much larger than `made` has them: to the size asked for, exactly.

        Lines and arcs may be off the figure by what they are fitted within.
        """
        made_ = self.made
        if self.is_plate:
            x0, y0, x1, y1 = self.metal.bounds
            wide = self.overall_width or x1 - x0
            high = y1 - y0 if self.overall_width else self.overall_height
            return (rectangle((x0, y0), wide, high, self.corner_radius),), made_.inside, 1.0
        boxes = [loop.box for loop in made_.outside]
        x0, y0 = (min(box[side] for box in boxes) for side in (0, 1))
        x1, y1 = (max(box[side] for box in boxes) for side in (2, 3))
        larger = self.overall_width / (x1 - x0) if self.overall_width else self.overall_height / (y1 - y0)
        outside, inside = (tuple(_larger(loop, larger) for loop in of) for of in (made_.outside, made_.inside))
        return outside, inside, larger

    @property
    def _fit(self) -> Fit:
        """Lines and arcs within a twelfth of the smallest detail, which nobody sees."""
        tolerance = max(self.smallest / 12, 0.05)
        return Fit(tolerance, corner_deg=30.0, flat_mm=tolerance / 2)

    @cached_property
    def figure(self) -> Metal:
        """The figure as large as asked for, with no detail smaller than asked for; its lower left at the origin.

        Rounding takes from its size, so that it is made larger in rounds. The size that is asked for is that over all.
        Where an island is too small in one size and reaches out in the next, it is left out.
        """
        by_height = not self.overall_width
        asked = (self.overall_height if by_height else self.overall_width) - 2 * self.around
        scale = self.width
        found, has, without = self.shape, asked, None
        for _ in range(_ROUNDS):
            found = _rounded(shapely.to_wkb(affinity.scale(self.shape, scale, scale, origin=(0, 0))), self.smallest)
            if not found.geoms:
                raise GeometryError("No detail of the figure is as large as the smallest asked for.")
            box = self._with_eye(found) if by_height else found.bounds
            has = box[3] - box[1] if by_height else box[2] - box[0]
            if abs(has - asked) <= _CLOSE:
                break
            if has < asked:
                without = found, asked / has
            scale *= asked / has
        else:
            found, larger = without or (found, asked / has)
            found = affinity.scale(found, larger, larger, origin=(0, 0))
        x0, y0, _, _ = found.bounds
        return metal_from(affinity.translate(found, -x0, -y0))

    def _with_eye(self, figure: Metal) -> Box:
        """The box of a figure and of its eye."""
        if self.is_plate or self.hang == "none":
            box: Box = figure.bounds
            return box
        (x, y), far = _eye_at(figure, self.hole, self.eye), self.hole / 2 + self.eye
        with_eye: Box = metal_from(shapely.union(figure, shapely.Point(x, y).buffer(far))).bounds
        return with_eye

    @cached_property
    def eye_at(self) -> Point | None:
        """The middle of the hanging hole before its size is settled, over the middle of the weight."""
        return None if self.is_plate or self.hang == "none" else _eye_at(self.figure, self.hole, self.eye)

    @cached_property
    def metal(self) -> Metal:
        """What is left as metal before anything is tied."""
        if self.is_plate:
            x0, y0, x1, y1 = self.figure.bounds
            plate = shapely.box(x0 - self.margin, y0 - self.margin, x1 + self.margin, y1 + self.margin)
            return metal_from(shapely.difference(plate, self.figure))
        if self.eye_at is None:
            return self.figure
        far = self.hole / 2 + self.eye
        ring = disc(self.eye_at, far)
        neck = shapely.box(self.eye_at[0] - far / 2, self.eye_at[1] - far, self.eye_at[0] + far / 2, self.eye_at[1])
        return metal_from(shapely.union_all([self.figure, ring, neck]))

    @cached_property
    def box(self) -> Box:
        """The box of all there is."""
        x0, y0, x1, y1 = zip(*(loop.box for loop in self.loops[0]), strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    @property
    def whole_width(self) -> float:
        """How wide all there is is."""
        return self.box[2] - self.box[0]

    @property
    def whole_height(self) -> float:
        """How high all there is is."""
        return self.box[3] - self.box[1]

    def problems(self) -> Iterator[Problem]:
        """Yield why there is no figure, then what has no room."""
        found = [*self.name_problems()]
        yield from found
        if not found:
            yield from self._size_problems()

    def name_problems(self) -> Iterator[Problem]:
        """Yield why there is no figure of the name that is asked for."""
        raise NotImplementedError

    def asked_problems(self) -> Iterator[Problem]:
        """Yield what of the sizes asked for can't be, as far as that is known before the figure is made."""
        if not (self.overall_width or self.overall_height):
            yield self.problem(
                "overall_width", "must be more than 0 where no height is given.", {"overall_width": "300"}
            )
            return
        name = "overall_width" if self.overall_width else "overall_height"
        yield from (small := list(self.at_least(name, 2 * self.around + 20, "for a figure that can be seen")))
        if small:
            return
        yield from self.at_most("detail", self.width / LARGEST_DETAIL, "to leave something of a figure so small")
        yield from self.at_most("tie", self.width / NARROWEST, "beside a figure so small")

    def _size_problems(self) -> Iterator[Problem]:
        yield from (found := list(self.asked_problems()))
        if found:
            return
        if self.is_plate:
            x0, y0, x1, y1 = self.metal.bounds
            yield from (round_ := list(self.at_most("corner_radius", min(x1 - x0, y1 - y0) / 2, "on the shorter side")))
            if round_:
                return
        yield from self._proportion_problems()
        if self.made.loose:
            yield self.problem("tie", "is too wide to hold all that lies apart in so small a figure; make it narrower.")

    def _proportion_problems(self) -> Iterator[Problem]:
        if self.overall_width and self.overall_height:
            _, y0, _, y1 = self.box
            if abs(y1 - y0 - self.overall_height) > 0.05:
                message = (
                    f"doesn't go with the width: a figure keeps its proportions. Make it {self.say(y1 - y0)}, or 0."
                )
                yield self.problem("overall_height", message, {"overall_height": "0"})


def drawn(p: Figure, name: str) -> Profile:
    """Return the figure, `name` being the parameter that says which it is."""
    outside, openings, larger = p.loops
    inside = [Opening(loop, "opening", name) for loop in openings]
    if p.eye_at is not None:
        inside.append(Opening(circle((p.eye_at[0] * larger, p.eye_at[1] * larger), p.hole), "hanging hole", "hole"))
    return Profile(outside, tuple(inside), (), tuple(dimensions(p)))


def sketched(p: Figure, name: str) -> Profile | None:
    """Sketch the figure coarsely, nothing rounded off or tied; `name` as of `drawn`."""
    with trying(worded=False):
        if any(p.name_problems()) or any(p.asked_problems()):
            return None
    figure, eye = _rough(p)
    x1, y1 = figure.bounds[2:]
    wide, high = x1 + p.around, y1 + p.around
    areas: list[shapely.Geometry] = [figure]
    if eye:
        rim = shapely.Point(eye).buffer(p.hole / 2 + p.eye, quad_segs=8)
        areas, high = [shapely.union(figure, rim)], max(high, eye[1] + p.hole / 2 + p.eye)
    outside, inside = rough_loops(areas, 0.0)
    if p.is_plate:
        outside, inside = [rectangle((0.0, 0.0), wide, high, p.corner_radius)], [*outside, *inside]
    openings = [Opening(loop, "opening", name) for loop in inside]
    if eye:
        openings.append(Opening(circle(eye, p.hole), "hanging hole", "hole"))
    shown = tuple(_dimensions(p, (0.0, 0.0, wide, high), eye))
    return Profile(tuple(outside), tuple(openings), (), shown)


def _rough(p: Figure) -> tuple[Metal, Point | None]:
    """The figure coarsely, as large as asked for, and the middle of its hanging hole."""
    shape = rounded_roughly(coarse(p.shape), p.smallest / p.width)
    asked = (p.overall_width or p.overall_height) - 2 * p.around
    scale = asked if p.overall_width else asked / shape.bounds[3]
    figure = _at(shape, scale, p.around)
    if p.is_plate or p.hang == "none":
        return figure, None
    eye = _eye_at(figure, p.hole, p.eye)
    for _ in range(0 if p.overall_width else _ROUNDS):  # the eye is a part of the height
        high = figure.bounds[3]
        above = max(eye[1] + p.hole / 2 + p.eye - high, 0.0)
        scale *= max(asked - above, 1.0) / high
        figure = _at(shape, scale, 0.0)
        eye = _eye_at(figure, p.hole, p.eye)
    return figure, eye


def _at(shape: Metal, scale: float, by: float) -> Metal:
    return shapely.transform(shape, lambda points: scale * points + by)


def dimensions(p: Figure) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    larger, eye = p.loops[2], p.eye_at
    yield from _dimensions(p, p.box, eye and (eye[0] * larger, eye[1] * larger))
    for bridge in p.made.bridges[:1]:
        start, end = ((x * larger, y * larger) for x, y in bridge.across(p.bridge / larger))
        yield Dimension("tie", start, end, "along")


def _dimensions(p: Figure, box: Box, eye: Point | None) -> Iterator[Dimension]:
    """What can be measured of a figure of a box over all, but for its bridges; `eye` is the middle of its hole."""
    x0, y0, x1, y1 = box
    yield Dimension("overall_width", (x0, y0), (x1, y0), "below")
    yield Dimension("overall_height", (x0, y0), (x0, y1), "left")
    if eye is not None:
        x, y = eye
        yield Dimension("hole", (x, y), (x + p.hole / 2, y), "diameter")
        yield Dimension("eye", (x, y + p.hole / 2), (x, y + p.hole / 2 + p.eye), "along")
    if p.is_plate:
        yield Dimension("margin", (x0, y1 - p.corner_radius), (x0 + p.margin, y1 - p.corner_radius), "above")
        if p.corner_radius:
            r = p.corner_radius
            yield Dimension("corner_radius", (x1 - r, y1 - r), (x1 - r, y1), "radius")


def _larger(loop: Loop, times: float) -> Loop:
    """The loop so many times as large, about the origin."""
    return Loop.through(
        [(times * s.start[0], times * s.start[1], s.bulge if isinstance(s, Arc) else 0.0) for s in loop.segments]
    )


def _eye_at(figure: Metal, hole: float, eye: float) -> Point:
    """Over the middle of the weight, the hole a little above the metal that is highest there."""
    x = float(figure.centroid.x)
    _, y0, _, y1 = figure.bounds
    far = hole / 2 + eye
    below = metal_from(shapely.intersection(figure, shapely.box(x - far / 2, y0 - 1, x + far / 2, y1 + 1)))
    top = y1 if below.is_empty else float(below.bounds[3])
    return x, top + hole / 2


@lru_cache(maxsize=32)
def _rounded(metal: bytes, detail: float) -> Metal:
    """Metal, as WKB, without what is narrower than a detail, left or cut; its small openings closed."""
    shape = shapely.from_wkb(metal)
    if not detail:
        return metal_from(shape)
    half, quarter = detail / 2, quarter_chords(detail / 2)
    plain = shapely.simplify(shape, detail / 40) if shapely.get_num_coordinates(shape) > _FINE else shape
    closed = shapely.buffer(shapely.buffer(plain, half, quad_segs=quarter), -2 * half, quad_segs=quarter)
    opened = metal_from(shapely.simplify(shapely.buffer(closed, half, quad_segs=quarter), _SPLIT_MM))
    return without_specks(opened, 4 * detail**2)
